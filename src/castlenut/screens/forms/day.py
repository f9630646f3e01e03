"""The form for a day's work: date, dial and who once, then rows in any order; one saved change."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import ClassVar

from textual.containers import Vertical
from textual.widget import Widget

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.ids import RecordId
from castlenut.domain.item import Item
from castlenut.domain.order import in_access_order
from castlenut.domain.vehicle import VisitRecord
from castlenut.garage.changes.visiting import with_visit_done
from castlenut.garage.day import draft_day
from castlenut.garage.day_rows import Costs, Entry, Head
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.following import due_lines, next_lines
from castlenut.screens.forms.form import Form
from castlenut.screens.forms.rows.declined import DeclinedRow
from castlenut.screens.forms.rows.done import DoneRow
from castlenut.screens.forms.rows.fitted import FittedRow
from castlenut.screens.forms.rows.found import FoundRow
from castlenut.screens.forms.rows.happened import HappenedRow
from castlenut.screens.forms.rows.measured import MeasuredRow
from castlenut.screens.forms.rows.removed import RemovedRow
from castlenut.screens.forms.rows.row import WorkRow
from castlenut.screens.forms.rows.tread import TreadRow
from castlenut.screens.forms.when import when_fields
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.distance_field import ESTIMATE
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.tick import Tick

THIS_GARAGE = "this garage"
_ITEM_ROWS = {row.WHAT: row for row in (DoneRow, MeasuredRow, DeclinedRow)}
_OTHER_ROWS = {row.WHAT: row for row in (FittedRow, RemovedRow, HappenedRow, FoundRow, TreadRow)}
WHATS = (
    "done",
    "measured",
    "fitted",
    "removed",
    "happened",
    "found",
    "declined",
    "tread",
)
"""What a row can record."""


class DayForm(Form):
    """A day's work. It begins with the items marked on the list, or with a row of one kind.

    `visit`: the one it was agreed for, which is told done with it.
    """

    HEAD: ClassVar[str] = "Day's work"

    def __init__(
        self,
        garage: Garage,
        car: CarToday,
        *,
        begin: str,
        items: Sequence[Item],
        visit: VisitRecord | None = None,
    ) -> None:
        super().__init__(garage)
        self.car = car
        self._visit = visit
        self._number = 0
        self._begun = self._first_rows(begin, items)

    def slug(self) -> str:
        return self.car.car.vehicle.slug

    def heading(self) -> str:
        return f"{self.HEAD}: {self.car.car.vehicle.description}"

    def _first_rows(self, begin: str, items: Sequence[Item]) -> list[WorkRow]:
        if begin in _ITEM_ROWS:
            found = in_access_order(items, self.garage.book)
            return [self._row(begin, row.items) for row in found]
        return [self._row(begin)]

    def _row(self, what: str, items: Sequence[Item] = ()) -> WorkRow:
        self._number += 1
        if what in _ITEM_ROWS:
            return _ITEM_ROWS[what](self.garage, self.car, self._number, items)
        return _OTHER_ROWS[what](self.garage, self.car, self._number)

    def fields(self) -> Iterable[Widget]:
        on = None if self._visit is None else min(self._visit.on, self.car.today)
        yield from when_fields(self.garage, self.car, on=on)
        yield Field("by", "by", value=THIS_GARAGE, remark="or another shop by name, or the owner")
        with Vertical(id="rows"):
            yield from self._begun
        yield ChoiceField("add", "+ row", names=WHATS, width=12, remark=" ".join(WHATS))
        yield Field("hours", "hours", width=8, remark="1.5, 1:30 or 90m")
        yield Field("cost", "cost", width=10)
        yield Field("note", "note", width=44)

    def begin(self) -> None:
        first = next(iter(self.query_one("#rows").query(Field)), None)
        # an item that the list gave needs no typing: on to the dial figure
        if first is None or first.text:
            self.field("at").enter()
        else:
            first.enter()

    # -- rows ----------------------------------------------------------------------------------

    async def take_enter(self, field: Field) -> None:
        """Add a row where one was named; else go on to the next field."""
        if field.name != "add" or field.text not in WHATS:
            self.go_on(field)
            return
        row = self._row(field.text)
        field.text = ""
        await self.query_one("#rows").mount(row)
        row.query(Field).first().enter()

    def on_tick_turned(self, _message: Tick.Turned) -> None:
        self.look()

    # -- what is saved -------------------------------------------------------------------------

    def question(self) -> Callable[[], Draft]:
        at, by = self.text("at"), self.text("by")
        entries: list[Entry] = []
        faults: list[Fault] = []
        if not at:
            faults.append(Fault("what did the dial show?", "at", f"{ESTIMATE} takes the estimate"))
        # a query takes the base of what it finds
        for row in self.query(WorkRow):  # type: ignore[type-abstract]
            try:
                entry = row.entry()
            except BadInput as refused:
                faults.extend(refused.faults)
            else:
                entries.extend([] if entry is None else [entry])
        head = Head(
            on=self.text("on"),
            at=None if at in ("", ESTIMATE) else at,
            by=None if by in ("", THIS_GARAGE) else by,
        )
        costs = Costs(
            hours=self.text("hours") or None,
            cost=self.text("cost") or None,
            note=self.text("note") or None,
        )
        record = None if self._visit is None else self._visit.record
        return partial(_checked, self.garage, self.car, head, entries, costs, faults, record)

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return (
            *draft.told,
            *next_lines(self.garage, draft),
            *due_lines(self.garage, draft),
        )


def _checked(
    garage: Garage,
    car: CarToday,
    head: Head,
    entries: Sequence[Entry],
    costs: Costs,
    faults: Sequence[Fault],
    visit: RecordId | None,
) -> Draft:
    """Give the draft of a day's work; what the fields found wrong is told with the rest."""
    if faults and not entries:
        raise BadInput(*faults)
    try:
        draft = draft_day(garage, car.car.vehicle.slug, head, entries, costs)
    except BadInput as refused:
        raise BadInput(*faults, *refused.faults) from refused
    if faults:
        raise BadInput(*faults)
    return draft if visit is None else with_visit_done(draft, visit)
