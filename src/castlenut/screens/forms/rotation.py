"""The form for a rotation done: date, dial, depths measured before, and what it makes due."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import ClassVar

from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.errors import Fault
from castlenut.domain.ids import ROTATE, RuleId
from castlenut.domain.tires.today import TiresToday
from castlenut.garage.changes.rotating import draft_rotation
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.following import next_of_rules
from castlenut.screens.forms.form import Looked
from castlenut.screens.forms.of_car import CarForm
from castlenut.screens.forms.tread_fields import (
    HEAD,
    apart,
    no_dial_figure,
    tread_fields,
    typed_depths,
)
from castlenut.screens.forms.when import when_fields
from castlenut.screens.widgets.distance_field import ESTIMATE
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.tick import Tick
from castlenut.words import cautions

_AGAIN = (RuleId("wheel-nuts"), RuleId("wheel-nuts-heavy"), ROTATE)


class RotationForm(CarForm):
    """Wheels that changed places. What is not allowed is refused, but for what was done already."""

    HEAD: ClassVar[str] = "Rotation"

    def __init__(self, garage: Garage, car: CarToday, tires: TiresToday, what: str) -> None:
        super().__init__(garage, car)
        self.tires = tires
        self._what = what

    def fields(self) -> Iterable[Widget]:
        yield Field("moves", "moves", value=self._what, width=32, remark="or LF=RR,RR=LF: from=to")
        yield from when_fields(self.garage, self.car)
        yield Static(f"depths where they stand before: {HEAD}", classes="form-words", markup=False)
        yield from tread_fields(self.tires, depth_unit=self.garage.settings.depth_unit)
        yield Tick("it was done although it is not allowed", key="anyway", is_ticked=False)
        yield Field("by", "by", remark="empty: this garage")
        yield Field("hours", "hours", width=8, remark="1.5, 1:30 or 90m")
        yield Field("cost", "cost", width=10)
        yield Field("note", "note", width=44)

    def begin(self) -> None:
        self.field("at").enter()

    def on_tick_turned(self, _message: Tick.Turned) -> None:
        self.look()

    def lacking(self) -> tuple[Fault, ...]:
        return no_dial_figure(self.text("at"))

    def question(self) -> Callable[[], Draft]:
        at = self.text("at")
        return partial(
            draft_rotation,
            self.garage,
            self.slug(),
            self.text("moves"),
            on=self.text("on"),
            at=None if at in ("", ESTIMATE) else at,
            by=self.text("by") or None,
            hours=self.text("hours") or None,
            cost=self.text("cost") or None,
            note=self.text("note") or None,
            depths=typed_depths(self.typed),
            done_anyway=self.query_one(Tick).is_ticked,
        )

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return (
            *next_of_rules(self.garage, draft, _AGAIN),
            *(f"caution: {each}" for each in cautions.sentences(draft.cautions)),
            cautions.DEFERRING_LINE,
        )

    def said(self, looked: Looked) -> Sequence[str]:
        against = [each for each in looked.faults if self.field_of(each) is None]
        return (
            *(f"not allowed, {each.where}: {each.what}; {each.remedy}" for each in against),
            *apart(looked.told, self.typed),
            *looked.follows,
        )
