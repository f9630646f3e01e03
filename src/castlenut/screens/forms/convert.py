"""The form for one kind of equipment replaced by another: drums by discs, points by electronic."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.domain.due import CarToday
from castlenut.domain.errors import Fault
from castlenut.garage.changes.conversions import draft_conversion
from castlenut.garage.drafts import Draft
from castlenut.garage.entry import pairs
from castlenut.garage.garage import Garage
from castlenut.screens.forms.following import schedule_lines, tire_lines
from castlenut.screens.forms.of_car import CarForm
from castlenut.screens.forms.tread_fields import no_dial_figure
from castlenut.screens.forms.when import when_fields
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.distance_field import ESTIMATE
from castlenut.screens.widgets.field import Field
from castlenut.words import cautions


class ConvertForm(CarForm):
    """A conversion. Before it is saved it tells what comes off, leaves, joins and falls due."""

    HEAD: ClassVar[str] = "Converted"

    def __init__(self, garage: Garage, car: CarToday) -> None:
        super().__init__(garage, car)
        conversions = garage.book.conversions.values()
        self._titles = {each.name: each.title for each in conversions}

    def fields(self) -> Iterable[Widget]:
        yield ChoiceField(
            "conversion", "what", names=tuple(self._titles), also=self._titles, width=24
        )
        yield from when_fields(self.garage, self.car)
        yield Field("by", "by", remark="empty: this garage")
        yield Field("fields", "new parts", width=40, remark="figures: minimum=19.4; new=21")
        yield Field("note", "note", width=40)

    def take_change(self, field: Field) -> None:
        if field.name == "conversion":
            field.remark(self._titles.get(field.text, ""))

    def lacking(self) -> tuple[Fault, ...]:
        return no_dial_figure(self.text("at"))

    def field_of(self, fault: Fault) -> Field | None:
        """Give the field of a fault: one of a new part's figure is at the line of new parts."""
        return super().field_of(fault) or self.field("fields")

    def question(self) -> Callable[[], Draft]:
        at = self.text("at")
        return partial(
            _drafted,
            self.garage,
            self.slug(),
            self.text("conversion"),
            self.text("fields"),
            on=self.maybe("on"),
            at=None if at in {"", ESTIMATE} else at,
            by=self.maybe("by"),
            note=self.maybe("note"),
        )

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return (
            *draft.told,
            *schedule_lines(self.garage, draft),
            *tire_lines(self.garage, draft),
            *cautions.sentences(draft.cautions)[:1],
            cautions.DEFERRING_LINE,
        )


def _drafted(
    garage: Garage,
    slug: str,
    name: str,
    fields: str,
    *,
    on: str | None,
    at: str | None,
    by: str | None,
    note: str | None,
) -> Draft:
    return draft_conversion(
        garage,
        slug,
        name,
        pairs(each for each in fields.split(";") if each.strip()),
        on=on,
        at=at,
        by=by,
        note=note,
    )
