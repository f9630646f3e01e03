"""reckon forecast: by which days a car will have gone so far."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from castlenut.command.reckon.dial_line import dial_fields, dial_line, flags
from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind, day, figure
from castlenut.domain.interval import MOST_DISTANCE
from castlenut.domain.odometer import Odometer, Placed
from castlenut.domain.units import Distance, Shown
from castlenut.domain.use.estimate import DistanceBand, LastReading
from castlenut.domain.use.forecast import HORIZON_DAYS, basis, outlook, start
from castlenut.domain.use.habit import driving_days
from castlenut.words import forecast as words


def _answer(fields: Fields) -> Answer:
    line = dial_line(fields)
    after_last = fields.need_number("after_last", most=MOST_DISTANCE)
    if fields.has("after_last") and not after_last > 0:
        fields.fault("after_last", "is not above 0", "give the distance that is left")
    fields.check()
    asof = line.asof or line.readings[-1].on
    found = line.odometer()
    last = found.placed[-1]
    begun = start(found, since=last.reading.on, owner=line.owner)
    horizon = date.fromordinal(min(asof.toordinal() + HORIZON_DAYS, date.max.toordinal()))
    dates = begun.reached(after_last, horizon)
    chance_due = begun.chance(after_last, asof)
    clock = driving_days(line.owner.laid_up)
    rests = replace(
        basis(found, clock, outlook(begun, found, clock)),
        last=LastReading(record=last.reading.record, on=last.reading.on, shown=last.shown),
    )
    ahead = words.Ahead(
        asof=asof,
        due_at=_due_at(found, last, after_last),
        to_go=after_last,
        dates=dates,
        chance_due=chance_due,
    )
    return {
        "p10": day(dates.p10),
        "p50": day(dates.p50),
        "p90": day(dates.p90),
        "chance_due": round(chance_due, 6),
        "driven": _band(begun.driven_by(asof)),
        "yearly": _band(begun.driven_by(begun.since + timedelta(days=365))),
        "why": words.why(ahead, rests, line.dial),
        "flags": flags(found),
    }


def _due_at(found: Odometer, last: Placed, after_last: float) -> Shown:
    """Give what the dial will show; a last reading held back counts as it stands."""
    if last.distance is not None:
        return found.shown_of(Distance(last.distance + after_last))
    return Shown((last.shown + Decimal(str(after_last))) % found.capacity)


def _band(band: DistanceBand) -> dict[str, float | int | None]:
    return {"p10": figure(band.p10), "p50": figure(band.p50), "p90": figure(band.p90)}


KIND = Kind(
    name="forecast",
    summary="when a car will have been driven so far, from the readings of its dial",
    fields=dial_fields(needs_asof=True, needs_distance=True),
    answers=(
        Field("p10", "by that morning with one chance in ten; null: later than ten years"),
        Field("p50", "by that morning with an even chance"),
        Field("p90", "by that morning with nine chances in ten"),
        Field("chance_due", "the chance that it is reached by asof"),
        Field("driven", "p10, p50, p90 of the distance since the last reading, as of asof"),
        Field("yearly", "the same of the distance in the 365 days after the last reading"),
        Field("why", "sentences"),
        Field("flags", "odd readings: index, cause, would_fit, held and reason"),
    ),
    answer=_answer,
)
