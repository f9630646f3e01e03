"""How a car stands, in five plain lines for a message to its owner: no marks, no jargon."""

from collections.abc import Iterable, Sequence
from datetime import date

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.item import Item
from castlenut.domain.matching import STORAGE
from castlenut.domain.working import State
from castlenut.words import figures
from castlenut.words.escape import one_line
from castlenut.words.month_names import MONTHS

LINES = 5
_FEW = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Sender:
    """Who writes it; empty where the garage has not entered it."""

    name: str = ""
    telephone: str = ""


def message_lines(
    today: CarToday, *, sender: Sender, next_visit: date | None
) -> tuple[str, str, str, str, str]:
    """Give the five lines: the car, what is overdue, what is due, what else, the next visit.

    The owner's own checks are left out: they stand in his calendar. So is the care of a car laid up
    at the garage.
    """
    items = [
        item for item in today.items if not item.rule.is_own_check and item.rule.part != STORAGE
    ]
    overdue = _named(item for item in items if item.state is State.OVERDUE)
    due = _named(item for item in items if item.state is State.DUE)
    return (
        _car(today),
        f"Overdue: {overdue}." if overdue else "Nothing is overdue.",
        f"Due now: {due}." if due else "Nothing is due now.",
        _else(items, today),
        _visit(sender, next_visit),
    )


def _car(today: CarToday) -> str:
    vehicle, dial = today.car.vehicle, today.odometer.dial
    year = str(vehicle.year or "")
    named = vehicle.description if year in vehicle.description else f"{vehicle.description} {year}"
    told = f"{one_line(named)}, {_day(today.today)}"
    band = today.use.distance_on(today.today)
    if band is not None:
        about = "" if band.p10 == band.p90 else "about "
        told += f", {about}{figures.with_unit(today.odometer.shown_of(band.p50), dial)}"
    if (stay := today.car.stay_on(today.today)) is not None:
        told += f", in work here since {_day(stay.since)}"
    return f"{told}."


def _else(items: Sequence[Item], today: CarToday) -> str:
    unknown = _named(item for item in items if item.state is State.NO_RECORD)
    refused = _named(item for item in items if item.state is State.DECLINED)
    told = []
    if unknown:
        told.append(f"Nobody knows when these were last done: {unknown}.")
    if refused:
        told.append(f"You said no to: {refused}.")
    if told:
        return " ".join(told)
    ahead = [item for item in items if item.state is State.AHEAD]
    first = min(ahead, key=_expected, default=None)
    if first is None:
        return "Nothing else is recorded that could fall due."
    return f"Next: {_title(first)}{_when(first, today)}."


def _expected(item: Item) -> tuple[date, str]:
    return item.expected.p50 or item.due_on or date.max, item.rule.title


def _when(item: Item, today: CarToday) -> str:
    day = item.expected.p50 or item.due_on
    told = "" if day is None else f" about {_day(day)}"
    if item.shown.due_at is not None:
        at = figures.with_unit(item.shown.due_at, today.odometer.dial)
        told += f" or at {at}" if told else f" at {at}"
    return told


def _visit(sender: Sender, next_visit: date | None) -> str:
    who = " ".join(one_line(part) for part in (sender.name, sender.telephone) if part)
    signed = f" {who}." if who else ""
    if next_visit is None:
        return f"No visit is agreed yet.{signed}"
    return f"Next visit: {next_visit:%A}, {_day(next_visit)}.{signed}"


def _day(when: date) -> str:
    return f"{MONTHS[when.month - 1]} {when.day}, {when.year}"


def _named(items: Iterable[Item]) -> str:
    """Give things by the words of their titles, each once: `engine oil, ride height and 3 more`."""
    names = list(dict.fromkeys(_title(item) for item in items))
    if len(names) <= _FEW:
        return " and ".join(part for part in (", ".join(names[:-1]), *names[-1:]) if part)
    return f"{', '.join(names[: _FEW - 1])} and {len(names) - _FEW + 1} more"


def _title(item: Item) -> str:
    """Give what a title is about, without what is done to it: `brake pads`."""
    return one_line(item.rule.title.partition(",")[0])
