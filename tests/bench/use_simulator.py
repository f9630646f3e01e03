"""Cars that are driven day by day, and dials that are read: what the forecast is tried on.

Written from published means (NHTS 2017; FBHVC and FIVA surveys of historic vehicles; as restated)
and from what is known of cars and their owners; the spreads are assumptions. Every car is
invented. It knows nothing of the forecast: no constant and no formula is shared with it.

Ten ways of using a car, each a rule for one day; on top of them years that go better or worse,
holidays, repairs that take months, cars that are put away and brought back, owners that change.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import exp, floor, log
from random import Random

START = date(2003, 1, 1).toordinal()
KM = 1.609344
WAYS = (
    "commuter",
    "second car",
    "light",
    "work van",
    "good months",
    "fair weather",
    "touring",
    "show car",
    "weekend",
    "stored",
)
WORDS = {  # what an owner would rightly say
    "commuter": "daily",
    "second car": "daily",
    "light": "occasional",
    "work van": "daily",
    "good months": "seasonal",
    "fair weather": "seasonal",
    "touring": "occasional",
    "show car": "occasional",
    "weekend": "occasional",
    "stored": "stored",
}
SHARES = (0.09, 0.09, 0.11, 0.03, 0.14, 0.22, 0.10, 0.07, 0.07, 0.08)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A car with its readings, the question, and the answer.

    `line` is a line of `reckon forecast` without its id. `truth` is the number of days from the
    last reading to the first morning on which the distance is reached, cut at `limit`.
    """

    way: str
    line: dict[str, object]
    readings: tuple[tuple[date, float], ...]
    truth: int
    limit: int


class Car:
    """A car and its owner. `drive` gives the miles of the next day."""

    def __init__(self, chance: Random, way: str) -> None:
        self._chance = chance
        self._year = 0
        self._standing_until = 0
        self._tours: list[tuple[int, int, float]] = []
        self._settle_down(way)

    def _settle_down(self, way: str) -> None:
        chance = self._chance
        self.way = way
        self._scale = min(exp(chance.gauss(0, 0.45)), 2.2)
        self._restless = (
            abs(chance.gauss(0.12, 0.1)) if way in WAYS[:4] else 0.15 + 0.35 * chance.random()
        )
        self._commute = 8 + 30 * chance.betavariate(1.3, 3)
        self._opens = 80 + chance.randrange(45)  # when the roads are dry and free of salt
        self._closes = 275 + chance.randrange(45)
        self._laid_by = way == "stored" and chance.random() < 0.6

    def _new_year(self, today: int, year: int) -> None:
        chance = self._chance
        self._year = year
        if chance.random() < 0.05:  # another owner, another job, retirement
            if chance.random() < 0.5:
                self._settle_down(chance.choices(WAYS, SHARES)[0])
            else:
                self._scale *= chance.choice((0.35, 0.5, 0.6, 1.6, 2.2))
        if self.way == "stored" and chance.random() < 0.15:  # found, mended and driven again
            self._settle_down(chance.choice(("fair weather", "light", "good months")))
        self._mood = exp(chance.gauss(0, self._restless))
        if chance.random() < (0.03 if self.way in WAYS[:4] else 0.08):  # a repair, a missing part
            begins = today + chance.randrange(365)
            self._repair = (begins, begins + floor(30 * exp(chance.gauss(1.3, 0.9))))
        else:
            self._repair = (0, 0)
        first = date(year, 1, 1).toordinal()
        self._tours = []
        if self.way in ("commuter", "second car", "good months") and chance.random() < 0.5:
            begins = first + 160 + chance.randrange(80)
            self._tours.append((begins, begins + 14, chance.choice((0.0, 0.0, 60.0, 110.0))))
        if self.way == "touring":
            for _ in range(chance.choice((0, 1, 1, 2, 2, 3))):
                begins = first + 110 + chance.randrange(160)
                self._tours.append(
                    (begins, begins + 2 + chance.randrange(9), 90 + 120 * chance.random())
                )

    def drive(self, today: int) -> float:
        """Give the miles of a day; days must be asked for in order."""
        chance = self._chance
        this = date.fromordinal(today)
        if this.year != self._year:
            self._new_year(today, this.year)
        if self._repair[0] <= today < self._repair[1]:
            return 0.0
        for begins, ends, miles in self._tours:
            if begins <= today < ends:
                return miles * (0.5 + chance.random())
        return self._usual(today, this) * self._scale * self._mood

    def _usual(self, today: int, this: date) -> float:
        chance = self._chance
        weekday = today % 7  # 0 is Sunday
        of_year = today - date(this.year, 1, 1).toordinal()
        in_season = self._opens <= of_year <= self._closes
        rolled = chance.random()
        match self.way:
            case "commuter":
                if 1 <= weekday <= 5:
                    return self._commute * (0.9 + 0.2 * chance.random()) if rolled < 0.9 else 4.0
                return 22 * -log(1 - chance.random()) if rolled < 0.6 else 0.0
            case "second car":
                return 1 + 17 * -log(1 - chance.random()) if rolled < 0.72 else 0.0
            case "light":
                if rolled < 0.012:
                    return 60 + 90 * chance.random()
                return 2 + 9 * -log(1 - chance.random()) if rolled < 0.4 else 0.0
            case "work van":
                return 25 + 45 * chance.random() if weekday and rolled < 0.9 else 0.0
            case "good months":
                if in_season:
                    return 3 + 17 * -log(1 - chance.random()) if rolled < 0.6 else 0.0
                return 5 + 10 * chance.random() if rolled < 0.02 else 0.0
            case "fair weather":
                if in_season and weekday in (0, 6):
                    return 15 + 55 * -log(1 - chance.random()) if rolled < 0.22 else 0.0
                return 10 + 25 * chance.random() if rolled < (0.03 if in_season else 0.002) else 0.0
            case "touring":
                return 6 + 20 * -log(1 - chance.random()) if in_season and rolled < 0.12 else 0.0
            case "show car":
                return (
                    4 + 30 * chance.random() if in_season and weekday == 0 and rolled < 0.3 else 0.0
                )
            case "weekend":
                if weekday in (0, 6):
                    return 6 + 28 * -log(1 - chance.random()) if rolled < 0.5 else 0.0
                return 10.0 if rolled < 0.05 else 0.0
            case _:
                if self._laid_by:
                    return 0.0
                return 1 + 5 * chance.random() if rolled < 0.01 else 0.0


