"""A field for a day: typed in many ways, said back with its weekday, moved with up and down."""

from datetime import date, timedelta
from typing import ClassVar

from textual.binding import Binding, BindingType

from castlenut.domain.errors import BadInput
from castlenut.domain.months import after_span
from castlenut.garage import entry
from castlenut.screens.widgets.field import Field

_NEAR = 60


class DateField(Field):
    """A day. `past`: the form wants a day that is not after today."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(1, 0)", "a day later", show=False),
        Binding("down", "step(-1, 0)", "a day earlier", show=False),
        Binding("pageup", "step(0, 1)", "a month later", show=False),
        Binding("pagedown", "step(0, -1)", "a month earlier", show=False),
    ]

    def __init__(self, name: str, label: str, *, today: date, past: bool, value: str = "") -> None:
        super().__init__(name, label, value=value, width=12)
        self._today = today
        self._past = past

    @property
    def day(self) -> date | None:
        """Give the day meant; None while what is typed is no day."""
        try:
            return entry.day(self.text, today=self._today, past=self._past, field=str(self.name))
        except BadInput:
            return None

    def retell(self) -> None:
        day = self.day
        if day is None:
            self.remark("" if not self.text else "no day yet")
        else:
            iso = "" if self.text == day.isoformat() else f"{day.isoformat()}, "
            self.remark(f"{iso}{day:%a}, {_distance_in_words((day - self._today).days)}")

    def action_step(self, days: int, months: int) -> None:
        start = self.day or self._today
        moved = after_span(start, months, 0) + timedelta(days=days)
        self.text = min(moved, self._today).isoformat() if self._past else moved.isoformat()


def _distance_in_words(days: int) -> str:
    match days:
        case 0:
            return "today"
        case -1:
            return "yesterday"
        case 1:
            return "tomorrow"
        case _ if abs(days) > _NEAR:
            months = round(abs(days) / 30.44)
            return f"about {months} months ago" if days < 0 else f"in about {months} months"
        case _:
            return f"{-days} days ago" if days < 0 else f"in {days} days"
