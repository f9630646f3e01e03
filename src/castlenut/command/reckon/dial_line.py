"""What a line says of a car's dial: its readings and events, alike for forecast and distance."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from itertools import pairwise

from castlenut.command.reckon.fields import Field, Fields, Json, shown
from castlenut.command.reckon.kind import figure
from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Reading, Replaced
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.odometer import Odometer
from castlenut.domain.units import Unit
from castlenut.domain.use.by_use import placed
from castlenut.domain.use.forecast import Owner
from castlenut.domain.vehicle import Use
from castlenut.words import odd

_FEWEST_DIGITS = 4
_MOST_DIGITS = 7
_FIRST_CAR = 1885


class EventKind(Enum):
    """What happened to a dial."""

    REPLACED = "odometer_replaced"
    FACTOR = "tire_factor"


@dataclass(frozen=True, slots=True, kw_only=True)
class DialLine:
    """A line as values. `asof` is None where a line need not give it and did not."""

    asof: date | None
    dial: Dial
    readings: Sequence[Reading]
    events: Sequence[DialEvent]
    owner: Owner

    def odometer(self) -> Odometer:
        """Place the readings."""
        return placed(self.dial, self.readings, self.events, self.owner)


def dial_fields(*, needs_asof: bool, needs_distance: bool) -> tuple[Field, ...]:
    """Give the fields of a line."""
    return (
        Field("asof", "the day of the question", optional=not needs_asof),
        Field("first_use_year", "the year the car was first used", optional=True),
        Field("unit", "mi or km: what the dial counts, and every distance here"),
        Field("odometer", "the dial: digits (whole units, 4 to 7) and tenths (true or false)"),
        Field("usage", "daily, seasonal, occasional or stored, as the owner says", optional=True),
        Field("readings", "[date, shown] pairs in order of date, taken in the morning"),
        Field(
            "events",
            "date and kind: odometer_replaced with start and, if known, last; tire_factor with"
            " factor",
            optional=True,
        ),
        Field("laid_up", "[first, last or null] days on which it was not driven", optional=True),
        Field(
            "after_last",
            "true distance beyond the last reading at which the work falls due",
            optional=not needs_distance,
        ),
    )


_DIAL = (
    Field("digits", "how many whole digits the dial has"),
    Field("tenths", "whether it has tenths"),
)
_EVENT = (
    Field("date", "the day, of which readings belong to the new state"),
    Field("kind", "odometer_replaced or tire_factor"),
    Field("start", "what the new dial showed", optional=True),
    Field("last", "what the old dial showed at its end", optional=True),
    Field("factor", "true distance per shown distance", optional=True),
)


def dial_line(fields: Fields) -> DialLine:
    """Read what a line says of a dial; the caller checks the fields before using it."""
    asof = fields.day("asof")
    year = fields.whole("first_use_year", least=_FIRST_CAR, most=date.max.year)
    if asof is not None and year is not None and year > asof.year:
        fields.fault("first_use_year", f"{year} is after asof", "give a year up to that one")
    unit = fields.choice("unit", Unit) or Unit.MI
    dial = _dial(fields.part("odometer", _DIAL), unit)
    readings = _readings(fields, unit)
    if asof is not None and readings and asof < readings[-1].on:
        fields.fault("asof", "is before the last reading", "give that day or a later one")
    return DialLine(
        asof=asof,
        dial=dial,
        readings=readings,
        events=_events(fields, dial, asof),
        owner=Owner(
            declared=fields.choice("usage", Use),
            first_use_year=year,
            laid_up=_laid_up(fields),
        ),
    )


def _dial(given: Fields | None, unit: Unit) -> Dial:
    if given is None:
        return Dial(unit=unit, digits=_MOST_DIGITS, tenths=False)
    digits = given.need_whole("digits", least=_FEWEST_DIGITS, most=_MOST_DIGITS)
    return Dial(unit=unit, digits=digits or _MOST_DIGITS, tenths=given.truth("tenths") is True)


def _readings(fields: Fields, unit: Unit) -> Sequence[Reading]:
    readings: list[Reading] = []
    rows = fields.rows("readings", "[date, shown] pairs")
    if fields.has("readings") and rows == []:
        fields.fault("readings", "is empty", "give at least one reading")
    for place, row in enumerate(rows, start=1):
        where = f"readings[{place}]"
        if not isinstance(row, list) or len(row) != 2:
            fields.fault(where, f"{shown(row)} is not a reading", "give [date, shown]")
            continue
        on = fields.day_of(row[0], where)
        value = fields.number_of(row[1], where)
        if on is None:
            continue
        if readings and on < readings[-1].on:
            fields.fault(where, "is out of order", "give the readings in order of date")
            continue
        readings.append(
            Reading(
                record=RecordId(f"{place - 1:06}"),
                on=on,
                figure=Decimal(str(value)),
                unit=unit,
            )
        )
    return readings


def _events(fields: Fields, dial: Dial, asof: date | None) -> Sequence[DialEvent]:
    events: list[DialEvent] = []
    for place, given in enumerate(fields.parts("events", _EVENT)):
        on = given.day("date")
        kind = given.choice("kind", EventKind)
        if on is not None and asof is not None and on > asof:
            given.fault("date", "is after asof", "give that day or an earlier one")
        record = RecordId(f"event {place:06}")
        if kind is EventKind.REPLACED:
            event = _replaced(given, dial, record, on)
        else:
            event = _factor(given, record, on)
        if on is not None and kind is not None and event is not None:
            events.append(event)
    return events


def _replaced(given: Fields, dial: Dial, record: RecordId, on: date | None) -> DialEvent | None:
    if not given.has("start"):
        given.fault("start", "is missing", f"give {given.meaning('start')}")
    most = 10**dial.digits - (0.1 if dial.tenths else 1)
    start = given.number("start", most=most)
    last = given.number("last", most=most)
    if given.has("factor"):
        given.fault("factor", "belongs to tire_factor", "leave it out")
    if on is None or start is None:
        return None
    return Replaced(
        record=record,
        on=on,
        start=Decimal(str(start)),
        last=None if last is None else Decimal(str(last)),
    )


def _factor(given: Fields, record: RecordId, on: date | None) -> DialEvent | None:
    if given.has("kind") and not given.has("factor"):
        given.fault("factor", "is missing", f"give {given.meaning('factor')}")
    factor = given.fraction("factor", least=0.5, most=2.0)
    for name in ("start", "last"):
        if given.has(name):
            given.fault(name, "belongs to odometer_replaced", "leave it out")
    if on is None or factor is None:
        return None
    return FactorFrom(record=record, on=on, factor=Fraction(factor))


def _laid_up(fields: Fields) -> tuple[tuple[date, date | None], ...]:
    spans: list[tuple[date, date | None]] = []
    for place, row in enumerate(fields.rows("laid_up", "[first, last] pairs"), start=1):
        where = f"laid_up[{place}]"
        if not isinstance(row, list) or len(row) != 2:
            fields.fault(where, f"{shown(row)} is not a span", "give [first, last or null]")
            continue
        first = fields.day_of(row[0], where)
        last = None if row[1] is None else fields.day_of(row[1], where)
        if first is None or (last is None and row[1] is not None):
            continue
        if last is not None and last < first:
            fields.fault(where, "ends before it begins", "give the first day first")
            continue
        spans.append((first, last))
    spans.sort(key=lambda span: span[0])
    for (_, last), (first, _) in pairwise(spans):
        if last is None or first <= last:
            fields.fault("laid_up", "overlaps itself", "give spans that lie apart")
            break
    return tuple(spans)


def flags(found: Odometer) -> Sequence[Mapping[str, Json]]:
    """Give what is odd about the readings, each by its index from 0."""
    return [
        {
            "index": index,
            "cause": each.oddity.cause.value,
            "would_fit": figure(
                None if each.oddity.would_fit is None else float(each.oddity.would_fit)
            ),
            "held": each.oddity.held,
            "reason": odd.reason(each, each.oddity, found.dial),
        }
        for index, each in enumerate(found.placed)
        if each.oddity is not None
    ]
