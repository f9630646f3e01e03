"""Which wheel may go where, and which patterns are left: every reason against every move."""

from collections.abc import Callable, Iterator

from castlenut.domain.frozen import dataclass
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import (
    SLACK_MM,
    TRAITS,
    Assembly,
    AxleNeeds,
    CarWheels,
    Trait,
    Tread,
)
from castlenut.domain.tires.axle import Axle, axle_of, side_of
from castlenut.domain.tires.duals import against_duals
from castlenut.domain.tires.reasons import (
    Answer,
    AxleNotKnown,
    Code,
    DepthNotKnown,
    Differs,
    Found,
    IsTemporary,
    LessThanNow,
    NothingThere,
    OwnNotKnown,
    RanOtherSide,
    Reason,
    SpareStays,
    TooDeepOrThin,
    TooLittle,
    TooOld,
    TurnsOtherWay,
    WornOut,
    answer_to,
)
from castlenut.domain.tires.rotation.moves import MOVES, Pattern
from castlenut.domain.tires.service import LOAD_KG, SPEED_KMH
from castlenut.domain.vehicle import Drive


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Whether one wheel may go to one place, with every reason against it."""

    tire: str
    start: Spot
    to: Spot
    answer: Answer
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternVerdict:
    """Whether a pattern may be done, with every reason against each of its moves.

    `off_rim` are the tires that would have to come off their rims to lift all of it; none where
    that does not lift it.
    """

    pattern: Pattern
    answer: Answer
    reasons: tuple[Reason, ...]
    off_rim: tuple[str, ...]


def verdicts(wheels: CarWheels) -> tuple[Verdict, ...]:
    """Judge every wheel against every place but its own; places are those where wheels stand.

    Staying is never judged and never a move.
    """
    return tuple(
        verdict(wheels, assembly, other.at)
        for assembly in wheels.assemblies
        for other in wheels.assemblies
        if other is not assembly
    )


def verdict(wheels: CarWheels, assembly: Assembly, to: Spot) -> Verdict:
    """Judge one wheel going to one place."""
    reasons = _reasons(wheels, assembly, to)
    return Verdict(
        tire=assembly.id,
        start=assembly.at,
        to=to,
        answer=answer_to(reasons),
        reasons=reasons,
    )


def pattern_verdicts(wheels: CarWheels) -> tuple[PatternVerdict, ...]:
    """Judge all seven patterns. The drive makes none illegal."""
    return tuple(pattern_verdict(wheels, pattern) for pattern in Pattern)


def may_stand(wheels: CarWheels, assembly: Assembly, at: Spot) -> bool:
    """Tell whether a wheel may stand at a place: it stands there now, or may go there."""
    return assembly.at is at or verdict(wheels, assembly, at).answer is Answer.YES


def spare_joins(wheels: CarWheels) -> bool:
    """Tell whether there is a spare with at least one place on the road to go to."""
    spare = wheels.at(Spot.SP)
    return spare is not None and any(
        verdict(wheels, spare, road.at).answer is Answer.YES for road in wheels.road
    )


def pattern_verdict(wheels: CarWheels, pattern: Pattern) -> PatternVerdict:
    """Judge one pattern."""
    reasons: list[Reason] = []
    for start, to in MOVES[pattern].items():
        assembly = wheels.at(start)
        if assembly is not None:
            reasons.extend(_reasons(wheels, assembly, to))
        else:
            reasons.append(
                Reason(
                    code=Code.PLACE,
                    answer=Answer.NO,
                    tire=None,
                    start=start,
                    to=to,
                    detail=NothingThere(at=start),
                )
            )
    return PatternVerdict(
        pattern=pattern,
        answer=answer_to(tuple(reasons)),
        reasons=tuple(reasons),
        off_rim=_off_rim(reasons),
    )


def _off_rim(reasons: list[Reason]) -> tuple[str, ...]:
    """Give the tires to take off their rims where that lifts every reason, else none.

    A tire is turned round on its wheel, or mounted on the wheels of the other axle. Size and
    construction stay, so they must be right. That the spare stays out falls with its own reasons.
    """
    lifted = {Code.DIRECTION, Code.RIM_WIDTH, Code.RIM_DIAMETER, Code.OFFSET}
    own = [reason for reason in reasons if reason.code is not Code.SPARE]
    if not all(reason.answer is Answer.NO and reason.code in lifted for reason in own):
        return ()
    return tuple(dict.fromkeys(reason.tire for reason in own if reason.tire is not None))


def _reasons(wheels: CarWheels, assembly: Assembly, to: Spot) -> tuple[Reason, ...]:
    found = _to_spare(wheels) if to is Spot.SP else _to_road(wheels, assembly, to)
    return tuple(
        Reason(
            code=code,
            answer=answer,
            tire=assembly.id,
            start=assembly.at,
            to=to,
            detail=detail,
        )
        for code, answer, detail in found
    )


def _to_spare(wheels: CarWheels) -> Iterator[Found]:
    spare = wheels.at(Spot.SP)
    if spare is None:
        return
    answers = {verdict(wheels, spare, road.at).answer for road in wheels.road}
    if Answer.YES not in answers:
        answer = Answer.NOT_KNOWN if Answer.NOT_KNOWN in answers else Answer.NO
        yield Code.SPARE, answer, SpareStays()


def _to_road(wheels: CarWheels, assembly: Assembly, to: Spot) -> Iterator[Found]:
    axle = axle_of(to)
    if assembly.is_temporary:
        yield Code.TEMPORARY, Answer.NO, IsTemporary(at=assembly.at)
    for code, trait in TRAITS:
        yield from _trait(wheels, assembly, axle, code, trait)
    yield from _direction(assembly, to)
    yield from _worn_in(assembly, to)
    needs = wheels.needs(axle)
    yield from _capacity(wheels, assembly, axle, Code.LOAD, _load, needs.need_kg)
    yield from _capacity(wheels, assembly, axle, Code.SPEED, _speed, needs.need_kmh)
    depth = assembly.thinnest_mm
    if depth is None:
        yield Code.WORN, Answer.NOT_KNOWN, DepthNotKnown(tires=(assembly.id,))
    elif depth <= (limit := wheels.limit_on(axle)) + SLACK_MM:
        yield Code.WORN, Answer.NO, WornOut(depth_mm=depth, limit_mm=limit)
    if assembly.at is Spot.SP:
        yield from _from_spare(wheels, assembly)
    if wheels.has_duals:
        yield from against_duals(wheels, assembly, to)


def _trait(
    wheels: CarWheels,
    assembly: Assembly,
    axle: Axle,
    code: Code,
    trait: Callable[[Assembly | AxleNeeds], Trait],
) -> Iterator[Found]:
    """Hold one figure against what the axle takes: what is stated, else what its tires share."""
    has = trait(assembly)
    if has is None:
        yield code, Answer.NOT_KNOWN, OwnNotKnown()
    takes = trait(wheels.needs(axle))
    if takes is None:
        now = wheels.on(axle)
        values = {trait(each) for each in now}
        if len(values) != 1 or None in values:
            yield (
                code,
                Answer.NOT_KNOWN,
                AxleNotKnown(
                    axle=axle,
                    missing=tuple(each.id for each in now if trait(each) is None),
                    differing=tuple(each.id for each in now if trait(each) is not None),
                ),
            )
            return
        takes = values.pop()
    if has is not None and takes is not None and has != takes:
        yield code, Answer.NO, Differs(axle=axle, has=has, takes=takes)


def _direction(assembly: Assembly, to: Spot) -> Iterator[Found]:
    """Judge the way it would turn; an asymmetric tire keeps its outside out on either side."""
    if assembly.tread is None:
        yield Code.DIRECTION, Answer.NOT_KNOWN, OwnNotKnown()
    elif assembly.tread is Tread.DIRECTIONAL:
        if assembly.turns is None:
            yield Code.DIRECTION, Answer.NOT_KNOWN, OwnNotKnown()
        elif assembly.turns is not side_of(to):
            yield Code.DIRECTION, Answer.NO, TurnsOtherWay(turns=assembly.turns)


def _worn_in(assembly: Assembly, to: Spot) -> Iterator[Found]:
    """Keep studs on the side they have run on (from memory): at the spare's place, `turns`."""
    if not assembly.is_studded:
        return
    ran = assembly.turns if assembly.at is Spot.SP else side_of(assembly.at)
    if ran is None:
        yield Code.WORN_IN, Answer.NOT_KNOWN, OwnNotKnown()
    elif ran is not side_of(to):
        yield Code.WORN_IN, Answer.NO, RanOtherSide(ran=ran)


