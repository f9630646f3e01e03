"""What happened to a dial: another one, or another true distance for what it shows."""

from decimal import Decimal

from castlenut.garage import entry
from castlenut.garage.drafting import Drafting, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage

_LEAST_FACTOR, _MOST_FACTOR = Decimal("0.5"), Decimal(2)


def draft_replaced(
    garage: Garage,
    slug: str,
    start: str,
    *,
    last: str | None = None,
    on: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record another odometer: what it showed at first, and the old one at its end if known.

    Raises:
        BadInput: a figure that the dial cannot show, a day that does not exist or is to come.
    """
    new = Drafting(garage, slug)
    day = new.past_day(on)
    begins = dial_figure(new, start, field="replaced")
    ended = None if last is None else dial_figure(new, last, field="last")
    new.add(
        "odometer_event",
        {
            "event": "replaced",
            "on": day.isoformat(),
            "start": number(begins),
            "last": number(ended),
            "note": note or None,
        },
    )
    if last is None:
        new.told.append(
            "what the old dial showed at its end is not known: the stretch since it was last read"
            " is an estimate"
        )
    return new.draft(f"odometer replaced on {day.isoformat()}")


def draft_factor(
    garage: Garage,
    slug: str,
    factor: str,
    *,
    on: str | None = None,
    at: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record how much true distance a figure of the dial stands for, from a day on.

    It takes the place of the factor before. `at` is what the dial showed then, kept as a reading:
    it makes the change exact.

    Raises:
        BadInput: a factor outside 0.5 to 2, a day that does not exist or is to come.
    """
    new = Drafting(garage, slug)
    day = new.past_day(on)
    found = new.read(lambda: entry.number(factor, field="factor"))
    if found is not None and not _LEAST_FACTOR <= found <= _MOST_FACTOR:
        new.fault(
            f"{factor} is out of range",
            where="factor",
            remedy="give the true distance for one shown, from 0.5 to 2",
        )
    if at is not None:
        shown = new.figure(at, field="at")
        values = {"on": day.isoformat(), "unit": new.car.vehicle.dial.unit.value}
        new.add("reading", {"figure": number(shown), **values})
    new.add(
        "odometer_event",
        {
            "event": "factor",
            "on": day.isoformat(),
            "factor": number(found),
            "note": note or None,
        },
    )
    return new.draft(f"odometer factor {factor.strip()} from {day.isoformat()}")


def dial_figure(new: Drafting, text: str, *, field: str) -> Decimal | None:
    """Read a figure of a dial with as many digits as the car's; a fault is kept."""
    dial = new.car.vehicle.dial
    found = new.read(lambda: entry.distance(text, dial, field=field))
    return None if found is None else entry.on_dial(found, dial)
