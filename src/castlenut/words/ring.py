"""Why an owner is called, in words."""

from collections.abc import Iterator

from castlenut.domain.due import CarToday
from castlenut.domain.naming import unique_name
from castlenut.domain.order import Row
from castlenut.domain.ring import Reason, Why
from castlenut.domain.working import State
from castlenut.words.answers import Answer
from castlenut.words.escape import one_line
from castlenut.words.listing import GAP, titled

NO_VISIT = "no visit agreed"


def ring_line(today: CarToday, reasons: tuple[Reason, ...]) -> str:
    """Give one call as a line: owner, telephone, car, and why."""
    owner, phone, why = ring_cells(today, reasons)
    return GAP.join((owner, phone, one_line(today.car.vehicle.description), why))


def ring_cells(today: CarToday, reasons: tuple[Reason, ...]) -> tuple[str, str, str]:
    """Give owner, telephone and why."""
    vehicle = today.car.vehicle
    return (
        one_line(vehicle.owner) if vehicle.owner else "owner not known",
        f"tel. {one_line(vehicle.phone)}" if vehicle.phone else "no telephone",
        "; ".join(words(each) for each in reasons),
    )


def words(reason: Reason) -> str:
    """Give one reason: `window opens 2026-12-04, no visit agreed: spring U-bolts, rear`."""
    match reason.why:
        case Why.WINDOW:
            return f"{_window(reason)}, {NO_VISIT}: {_titles(reason)}"
        case Why.FIRST_POINTS:
            return f"first points after the handover, {NO_VISIT}: {_titles(reason)}"
        case Why.NO_READING if reason.last_reading is None:
            return "no reading yet: ask what the dial shows"
        case Why.NO_READING:
            return f"no reading since {reason.last_reading.isoformat()}: ask what the dial shows"


def _window(reason: Reason) -> str:
    first = reason.rows[0].first
    if first.state is State.OVERDUE:
        return "overdue"
    closes = "" if reason.closes_on is None else f" closes {reason.closes_on.isoformat()}"
    if first.state is State.DUE:
        return f"window open,{closes}" if closes else "window open"
    if reason.opens_on is not None:
        return f"window opens {reason.opens_on.isoformat()}"
    return f"window{closes}"


def _titles(reason: Reason) -> str:
    first = _title(reason.rows[0])
    more = len(reason.rows) - 1
    return f"{first} and {more} more" if more else first


def _title(row: Row) -> str:
    return titled(row.first.rule.title, row.places)


def ring_answer(today: CarToday, reasons: tuple[Reason, ...]) -> dict[str, Answer]:
    """Give one call for other programs."""
    vehicle = today.car.vehicle
    return {
        "vehicle": vehicle.slug,
        "description": vehicle.description,
        "owner": vehicle.owner,
        "phone": vehicle.phone,
        "why": [
            {
                "reason": each.why.value,
                "words": words(each),
                "items": list(_items(each)),
                "opens_on": None if each.opens_on is None else each.opens_on.isoformat(),
                "closes_on": None if each.closes_on is None else each.closes_on.isoformat(),
                "last_reading": None
                if each.last_reading is None
                else each.last_reading.isoformat(),
            }
            for each in reasons
        ],
    }


def _items(reason: Reason) -> Iterator[str]:
    if reason.why is not Why.NO_READING:
        yield from (unique_name(item) for row in reason.rows for item in row.items)