def gaps(chance: Random, count: int) -> Sequence[int]:
    """Give the days between that many readings: regular, irregular, clustered or rare."""
    span = (
        chance.choice((20, 30, 60, 91, 182, 365)) if count < 10 else chance.choice((7, 30, 45, 91))
    )
    match chance.choice(("regular", "irregular", "clustered", "rare")):
        case "regular":
            return [max(1, floor(span + chance.gauss(0, span / 15))) for _ in range(count - 1)]
        case "irregular":
            return [1 + floor(span * -log(1 - chance.random())) for _ in range(count - 1)]
        case "clustered":
            return [
                1 + chance.randrange(12) if chance.random() < 0.6 else 60 + chance.randrange(500)
                for _ in range(count - 1)
            ]
        case _:
            rare = (200, 900) if count < 10 else (60, 300)
            return [rare[0] + chance.randrange(rare[1] - rare[0]) for _ in range(count - 1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """A car that was driven and read. `places` are the true miles at each reading."""

    car: Car
    days: tuple[int, ...]
    places: tuple[float, ...]
    first_place: float
    digits: int
    tenths: bool
    unit: str

    def shown(self, place: float) -> float:
        """Give what the dial shows at a true place in miles."""
        figure = place * (KM if self.unit == "km" else 1.0)
        steps = 10 if self.tenths else 1
        return floor(figure % float(10**self.digits) * steps + 1e-9) / steps


def history(chance: Random, way: str, count: int) -> History:
    """Drive a car of a way of use past that many readings."""
    car = Car(chance, way)
    day = START + chance.randrange(8 * 365)
    for warm in range(day - 200 * (way == "touring"), day):
        car.drive(warm)
    digits = 5 if chance.random() < 0.6 else 6
    place = chance.random() * (99_000 if digits == 5 else 160_000)
    first_place = place
    days, places = [day], [place]
    for gap in gaps(chance, count):
        for each in range(day, day + gap):
            place += car.drive(each)
        day += gap
        days.append(day)
        places.append(place)
    return History(
        car=car,
        days=tuple(days),
        places=tuple(places),
        first_place=first_place,
        digits=digits,
        tenths=chance.random() < 0.4,
        unit="km" if chance.random() < 0.35 else "mi",
    )


def case(chance: Random) -> Case:
    """Make one car, its readings and a question, and drive on until the question is answered."""
    way = chance.choices(WAYS, SHARES)[0]
    count = chance.choice((1, 2, 3, 4, 5, 7, 10, 30))
    made = history(chance, way, count)
    scale = KM if made.unit == "km" else 1.0
    last = made.days[-1]
    wait = floor(90 * -log(1 - chance.random()))
    asof = last + wait
    limit = wait + 3650
    driven = [made.car.drive(each) for each in range(last, last + 60)]
    if chance.random() < 0.5:
        to_go = exp(log(60) + log(80) * chance.random())
    else:  # what is left of an interval suits the car: due in a month to two years
        a_year = max(sum(driven) * 6, (made.places[-1] - made.first_place) / 3, 200.0)
        to_go = a_year * exp(log(0.08) + log(25) * chance.random())
    run, days = 0.0, 0
    while run < to_go and days < limit:
        run += driven[days] if days < 60 else made.car.drive(last + days)
        days += 1
    said = chance.random()
    usage: str | None = WORDS[way]
    if said < 0.35:
        usage = None
    elif said < 0.45:
        usage = chance.choice(("daily", "seasonal", "occasional", "stored"))
    read = tuple(
        (date.fromordinal(day), made.shown(place))
        for day, place in zip(made.days, made.places, strict=True)
    )
    born = read[0][0].year - chance.choice((2, 6, 10, 15, 25, 30, 40, 50, 60))
    line: dict[str, object] = {
        "asof": date.fromordinal(asof).isoformat(),
        "first_use_year": None if chance.random() < 0.2 else born,
        "unit": made.unit,
        "odometer": {"digits": made.digits, "tenths": made.tenths},
        "usage": usage,
        "readings": [[on.isoformat(), figure] for on, figure in read],
        "events": [],
        "after_last": round(to_go * scale, 1),
    }
    return Case(way=way, line=line, readings=read, truth=days, limit=limit)


def cases(seeds: Sequence[int], each: int) -> Sequence[Case]:
    """Make that many cases of each seed."""
    return [case(chance) for seed in seeds for chance in [Random(seed)] for _ in range(each)]
