"""Faults put into the histories of the simulator, and how many of them the check of readings finds.

A fault counts as visible only if it breaks the order of the readings or the speed that is possible.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from random import Random

from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Reading, Replaced
from castlenut.domain.ids import RecordId
from castlenut.domain.odometer import Odometer, odometer
from castlenut.domain.units import Unit
from tests.bench.use_simulator import KM, SHARES, WAYS, History, history

KINDS = (
    "rolled over",
    "replaced or set back",
    "replaced, told",
    "factor",
    "digits swapped",
    "miles for km",
    "one digit",
    "tenths",
    "date",
    "misread",
)
SLIPS = KINDS[4:]


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """What was written down of a car. `at` is the place of the fault among the readings.

    `places` are the true distances, in the unit of the dial. `kind` None: nothing is wrong.
    """

    kind: str | None
    at: int | None
    dial: Dial
    days: tuple[date, ...]
    figures: tuple[float, ...]
    places: tuple[float, ...]
    events: tuple[DialEvent, ...] = ()

    def read(self) -> Odometer:
        """Let the program read it."""
        readings = [
            Reading(
                record=RecordId(f"{number:03}"),
                on=on,
                figure=Decimal(str(figure)),
                unit=self.dial.unit,
            )
            for number, (on, figure) in enumerate(zip(self.days, self.figures, strict=True))
        ]
        return odometer(self.dial, readings, self.events)


def _sound(chance: Random) -> Series | None:
    """Make a series that is right, of three readings or more, within one round of the dial."""
    way = chance.choices(WAYS, SHARES)[0]
    made: History = history(chance, way, chance.choice((3, 4, 5, 7, 10, 30)))
    scale = KM if made.unit == "km" else 1.0
    limit = 10**made.digits
    shift = 0.0 if made.places[-1] * scale < limit else made.places[0] - 5_000
    places = tuple((place - shift) * scale for place in made.places)
    if places[-1] >= limit:
        return None
    places = tuple(
        int(place * (10 if made.tenths else 1)) / (10 if made.tenths else 1) for place in places
    )
    return Series(
        kind=None,
        at=None,
        dial=Dial(unit=Unit(made.unit), digits=made.digits, tenths=made.tenths),
        days=tuple(date.fromordinal(day) for day in made.days),
        figures=places,
        places=places,
    )


def _rolled(sound: Series, chance: Random) -> Series | None:
    """Move the car so that its dial passes the end between two readings."""
    count = len(sound.places)
    at = 1 + chance.randrange(count - 1)
    run = sound.places[at] - sound.places[at - 1]
    if run < 2:
        return None
    end = 10.0**sound.dial.digits
    shift = end - sound.places[at - 1] - run * chance.uniform(0.1, 0.9)
    places = tuple(round(place + shift, 1 if sound.dial.tenths else 0) for place in sound.places)
    if not (places[at - 1] < end <= places[at]) or places[-1] >= 2 * end or places[0] < 0:
        return None
    figures = tuple(round(place % end, 1) for place in places)
    return replace(sound, kind="rolled over", at=at, figures=figures, places=places)


def _replaced(sound: Series, chance: Random, *, is_told: bool) -> Series | None:
    """Put another dial in before a reading; it began at 0, or has been on another car."""
    count = len(sound.places)
    if count < 4 and not is_told:
        return None
    at = 1 + chance.randrange(count - 1 if is_told else count - 2)
    share = chance.random()
    there = sound.places[at - 1] + share * (sound.places[at] - sound.places[at - 1])
    start = 0 if chance.random() < 0.6 else chance.randrange(10**sound.dial.digits // 2)
    figures = tuple(
        place if number < at else round(int((place - there + start) * 10) / 10, 1)
        for number, place in enumerate(sound.places)
    )
    if not sound.dial.tenths:
        figures = tuple(float(int(figure)) for figure in figures)
    if figures[-1] >= 10**sound.dial.digits:
        return None
    days = (sound.days[at] - sound.days[at - 1]).days
    on = date.fromordinal(sound.days[at - 1].toordinal() + max(1, int(share * days)))
    told = Replaced(
        record=RecordId("replaced"),
        on=on,
        start=Decimal(start),
        last=Decimal(str(round(there, 1))),
    )
    if is_told:
        return replace(sound, kind="replaced, told", figures=figures, events=(told,), at=None)
    return replace(sound, kind="replaced or set back", at=at, figures=figures)


def _factor(sound: Series, chance: Random) -> Series:
    """Put other tires on at a reading: from there on the dial shows more or less than is driven."""
    at = 1 + chance.randrange(len(sound.places) - 1)
    factor = Fraction(chance.randrange(90, 111), 100)
    changed = FactorFrom(record=RecordId("factor"), on=sound.days[at], factor=factor)
    there = sound.places[at]
    places = tuple(
        place if number <= at else there + (place - there) * float(factor)
        for number, place in enumerate(sound.places)
    )
    return replace(sound, kind="factor", places=places, events=(changed,))


def _slipped(sound: Series, kind: str, chance: Random) -> Series | None:
    at = chance.randrange(len(sound.figures))
    figure, on = sound.figures[at], sound.days[at]
    digits = list(str(int(figure)).rjust(sound.dial.digits, "0"))
    point = figure - int(figure)
    where = chance.randrange(len(digits) - 1)
    match kind:
        case "digits swapped":
            digits[where], digits[where + 1] = digits[where + 1], digits[where]
            figure = int("".join(digits)) + point
        case "one digit":
            digits[where] = chance.choice("0123456789")
            figure = int("".join(digits)) + point
        case "miles for km":
            figure = figure * KM if chance.random() < 0.5 else figure / KM
            figure = float(int(figure))
        case "tenths":
            figure = float(int(figure * 10) + chance.randrange(10) * (not sound.dial.tenths))
        case "date":
            years = chance.choice((-1, 1, 0))
            if years == 0 and (on.day > 12 or on.day == on.month):
                return None
            if on.month == 2 and on.day == 29:
                return None
            on = on.replace(year=on.year + years) if years else date(on.year, on.day, on.month)
        case _:
            figure = float(chance.randrange(10**sound.dial.digits))
    figure = round(figure, 1)
    if (figure, on) == (sound.figures[at], sound.days[at]):
        return None
    rows = [
        (day, shown, place, number == at)
        for number, (day, shown, place) in enumerate(
            zip(sound.days, sound.figures, sound.places, strict=True)
        )
    ]
    rows[at] = (on, figure, sound.places[at], True)
    rows.sort(key=lambda row: row[0])
    return replace(
        sound,
        kind=kind,
        at=next(number for number, row in enumerate(rows) if row[3]),
        days=tuple(row[0] for row in rows),
        figures=tuple(row[1] for row in rows),
        places=tuple(row[2] for row in rows),
    )


def _is_visible(series: Series) -> bool:
    scale = KM if series.dial.unit is Unit.KM else 1.0
    if any(figure >= 10**series.dial.digits for figure in series.figures):
        return True
    for number in range(1, len(series.figures)):
        run = (series.figures[number] - series.figures[number - 1]) / scale
        days = max((series.days[number] - series.days[number - 1]).days, 1)
        if run <= -1 or run > min(900 * days, max(6_000, 45_000 * days / 365)):
            return True
    return False


def faulty(chance: Random, kind: str) -> Series:
    """Make a series with one visible fault of a kind; what was told need not be visible."""
    while True:
        sound = _sound(chance)
        if sound is None:
            continue
        match kind:
            case "rolled over":
                made = _rolled(sound, chance)
            case "replaced or set back":
                made = _replaced(sound, chance, is_told=False)
            case "replaced, told":
                made = _replaced(sound, chance, is_told=True)
            case "factor":
                made = _factor(sound, chance)
            case _:
                made = _slipped(sound, kind, chance)
        if made is not None and (kind in ("replaced, told", "factor") or _is_visible(made)):
            return made


def sound(chance: Random) -> Series:
    """Make a series that is right."""
    while True:
        made = _sound(chance)
        if made is not None:
            return made


@dataclass(slots=True)
class Score:
    """What the check made of the series of one kind."""

    series: int = 0
    found: int = 0
    named: int = 0
    sound: int = 0
    flagged: int = 0
    held: int = 0
    given: int = 0
    off: int = 0


def score(series: Series, into: Score) -> None:
    """Read a series and count what was found, wrongly flagged, held back and wrongly counted."""
    placed = series.read().placed
    into.series += 1
    jump = series.kind in ("rolled over", "replaced or set back")
    near: Sequence[int] = ()
    if series.at is not None:
        near = (series.at - 1, series.at) if jump else (series.at,)
        flags = [placed[at].oddity for at in near if at >= 0]
        causes = [oddity.cause.value for oddity in flags if oddity is not None]
        into.found += bool(causes)
        into.named += series.kind in causes
    origin: tuple[float, float] | None = None
    for number, each in enumerate(placed):
        untold = series.kind == "replaced or set back" and number >= (series.at or 0)
        if number not in near and not untold:
            into.sound += 1
            into.flagged += each.oddity is not None
            into.held += each.distance is None
        if each.distance is not None and number not in near and "replaced" not in str(series.kind):
            if origin is None:
                origin = (each.distance, series.places[number])
                continue
            run, true = each.distance - origin[0], series.places[number] - origin[1]
            into.given += 1
            into.off += abs(run - true) > max(0.05 * true, 2.0)


def kinds(seeds: Sequence[int], each: int) -> Iterator[tuple[str, Score]]:
    """Score every kind of fault, and as many sound series."""
    for number, kind in enumerate((*KINDS, "sound")):
        into = Score()
        for seed in seeds:
            chance = Random(1_000 * seed + number)
            for _ in range(each):
                score(sound(chance) if kind == "sound" else faulty(chance, kind), into)
        yield kind, into