def _load(assembly: Assembly) -> tuple[float, str] | None:
    if assembly.load_index is None or assembly.load_index not in LOAD_KG:
        return None
    return LOAD_KG[assembly.load_index], str(assembly.load_index)


def _speed(assembly: Assembly) -> tuple[float, str] | None:
    """Give the speed of the symbol: symbols are never compared by letter (3.23)."""
    if assembly.speed_symbol is None or assembly.speed_symbol not in SPEED_KMH:
        return None
    return SPEED_KMH[assembly.speed_symbol], assembly.speed_symbol


def _capacity(
    wheels: CarWheels,
    assembly: Assembly,
    axle: Axle,
    code: Code,
    capacity: Callable[[Assembly], tuple[float, str] | None],
    need: float | None,
) -> Iterator[Found]:
    """Hold load or speed against the need, or without one against the least now on the axle."""
    own = capacity(assembly)
    if own is None:
        yield code, Answer.NOT_KNOWN, OwnNotKnown()
    if need is not None:
        if own is not None and own[0] < need:
            yield code, Answer.NO, TooLittle(axle=axle, has=own[0], mark=own[1], need=need)
        return
    now = [(each.id, capacity(each)) for each in wheels.on(axle)]
    missing = tuple(name for name, found in now if found is None)
    if missing or not now:
        yield code, Answer.NOT_KNOWN, AxleNotKnown(axle=axle, missing=missing, differing=())
        return
    least = min(found[0] for _, found in now if found is not None)
    if own is not None and own[0] < least:
        detail = LessThanNow(axle=axle, has=own[0], mark=own[1], least=least)
        yield code, Answer.NOT_KNOWN, detail


