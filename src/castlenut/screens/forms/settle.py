"""The form that asks what an odd reading was: six answers, each with the distance it would give."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.oddity import Cause
from castlenut.domain.settling import How, Outcome, Question
from castlenut.garage.changes.settling import Answer, draft_settlement
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.following import due_lines
from castlenut.screens.forms.form import Form
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.columns import Column, Line
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.words import odd, settling
from castlenut.words.odometer import entered

_COLUMNS = (Column(head="it was", width=22, fits=True), Column(head="", width=20, grow=1))
_FIELDS = {
    How.CORRECTED: ("correct", "on"),
    How.REPLACED: ("replaced", "last", "on"),
}
_LIKELIEST = {
    Cause.ROLLED_OVER: How.ROLLED_OVER,
    Cause.REPLACED: How.REPLACED,
    Cause.OTHER_UNIT: How.OTHER_UNIT,
    Cause.MISREAD: How.STRUCK,
}


class SettleForm(Form):
    """What a reading was. Enter or its digit takes an answer; two of them ask for figures first."""

    HEAD: ClassVar[str] = "What was it?"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "answer", "take it", show=False),
        *(
            Binding(str(number), f"answer_as('{how.value}')", settling.NAMES[how], show=False)
            for number, how in enumerate(How, start=1)
        ),
    ]

    def __init__(self, garage: Garage, car: CarToday, question: Question) -> None:
        super().__init__(garage)
        self.car = car
        self.asked = question

    def slug(self) -> str:
        return self.car.car.vehicle.slug

    def heading(self) -> str:
        placed = self.asked.placed
        return f"{self.HEAD} {entered(placed)} on {placed.reading.on}"

    def fields(self) -> Iterable[Widget]:
        placed, dial = self.asked.placed, self.car.odometer.dial
        today = self.garage.surroundings.today
        tried = {each.how: each for each in self.asked.outcomes}
        corrected, replaced = tried[How.CORRECTED], tried[How.REPLACED]
        on = placed.reading.on if corrected.on is None else corrected.on
        yield Static(plain(odd.reason(placed, self.asked.oddity, dial)), markup=False)
        yield ItemTable(*_COLUMNS, has_head=False, id="answers")
        yield Field(
            "correct",
            "dial showed",
            value=corrected.value or "",
            unit=dial.unit.value,
            width=12,
        )
        yield Field(
            "replaced",
            "new dial from",
            value=replaced.value or "",
            unit=dial.unit.value,
            width=12,
            remark="what the new one showed at first",
        )
        yield Field(
            "last",
            "old one's end",
            unit=dial.unit.value,
            width=12,
            remark="what the old one showed last; empty: not known",
        )
        yield DateField("on", "on", today=today, past=True, value=on.isoformat())

    def begin(self) -> None:
        dial = self.car.odometer.dial
        self.answers.show(
            Line(
                key=each.how.value,
                cells=(f"{number} {_name(each)}", settling.outcome(each, dial)),
            )
            for number, each in enumerate(self.asked.outcomes, start=1)
        )
        likeliest = _LIKELIEST.get(self.asked.oddity.cause, How.CORRECTED)
        self.answers.put_cursor(likeliest.value)
        self.answers.focus()
        self._show_fields()

    @property
    def answers(self) -> ItemTable:
        """Give the list of answers."""
        return self.query_one("#answers", ItemTable)

    @property
    def how(self) -> How:
        """Give the answer under the cursor."""
        return How(self.answers.cursor_key or How.CORRECTED.value)

    def _show_fields(self) -> None:
        for field in self.typed:
            field.display = field.name in _FIELDS.get(self.how, ())

    def on_item_table_moved(self, message: ItemTable.Moved) -> None:
        message.stop()
        self._show_fields()
        self.tell_faults(())
        self.look()

    def on_item_table_chosen(self, message: ItemTable.Chosen) -> None:
        message.stop()
        self.action_answer()

    def action_answer(self) -> None:
        """Take the answer: at once, or after its figures."""
        first = next((each for each in self.typed if each.display), None)
        if first is None:
            self.save()
        elif self.answers.has_focus:
            first.enter()

    def action_answer_as(self, how: str) -> None:
        """Take an answer by its digit, while nothing is being typed."""
        if self.answers.has_focus:
            self.answers.put_cursor(how)
            self._show_fields()
            self.action_answer()

    def question(self) -> Callable[[], Draft]:
        how, record = self.how, self.asked.placed.reading.record
        value = {
            How.CORRECTED: self.text("correct") or None,
            How.REPLACED: self.text("replaced") or None,
            How.OTHER_UNIT: next(
                each.value for each in self.asked.outcomes if each.how is How.OTHER_UNIT
            ),
        }.get(how)
        is_asked_on = "on" in _FIELDS.get(how, ())
        on = self.text("on") if is_asked_on and self._is_other_day else None
        answer = Answer(
            how=how,
            value=value,
            last=self.text("last") or None if how is How.REPLACED else None,
            on=on or None,
        )
        return partial(draft_settlement, self.garage, self.car.car.vehicle.slug, record, answer)

    @property
    def _is_other_day(self) -> bool:
        return self.text("on") != self.asked.placed.reading.on.isoformat()

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return (*draft.told, *due_lines(self.garage, draft))


def _name(tried: Outcome) -> str:
    """Give an answer; what the new dial showed at first stands in a field of its own."""
    return settling.NAMES[tried.how] if tried.how is How.REPLACED else settling.name(tried)
