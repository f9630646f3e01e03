"""Rows of the garage's weeks: a week with its load, a visit of some car, the days of a month."""

from calendar import Calendar, month_name
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from castlenut.domain.order import state_rank
from castlenut.domain.visits.weeks import Week
from castlenut.domain.working import State
from castlenut.garage.weeks import GarageWeeks, Job, PlannedVisit
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words import car_visits as words
from castlenut.words import days, figures, states

WEEK_COLUMNS = (
    Column(head="week", width=9),
    Column(head="load", width=22),
    Column(head="hours", width=10, is_right=True),
    Column(head="closes in this week", width=16, grow=1),
)
CAR_COLUMNS = (
    Column(head="day", width=9, fits=True),
    Column(head="car", width=20, fits=True),
    Column(head="", width=8, fits=True),
    Column(head="what", width=20, grow=3),
    Column(head="takes", width=6, is_right=True, fits=True),
    Column(head="", width=13, fits=True),
)
LIST_COLUMNS = (Column(head="day", width=14), *CAR_COLUMNS[1:])
_NAMED = 2
_CELL = 5


def visit_key(visit: PlannedVisit) -> str:
    """Give the key of a visit's row."""
    return f"{visit.on.isoformat()} {visit.slug} {'booked' if visit.is_booked else 'proposed'}"


def week_line(week: Week, found: GarageWeeks, *, today: date) -> Line:
    """Give the row of a week: its load as a strip, and what closes in it."""
    booked = found.booked_hours.get(week.monday, 0.0)
    over = found.unplaced_hours.get(week.monday, 0.0)
    closing = "; ".join(_closing(week.monday, found, today=today))
    told = f"over by {over:.1f} h: space moves one" if over else ""
    return Line(
        key=week.monday.isoformat(),
        cells=(
            days.week(week.monday),
            f"[{words.bar(week, booked, over)}]",
            f"{week.hours:.1f} of {week.capacity:.0f}",
            "; ".join(part for part in (told, closing) if part) or "-",
        ),
        color="overdue" if over else "text",
        name=" ".join(each.called for each in found.in_week(week.monday)),
    )


def _closing(monday: date, found: GarageWeeks, *, today: date) -> Iterator[str]:
    """Give what closes in a week by title and car; what is past its window in the first."""
    end = monday + timedelta(days=7)
    alike: dict[tuple[bool, str, str], int] = {}
    for visit in found.visits:
        for job in visit.jobs:
            closes = job.closes_on
            if closes is None:
                continue
            is_past = closes < today
            begins = monday <= today < end if is_past else monday <= closes < end
            if begins:
                key = (not is_past, job.item.rule.title, visit.called)
                alike[key] = alike.get(key, 0) + 1
    in_order = sorted(alike)
    for is_kept, name, car in in_order[:_NAMED]:
        yield f"{'' if is_kept else '!! '}{name}, {car}"
    if len(in_order) > _NAMED:
        yield f"{len(in_order) - _NAMED} more"


def car_line(visit: PlannedVisit, *, in_list: bool) -> Line:
    """Give the row of a visit of some car."""
    worst = min((each.item for each in visit.jobs), key=state_rank, default=None)
    stamp = None if worst is None or worst.state is State.AHEAD else states.stamp_of(worst)
    titles = dict.fromkeys(each.item.rule.title for each in visit.jobs)
    day = f"{visit.on:%a} {visit.on if in_list else f'{visit.on:%m-%d}'}"
    return Line(
        key=visit_key(visit),
        cells=(
            day,
            visit.called,
            "booked" if visit.is_booked else "proposed",
            ", ".join(titles) or "whatever is due then",
            figures.hours(visit.hours),
            "" if stamp is None else str(stamp),
        ),
        color="text" if stamp is None else stamp.color,
        name=visit.called,
        sought=" ".join((visit.slug, *titles)),
    )


def job_line(job: Job) -> Line:
    """Give the row of a job in a visit of the list by date."""
    closes = "-" if job.closes_on is None else f"{job.closes_on:%m-%d}"
    return Line(
        key=str(job.item.id),
        cells=(
            closes,
            "closes",
            "",
            words.title(job.item),
            figures.hours(job.item.rule.hours),
            str(states.stamp_of(job.item)),
        ),
        name=job.item.rule.title,
    )


def month_lines(found: GarageWeeks, day: date) -> Iterator[str]:
    """Draw the month of a day and the next one: `#` booked, `=` proposed, `+` over, `-` closed."""
    yield from _month(found, day.replace(day=1))
    yield ""
    yield from _month(found, (day.replace(day=1) + timedelta(days=32)).replace(day=1))
    yield ""
    yield "# booked     = proposed"
    yield "+ over       - closed"


def _month(found: GarageWeeks, first: date) -> Iterator[str]:
    yield f"{month_name[first.month]} {first.year}"
    yield "".join(f"{name:<{_CELL}}" for name in ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"))
    marks = _marks(found)
    for week in Calendar().monthdatescalendar(first.year, first.month):
        yield "".join(_cell(found, day, first, marks) for day in week).rstrip()


def _cell(found: GarageWeeks, day: date, first: date, marks: dict[date, str]) -> str:
    if day.month != first.month:
        return " " * _CELL
    is_within = day >= min(found.capacity, default=day)
    mark = marks.get(day, "" if day in found.capacity or not is_within else "-")
    return f"{day.day:>2}{mark}".ljust(_CELL)


def _marks(found: GarageWeeks) -> dict[date, str]:
    """Give what stands beside each day on which work is done."""
    marks: dict[date, str] = {}
    for visit, placed in zip(found.visits, found.load.visits, strict=True):
        for stint in placed.work:
            if visit.is_booked or stint.on not in marks:
                marks[stint.on] = "#" if visit.is_booked else "="
        if placed.unplaced:
            marks[visit.on] = "+"
    return marks


def load_words(weeks: Sequence[Week], found: GarageWeeks) -> str:
    """Say what is booked and proposed in all, and what a week holds."""
    booked = sum(found.booked_hours.values())
    whole = sum(each.hours for each in weeks)
    most = max((each.capacity for each in weeks), default=0.0)
    return f"capacity {most:.0f} h a week, booked {booked:.1f} h, proposed {whole - booked:.1f} h"