def _from_spare(wheels: CarWheels, spare: Assembly) -> Iterator[Found]:
    """Judge age, and on all-wheel drive how much deeper or thinner the spare is than the rest."""
    if wheels.max_age_years is not None:
        if spare.age_years is None:
            yield Code.AGE, Answer.NOT_KNOWN, OwnNotKnown()
        elif spare.age_years > wheels.max_age_years:
            too_old = TooOld(years=spare.age_years, limit_years=wheels.max_age_years)
            yield Code.AGE, Answer.NO, too_old
    if wheels.drive is not Drive.ALL:
        return
    depths = [(each.id, each.thinnest_mm) for each in (spare, *wheels.road)]
    missing = tuple(name for name, depth in depths if depth is None)
    if missing:
        yield Code.TREAD_DIFFERENCE, Answer.NOT_KNOWN, DepthNotKnown(tires=missing)
    own = spare.thinnest_mm
    differences = [
        (own - depth, name) for name, depth in depths if own is not None and depth is not None
    ]
    if not differences:
        return
    deeper_by, other = max(differences, key=lambda each: abs(each[0]))
    if abs(deeper_by) > wheels.max_difference_mm + SLACK_MM:
        detail = TooDeepOrThin(
            other=other, deeper_by_mm=deeper_by, limit_mm=wheels.max_difference_mm
        )
        yield Code.TREAD_DIFFERENCE, Answer.NO, detail
