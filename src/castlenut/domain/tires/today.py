"""The tires of a car on a day: what stands where, what may move, and what is to be said of it."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from castlenut.domain.car import Car, as_of
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.ground import Ground, ground
from castlenut.domain.place import CORNERS, Spot
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.tires.advice import Advice, CheckTube, DepthOld, advice
from castlenut.domain.tires.amiss import Amiss, DriveNotKnown
from castlenut.domain.tires.assembly import CarWheels
from castlenut.domain.tires.changes import before_latest_change
from castlenut.domain.tires.depths import looks
from castlenut.domain.tires.exchanges import Exchange, MovesVerdict, exchange_moves, judged
from castlenut.domain.tires.in_force import TireRules, tire_rules
from castlenut.domain.tires.legality import (
    PatternVerdict,
    Verdict,
    pattern_verdict,
    pattern_verdicts,
    verdicts,
)
from castlenut.domain.tires.off import OffTheCar, off_the_car
from castlenut.domain.tires.reasons import Answer, Reason
from castlenut.domain.tires.rotation.moves import Pattern, usual
from castlenut.domain.tires.rotation.tread import (
    Look,
    WearRates,
    learned,
    pairs,
    rate_at,
    usual_rates,
)
from castlenut.domain.tires.size import Construction
from castlenut.domain.tires.speedometer import FactorOffered, factor_offered
from castlenut.domain.tires.standing import (
    OLD_READING_MI,
    Standing,
    seen_tires,
    standing,
    walk,
)
from castlenut.domain.units import Unit, convert
from castlenut.domain.vehicle import Drive
from castlenut.domain.wheels import Placement
from castlenut.domain.working import Step

_SPOKED = "wire"


@dataclass(frozen=True, slots=True, kw_only=True)
class TiresToday:
    """The tires of a car on a day. Distances are in the car's unit.

    `standing` has every place in walking order. Tires and wheels in `wheels` are named by the place
    they stand at now; None: no tire is on the car. `drive` None is not known, and judged as
    all-wheel drive. `interval` None: nothing says how often to rotate. `exchanges` are those of a
    car with dual wheels. `changed_since` holds what is blocked now and was not before the latest
    change of tires or wheels.
    """

    car: Car
    today: date
    unit: Unit
    drive: Drive | None
    rules: TireRules
    standing: tuple[Standing, ...]
    off: tuple[OffTheCar, ...]
    missing: tuple[Spot, ...]
    wheels: CarWheels | None
    verdicts: tuple[Verdict, ...]
    patterns: tuple[PatternVerdict, ...]
    exchanges: Mapping[Exchange, MovesVerdict]
    advice: tuple[Advice, ...]
    looks: tuple[Look, ...]
    wear: WearRates
    interval: float | None
    interval_steps: tuple[Step, ...]
    changed_since: tuple[PatternVerdict, ...]
    factor_offered: FactorOffered | None
    look_at: tuple[Amiss, ...]

    @property
    def driven(self) -> Drive:
        """Give the drive that wheels are judged by."""
        return self.drive or Drive.ALL

    @property
    def usual(self) -> Pattern:
        """Give the trade's pattern for the four wheels of this drive."""
        return usual(self.driven, with_spare=False)

    @property
    def left(self) -> tuple[PatternVerdict, ...]:
        """Give the patterns that may be done."""
        return tuple(each for each in self.patterns if each.answer is Answer.YES)

    @property
    def none_possible(self) -> tuple[Reason, ...]:
        """Give the reasons against the usual pattern where none is left; else nothing."""
        return _none_possible(self.wheels, self.patterns, self.exchanges)

    @property
    def rates(self) -> Mapping[Spot, float]:
        """Give the wear by road place, mm per 1,000 of distance."""
        return {
            each.spot: rate_at(self.wear.rates, each.spot)
            for each in self.standing
            if each.spot is not Spot.SP
        }

    def at(self, spot: Spot) -> Standing | None:
        """Give what stands at a place."""
        return next((each for each in self.standing if each.spot is spot), None)

    def verdict_on(self, pattern: Pattern) -> PatternVerdict | None:
        """Give the verdict on a pattern; None where no tire is on the car."""
        return next((each for each in self.patterns if each.pattern is pattern), None)


def tires_today(car: Car, book: RuleBook, *, today: date, south: bool = False) -> TiresToday:
    """Give the tires of a car on a day; records dated later are left out."""
    seen_car = as_of(car, today)
    rests_on = ground(seen_car, today=today, south=south)
    rules = tire_rules(rests_on, book)
    seen = seen_tires(seen_car, rests_on)
    stands, amiss = standing(seen_car, seen, rests_on, limit_mm=rules.limit_mm)
    drive, unit = seen_car.vehicle.drive, rests_on.unit
    wheels = _wheels(stands, rules, drive)
    patterns = () if wheels is None else pattern_verdicts(wheels)
    looked = looks(seen)
    rotation = rules.rotation
    return TiresToday(
        car=seen_car,
        today=today,
        unit=unit,
        drive=drive,
        rules=rules,
        standing=stands,
        off=off_the_car(seen_car, seen, rests_on),
        missing=tuple(
            spot
            for spot in walk(dual=seen_car.vehicle.dual)
            if spot is not Spot.SP and (wheels is None or wheels.at(spot) is None)
        ),
        wheels=wheels,
        verdicts=() if wheels is None else verdicts(wheels),
        patterns=patterns,
        exchanges=_exchanges(wheels),
        advice=_advice(wheels, patterns, stands, unit),
        looks=looked,
        wear=learned(usual_rates(drive or Drive.ALL, unit), pairs(looked)),
        interval=None if rotation is None else rotation.interval.distance,
        interval_steps=() if rotation is None else rotation.steps,
        changed_since=_changed_since(seen_car, rests_on, rules, patterns),
        factor_offered=factor_offered(seen_car),
        look_at=(
            *amiss,
            *rules.not_read,
            *((DriveNotKnown(),) if drive is None and wheels is not None else ()),
        ),
    )


