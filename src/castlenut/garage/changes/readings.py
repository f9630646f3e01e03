"""What the odometer showed."""

from castlenut.domain.dial import Reading
from castlenut.domain.dial_history import history_of
from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId
from castlenut.garage import entry
from castlenut.garage.drafting import Drafting, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.words import odd


def draft_reading(
    garage: Garage,
    slug: str,
    figure: str,
    *,
    on: str | None = None,
    unit: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record a reading. One that does not fit is kept and told.

    Raises:
        BadInput: no figure, one the dial cannot show, a day that does not exist or is to come.
    """
    new = Drafting(garage, slug)
    dial = new.car.vehicle.dial
    day = new.past_day(on)
    south = garage.settings.south
    known = history_of(new.car, south=south)
    last = known.last()
    read = new.read(
        lambda: entry.distance(
            figure, dial, field="figure", unit=unit, last=last.shown if last else None
        )
    )
    if read is None:
        return new.draft("reading")
    record = new.add(
        "reading",
        {
            "figure": number(read.figure),
            "on": day.isoformat(),
            "unit": read.unit.value,
            "note": note or None,
        },
    )
    reading = Reading(record=RecordId(record), on=day, figure=read.figure, unit=read.unit)
    before = {each.reading.record: each for each in known.placed}
    after = history_of(replace(new.car, readings=(*new.car.readings, reading)), south=south)
    for placed in after.placed:
        was = before.get(placed.reading.record)
        # what was odd before this reading was told before
        if placed.oddity is not None and (was is None or was.oddity is None):
            new.told.append(odd.reading(placed, dial))
    shown = f"{number(read.figure):,}" if read.figure else "0"
    return new.draft(f"reading {shown} {read.unit.value} on {day.isoformat()}")
