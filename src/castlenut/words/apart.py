"""What else is worth doing while it is apart, in plain words first."""

from collections.abc import Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from castlenut.domain.apart import Apart, Behind
from castlenut.domain.due import CarToday
from castlenut.domain.naming import item_name, unique_name
from castlenut.domain.opened import Opened
from castlenut.domain.working import State
from castlenut.words import figures
from castlenut.words.answers import Answer
from castlenut.words.listing import GAP, stamped, titled

_AGAIN = {
    "wheel": "the wheel",
    "caliper": "the caliper",
    "drum": "the drum",
    "hub": "the hub",
    "splash": "the splash panel",
    "trim": "the trim",
    "prop": "the driveshaft",
    "pan": "the pan",
    "cowl": "the cowl panel",
    "valve-cover": "the valve cover",
    "timing": "the timing cover",
    "belts": "the belts",
    "plugs": "the plugs",
}
"""What is taken off again, from the outside in: the last one open is named."""

ALSO_OPEN = "not behind that, and within reach as the car stands:"

_BEHIND = ("hub", "drum", "caliper", "splash", "timing", "valve-cover", "belts", "wheel")
"""Accesses in the order in which the one named first tells most."""


def opening(one: Opened) -> str:
    """Give an opening as it is typed: `wheel LF`."""
    return one.key if one.place is None else f"{one.key} {one.place}"


def open_line(found: Apart) -> str:
    """Say what is open, and how long that takes."""
    return f"open: {', '.join(map(opening, found.open))}{GAP}{figures.hours(found.hours)}"


def lines(found: Sequence[Behind], today: CarToday) -> Iterator[str]:
    """Give what lies behind, things alike on one line; what is on the lift alone comes last."""
    for is_there, heading in ((True, ""), (False, ALSO_OPEN)):
        together: dict[tuple[str, ...], list[Behind]] = {}
        for each in found:
            if each.is_there is is_there:
                item = each.item
                key = (item.id.rule, stamped(item), words(each), twin_words(each))
                together.setdefault(key, []).append(each)
        if together and heading:
            yield heading
        yield from (_line(each, today) for each in together.values())


def _line(alike: Sequence[Behind], today: CarToday) -> str:
    first = alike[0]
    places = " ".join(str(each.item.place) for each in alike if each.item.place is not None)
    names = " ".join(item_name(each.item, today.items) for each in alike)
    twin = twin_words(first)
    parts = (
        stamped(first.item),
        titled(first.item.rule.title, places),
        words(first),
        twin,
        f"[{names}]",
    )
    return GAP.join(part for part in parts if part)


def words(behind: Behind) -> str:
    """Say what doing it now means, without a figure of money."""
    told = [_when(behind), _saves(behind)]
    if behind.besides:
        told.append(f"needs {', '.join(map(opening, behind.besides))} as well")
    return "; ".join(part for part in told if part)


def _when(behind: Behind) -> str:
    if behind.item.state is State.NO_RECORD:
        return "nobody knows when it was last done"
    if behind.item.state is not State.AHEAD:
        return "it is due anyway"
    if behind.days_early is None:
        return "its day is not known"
    return f"done {figures.count(behind.days_early, 'day')} early"


def _saves(behind: Behind) -> str:
    return again(behind.shared)


def again(shared: Sequence[str]) -> str:
    """Say what sharing these accesses saves: `saves taking the hub off again`."""
    first = next((key for key in (*_BEHIND, *shared) if key in shared), "")
    if first == "lift":
        return "saves lifting it again"
    if first in _AGAIN:
        return f"saves taking {_AGAIN[first]} off again"
    return f"saves opening {first} again"


def twin_words(behind: Behind) -> str:
    """Name the same job on the other side: `RF has the same, its wheel is on`."""
    if behind.twin is None or behind.twin.place is None:
        return ""
    what = next((key for key in ("wheel", "trim", "splash") if key in behind.shared), None)
    told = f"{behind.twin.place} has the same"
    return f"{told}, its {what} is on" if what else told


def apart_answer(found: Apart, today: CarToday, hourly_rate: Fraction | None) -> dict[str, Answer]:
    """Give all of it for other programs, hours and money with it."""
    return {
        "vehicle": today.car.vehicle.slug,
        "open": [opening(each) for each in found.open],
        "hours": figures.as_number(found.hours),
        "items": [_answer(each, hourly_rate) for each in found.items],
        "no_record": [_answer(each, hourly_rate) for each in found.no_record],
    }


def _answer(behind: Behind, hourly_rate: Fraction | None) -> dict[str, Answer]:
    item = behind.item
    life = None if hourly_rate is None else behind.life_given_up(hourly_rate)
    return {
        "item": unique_name(item),
        "title": item.rule.title,
        "rule": item.rule.id,
        "position": str(item.place) if item.place else None,
        "state": item.state.value,
        "due_on": None if item.due_on is None else item.due_on.isoformat(),
        "is_there": behind.is_there,
        "days_early": behind.days_early,
        "hours": figures.as_number(item.rule.hours),
        "hours_saved": figures.as_number(behind.hours_saved),
        "life_given_up": None if life is None else _money(life),
        "net": None if hourly_rate is None else _money(behind.net(hourly_rate)),
        "needs_besides": [opening(each) for each in behind.besides],
        "twin": None if behind.twin is None else unique_name(behind.twin),
        "parts": list(item.rule.parts),
        "why": "; ".join(part for part in (words(behind), twin_words(behind)) if part),
    }


def _money(amount: Fraction) -> float:
    exact = Decimal(amount.numerator) / Decimal(amount.denominator)
    return float(exact.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP))