def against_any_rotation(rests_on: Ground, book: RuleBook) -> tuple[Reason, ...]:
    """Give why no rotation is possible on a car, which is made ready already; else nothing."""
    car = rests_on.car
    rules = tire_rules(rests_on, book)
    stands, _ = standing(car, seen_tires(car, rests_on), rests_on, limit_mm=rules.limit_mm)
    wheels = _wheels(stands, rules, car.vehicle.drive)
    if wheels is None:
        return ()
    habit = pattern_verdict(wheels, usual(wheels.drive, with_spare=False))
    if habit.answer is Answer.YES:
        return ()  # so with nearly every car: the other six need not be judged
    return _none_possible(wheels, pattern_verdicts(wheels), _exchanges(wheels))


def _wheels(stands: Sequence[Standing], rules: TireRules, drive: Drive | None) -> CarWheels | None:
    assemblies = tuple(each.assembly for each in stands if each.assembly is not None)
    if not any(each.at is not Spot.SP for each in assemblies):
        return None
    return CarWheels(
        assemblies=assemblies,
        drive=drive or Drive.ALL,
        limit_mm=rules.limit_mm,
        front_limit_mm=rules.front_limit_mm,
        max_difference_mm=rules.max_difference_mm,
        front=rules.front,
        rear=rules.rear,
    )


def _exchanges(wheels: CarWheels | None) -> Mapping[Exchange, MovesVerdict]:
    if wheels is None or not wheels.has_duals:
        return {}
    return {each: judged(wheels, exchange_moves(each)) for each in Exchange}


def _none_possible(
    wheels: CarWheels | None,
    patterns: Sequence[PatternVerdict],
    exchanges: Mapping[Exchange, MovesVerdict],
) -> tuple[Reason, ...]:
    answers = [*(each.answer for each in patterns), *(each.answer for each in exchanges.values())]
    if wheels is None or Answer.YES in answers:
        return ()
    if exchanges:
        return exchanges[Exchange.INSIDE_OUT].reasons
    habit = usual(wheels.drive, with_spare=False)
    return next(each.reasons for each in patterns if each.pattern is habit)


def _advice(
    wheels: CarWheels | None,
    patterns: Sequence[PatternVerdict],
    stands: Sequence[Standing],
    unit: Unit,
) -> tuple[Advice, ...]:
    if wheels is None:
        return ()
    return (
        *advice(wheels, patterns),
        *_old_depths(stands, unit),
        *(
            CheckTube(tire=each.spot.value)
            for each in stands
            if each.construction is Construction.RADIAL
            and each.wheel is not None
            and each.wheel.type == _SPOKED
        ),
    )


def _old_depths(stands: Sequence[Standing], unit: Unit) -> Iterator[DepthOld]:
    """Say of road tires that were measured too far back, those of one time together."""
    old = convert(OLD_READING_MI, given=Unit.MI, wanted=unit)
    found: dict[tuple[date, float], list[str]] = {}
    for each in stands:
        on, ago = each.depths.on if each.depths else None, each.measured_ago
        if each.spot is not Spot.SP and on is not None and ago is not None and ago > old:
            found.setdefault((on, ago), []).append(each.spot.value)
    for (on, ago), tires in found.items():
        yield DepthOld(tires=tuple(tires), ago=ago, unit=unit, on=on)


def _changed_since(
    car: Car, rests_on: Ground, rules: TireRules, patterns: Sequence[PatternVerdict]
) -> tuple[PatternVerdict, ...]:
    """Give the patterns blocked now that were open before other tires or wheels came on."""
    blocked = [each for each in patterns if each.answer is not Answer.YES]
    # Both ways: a set may come on in several jobs of one day, and change again that very day.
    open_then = {
        pattern
        for by_job in (False, True)
        if blocked
        for pattern in _open_before(
            car, before_latest_change(car.placements, by_job=by_job), rests_on, rules
        )
    }
    return tuple(each for each in blocked if each.pattern in open_then)


def _open_before(
    car: Car, placements: Sequence[Placement], rests_on: Ground, rules: TireRules
) -> frozenset[Pattern]:
    """Give the patterns that could be done after these placements; none without a full set."""
    if not placements:
        return frozenset()
    then = replace(car, placements=tuple(placements))
    stood, _ = standing(then, seen_tires(then, rests_on), rests_on, limit_mm=rules.limit_mm)
    wheels = _wheels(stood, rules, car.vehicle.drive)
    if wheels is None or any(wheels.at(spot) is None for spot in CORNERS):
        return frozenset()
    return frozenset(each.pattern for each in pattern_verdicts(wheels) if each.answer is Answer.YES)
