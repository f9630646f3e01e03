"""The form for the stay: in work from a day, or over, asking once while the car is not ready."""

from collections.abc import Callable, Iterable
from datetime import date
from functools import partial
from typing import ClassVar

from textual.widget import Widget
from textual.widgets import Button

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.stay import against_rolling, is_ready
from castlenut.garage.changes.stays import draft_stay, draft_stay_over
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.car_words import estimate_today
from castlenut.screens.forms.form import Form, Looked
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.distance_field import ESTIMATE, DistanceField
from castlenut.screens.widgets.field import Field
from castlenut.words import ready

_MOST = 5
"""Lines of what stands against it that are shown in the form; the rest is counted."""


class StayForm(Form):
    """Takes a car in work, or ends that. What stands against its rolling is shown."""

    HEAD: ClassVar[str] = "In work"

    def __init__(self, garage: Garage, car: CarToday) -> None:
        super().__init__(garage)
        self.car = car
        self._is_over = any(each.over is None for each in car.car.stays)
        self._was_told = False
        self._has_to_ask = False

    def slug(self) -> str:
        return self.car.car.vehicle.slug

    def heading(self) -> str:
        stay = self.car.car.stay_on(self.car.today)
        since = f", since {stay.since}" if stay is not None else ""
        return f"{self.HEAD}: {self.car.car.vehicle.description}{since}"

    def fields(self) -> Iterable[Widget]:
        today = self.garage.surroundings.today
        if not self._is_over:
            yield DateField("from", "from", today=today, past=True, value=today.isoformat())
            yield Field("note", "note", width=50)
            return
        last = self.car.odometer.last()
        yield DateField("on", "over on", today=today, past=True, value=today.isoformat())
        yield DistanceField(
            "at",
            "dial shows",
            dial=self.car.odometer.dial,
            last=last.shown if last else None,
            estimate=estimate_today(self.car),
            beside="no reading yet: - for not known",
        )
        yield Field("note", "note", width=50)

    def question(self) -> Callable[[], Draft]:
        slug, note = self.car.car.vehicle.slug, self.text("note") or None
        if not self._is_over:
            return partial(draft_stay, self.garage, slug, since=self.text("from"), note=note)
        return partial(_ended, self.garage, slug, self.text("on"), self.text("at"), note)

    def follows(self, draft: Draft) -> tuple[str, ...]:
        over = next((each.values.get("over") for each in draft.edits if each.table == "stay"), None)
        day = date.fromisoformat(over) if isinstance(over, str) else None
        today = self.garage.today(self.car.car.vehicle.slug, on=day)
        standing = against_rolling(today, self.garage.book)
        self._has_to_ask = not is_ready(standing)
        more = len(standing) - _MOST
        return (
            *draft.told,
            ready.head_line(standing),
            *(f"{ready.stamped(each)}  {ready.title(each)}" for each in standing[:_MOST]),
            *((f"and {more} more: castlenut ready lists them",) if more > 0 else ()),
        )

    def take_change(self, field: Field) -> None:  # noqa: ARG002 - whichever it is
        """Ask again once another day or figure is typed."""
        self._was_told = False

    def _tell(self, looked: Looked) -> None:
        super()._tell(looked)
        if self._was_told and looked.draft is not None:
            self._say("not ready: end it all the same? [Save] does")

    async def action_save(self) -> None:
        """Save; a stay that is not ready is ended at the second time, and No has the focus."""
        looked = self.looked(self.question())
        if self._is_over and looked.draft is not None and self._has_to_ask and not self._was_told:
            self._was_told = True
            self._tell(looked)
            self.query_one("#cancel", Button).focus()
            return
        self.save()


def _ended(garage: Garage, slug: str, on: str, at: str, note: str | None) -> Draft:
    if not at:
        raise BadInput(Fault("what did the dial show?", "at", f"{ESTIMATE} takes the estimate"))
    dial = None if at == ESTIMATE else at
    return draft_stay_over(garage, slug, on=on, at=dial, note=note).draft
