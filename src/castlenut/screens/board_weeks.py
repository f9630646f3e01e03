"""The next weeks beside the board of a wide terminal: hours booked, windows that close."""

from collections.abc import Iterator, Sequence

from castlenut.garage.coming_weeks import CarWeeks, ComingWeek
from castlenut.words import days, figures
from castlenut.words.states import OVERDUE

_STRIP = 8


def week_lines(weeks: Sequence[ComingWeek], cars: Sequence[CarWeeks]) -> Iterator[str]:
    """Give a line a week: `49 Nov 30 [##......]  7.5 of 28    3`, what is overdue first."""
    yield "week      booked         hours close"
    for week in weeks:
        yield (
            f"{days.week(week.monday)}"
            f" [{_strip(week)}]{week.booked:>5.1f} of {week.capacity:<2.0f}{week.closing or '-':>5}"
        )
    overdue = sum(each.overdue for each in cars)
    if overdue:
        yield f"{OVERDUE.mark} {figures.count(overdue, 'line')} past the window already"


def _strip(week: ComingWeek) -> str:
    if not week.capacity:
        return ("+" * _STRIP) if week.booked else "closed".ljust(_STRIP)
    if week.booked > week.capacity:
        return "#" * (_STRIP - 1) + "+"
    return ("#" * round(_STRIP * week.booked / week.capacity)).ljust(_STRIP, ".")
