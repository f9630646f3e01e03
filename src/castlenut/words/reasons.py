"""Reasons against a move of a wheel in sentences, each with what would lift it."""

from collections.abc import Iterable, Sequence

from castlenut.domain.measures import MM
from castlenut.domain.place import Spot
from castlenut.domain.tires.advice import (
    Advice,
    AxleUneven,
    CheckTube,
    DepthOld,
    NotAsStated,
    OffItsRims,
    RoadTireOld,
    TreadsApart,
)
from castlenut.domain.tires.axle import side_of
from castlenut.domain.tires.reasons import (
    Answer,
    AxleNotKnown,
    Code,
    DepthNotKnown,
    Differs,
    IsTemporary,
    LessThanNow,
    NothingThere,
    OwnNotKnown,
    PairDiffers,
    PairUneven,
    RanOtherSide,
    Reason,
    SpareStays,
    TooDeepOrThin,
    TooLittle,
    TooOld,
    TurnsOtherWay,
    WornOut,
)
from castlenut.domain.tires.rotation.tread import Odd, SetAside
from castlenut.words import depth, figures

_PLURAL = {"radial": "radials", "bias": "bias tires", "bias belted": "bias belted tires"}
_UNITS = {Code.RIM_WIDTH: " in", Code.RIM_DIAMETER: " in", Code.OFFSET: " mm"}
_OF_WHEEL = frozenset(_UNITS)


def sentence(reason: Reason) -> str:
    """Say one reason against a move."""
    tire, to = _named(reason), reason.to.value
    match reason.detail:
        case IsTemporary(at=at):
            if at is Spot.SP:
                return "The spare at SP is a temporary one and may not join the rotation."
            return f"{tire} at {at.value} is a temporary spare and may not join the rotation."
        case Differs() as differs:
            return _differs(reason, differs)
        case OwnNotKnown():
            return _own_not_known(reason)
        case AxleNotKnown() as axle:
            return _axle_not_known(reason, axle)
        case TurnsOtherWay(turns=turns):
            side = side_of(reason.to).value
            return f"{tire} turns for the {turns.value} side; {to} is on the {side}."
        case RanOtherSide(ran=ran):
            return (
                f"{tire} is studded and has run on the {ran.value}; crossing would loosen the"
                " studs."
            )
        case TooLittle(axle=axle, has=has, mark=mark, need=need):
            if reason.code is Code.LOAD:
                return f"{tire} carries {has:g} kg ({mark}); a {axle.value} tire needs {need:g} kg."
            return f"{tire} is good to {has:g} km/h ({mark}); the car needs {need:g}."
        case LessThanNow(axle=axle, has=has, mark=mark, least=least):
            if reason.code is Code.LOAD:
                return (
                    f"{tire} carries {has:g} kg ({mark}), less than the {least:g} kg now on the"
                    f" {axle.value} axle; what a {axle.value} tire needs is not known."
                )
            return (
                f"{tire} is good to {has:g} km/h ({mark}), less than the {least:g} now on the"
                f" {axle.value} axle; what the car needs is not known."
            )
        case WornOut(depth_mm=left, limit_mm=limit):
            return f"{_subject(reason)} has {_mm(left)} mm, limit {_mm(limit)}."
        case TooOld(years=years, limit_years=limit):
            return f"{_subject(reason)} is {years:g} years old, limit {limit:g}."
        case TooDeepOrThin(other=other, deeper_by_mm=deeper, limit_mm=limit):
            word = "deeper" if deeper > 0 else "thinner"
            return (
                f"The spare is {_mm(abs(deeper))} mm {word} than {other}; all-wheel drive allows"
                f" {_mm(limit)}."
            )
        case DepthNotKnown(tires=tires):
            return f"The depth of {_listed(tires)} is not known."
        case SpareStays():
            if reason.answer is Answer.NO:
                return "SP holds a spare that may not go on the road."
            return "Whether the spare at SP may go on the road is not known."
        case PairDiffers(other=other, code=code, has=has, others=others):
            return f"{tire} beside {other} at {to}: {code.value} {has} and {others} do not pair."
        case PairUneven(other=other, difference_mm=difference, limit_mm=limit):
            return (
                f"{tire} beside {other} would differ by {_mm(difference)} mm of diameter; a pair"
                f" may by {_mm(limit)}."
            )
        case NothingThere(at=at):
            return "There is no spare." if at is Spot.SP else f"There is no wheel at {at.value}."


def lift(reason: Reason) -> str:
    """Say what would lift a reason."""
    match reason.detail:
        case AxleNotKnown(missing=(), differing=differing) if differing:
            return "two alike on that axle, or what it takes stated"
        case OwnNotKnown() | AxleNotKnown() | DepthNotKnown():
            return f"the missing figure: {_asked(reason)}"
        case LessThanNow():
            return "the need looked up"
        case _:
            return _LIFTS[reason.code]


def advised(advice: Advice, *, depth_unit: str = MM) -> str:
    """Say what stands beside the verdicts and blocks nothing; depths in the unit of the garage."""
    match advice:
        case AxleUneven(axle=axle, code=code):
            return f"The two tires of the {axle.value} axle differ in {code.value}."
        case NotAsStated(axle=axle, carries=carries, stated=stated):
            return (
                f"The car carries another size than stated: {_listed(carries)} on the"
                f" {axle.value} axle, stated {stated}."
            )
        case RoadTireOld(tire=tire, years=years, limit_years=limit):
            return f"{tire} is {years:g} years old; {limit:g} was asked for (advice only)."
        case TreadsApart(difference_mm=difference, limit_mm=limit):
            return (
                f"The road tires differ by {_deep(difference, depth_unit)} of tread; all-wheel"
                f" drive allows {_deep(limit, depth_unit).removesuffix(' mm')}."
            )
        case OffItsRims(tire=tire, rim_width_in=rim, takes=takes):
            return (
                f"Off its rim {tire} would stand on a rim of {rim:g} in; its size goes on"
                f" {takes.least_in:g} to {takes.most_in:g} in ({takes.trust.value})."
            )
        case DepthOld(tires=tires, ago=ago, unit=unit, on=on):
            were, them = ("was", "it") if len(tires) == 1 else ("were", "them")
            return (
                f"{_listed(tires)} {were} measured {figures.decimals(ago)} {unit.value} ago, on"
                f" {figures.day(on)}: measure {them} again."
            )
        case CheckTube(tire=tire):
            return (
                f"{tire} is a radial on a spoked rim: check that rim and tube are marked for it"
                " (from memory)."
            )


def off_rim(tires: tuple[str, ...]) -> str:
    """Say which tires taken off their rims would lift all reasons of a pattern."""
    count = f"{len(tires)} tire{'' if len(tires) == 1 else 's'} off the rim"
    return f"lifted by: {_listed(tires)} turned round or mounted on the other wheels ({count})"


def telling(found: Iterable[Reason]) -> tuple[Reason, ...]:
    """Leave out what another says as well.

    That a wheel's own figure is not known is said already by what its axle is missing.
    """
    reasons = tuple(found)
    missing = {
        (reason.code, tire)
        for reason in reasons
        if isinstance(reason.detail, AxleNotKnown)
        for tire in reason.detail.missing
    }
    return tuple(
        reason
        for reason in reasons
        if not (isinstance(reason.detail, OwnNotKnown) and (reason.code, reason.tire) in missing)
    )


def none_possible(against: Sequence[Reason]) -> str:
    """Say that no pattern is left, with the reasons against the usual one.

    What is not known is told only where nothing is a plain no: asking for it would lift nothing.
    """
    noes = [reason for reason in against if reason.answer is Answer.NO]
    told = list(dict.fromkeys(sentence(each).rstrip(".") for each in noes)) or _missing(against)
    return f"rotation: none possible, because {'; '.join(told)}."


def _missing(found: Iterable[Reason]) -> list[str]:
    """Say what is not known, each figure once with all the tires that it is missing of."""
    tires: dict[str, dict[str, None]] = {}
    whole: dict[str, None] = {}
    for reason in found:
        name = _NAMES.get(reason.code, reason.code.value)
        match reason.detail:
            case OwnNotKnown():
                tires.setdefault(name, {})[_named(reason)] = None
            case AxleNotKnown(missing=missing) if missing:
                tires.setdefault(name, {}).update(dict.fromkeys(missing))
            case DepthNotKnown(tires=names):
                tires.setdefault("depth", {}).update(dict.fromkeys(names))
            case _:
                whole[sentence(reason).rstrip(".")] = None
    figures_missing = [
        f"the {name} of {_listed(tuple(sorted(names, key=_in_walking_order)))} is not known"
        for name, names in tires.items()
    ]
    return [*figures_missing, *whole]


def _in_walking_order(tire: str) -> tuple[int, str]:
    """Give the order of a tire named by its place; others come in that of their names."""
    places = [spot.value for spot in Spot]
    return (places.index(tire) if tire in places else len(places), tire)


def set_aside(odd: SetAside) -> str:
    """Say why a pair of measurements is left out, with what it is likely to be."""
    drop = odd.pair.drop_mm
    match odd.why:
        case Odd.GREW:
            return (
                f"The tread grew by {_mm(-drop)} mm: the wrong place, a new tire not entered, or"
                " inches for mm."
            )
        case Odd.WORE_STANDING:
            return (
                f"The tread changed by {_mm(drop)} mm without running: the wrong place, or an"
                " exchange not recorded."
            )
        case Odd.OFF:
            return (
                f"A wear of {_mm(drop)} mm does not fit the other measurements: the wrong place,"
                " an exchange not recorded, a new tire not entered, or inches for mm."
            )


_LIFTS = {
    Code.TEMPORARY: "a full-size spare like the others",
    Code.SIZE: "one size all round",
    Code.CONSTRUCTION: "one construction all round",
    Code.RIM_WIDTH: "same wheels, or the tire mounted on this axle's wheels (off the rim)",
    Code.RIM_DIAMETER: "same wheels, or the tire mounted on this axle's wheels (off the rim)",
    Code.OFFSET: "same wheels, or the tire mounted on this axle's wheels (off the rim)",
    Code.DIRECTION: "turned round on its wheel (off the rim), it turns the other way",
    Code.WORN_IN: "nothing in its life as studded; front to rear stays open",
    Code.LOAD: "a higher load index, or the need looked up",
    Code.SPEED: "a faster symbol, or the need looked up",
    Code.WORN: "a new tire",
    Code.AGE: "a younger tire",
    Code.TREAD_DIFFERENCE: "matching depths",
    Code.SPARE: "what lifts the reasons against the spare",
    Code.PAIR: "two alike side by side",
    Code.FRONT_TREAD: "one tread and service all round",
    Code.PLACE: "a wheel there like the others",
}

_ASKED = {
    Code.SIZE: "the size on the sidewall",
    Code.CONSTRUCTION: "radial or bias, from the sidewall",
    Code.RIM_WIDTH: "the rim width, stamped on the wheel",
    Code.RIM_DIAMETER: "the rim diameter, stamped on the wheel",
    Code.OFFSET: "the offset, stamped on the wheel or measured",
    Code.DIRECTION: "the tread, and which side its arrow turns for",
    Code.WORN_IN: "the side it has run on",
    Code.LOAD: "the load index, or what a tire must carry",
    Code.SPEED: "the speed symbol, or what the car needs",
    Code.WORN: "the depth measured",
    Code.AGE: "the age, from the TIN",
    Code.TREAD_DIFFERENCE: "the depths measured",
    Code.SPARE: "what is asked for the spare",
    Code.PAIR: "the depth measured",
    Code.FRONT_TREAD: "tread, load index and speed symbol of front and rear",
}

_NAMES = {
    Code.DIRECTION: "tread or direction",
    Code.WORN_IN: "side run on",
    Code.LOAD: "load index",
    Code.SPEED: "speed symbol",
    Code.FRONT_TREAD: "tread or service",
}


def _named(reason: Reason) -> str:
    return reason.tire if reason.tire is not None else reason.start.value


def _subject(reason: Reason) -> str:
    return "The spare" if reason.start is Spot.SP else _named(reason)


def _asked(reason: Reason) -> str:
    return _ASKED.get(reason.code, reason.code.value)


def _differs(reason: Reason, differs: Differs) -> str:
    axle, tire = differs.axle.value, _named(reason)
    if reason.code is Code.SIZE:
        return f"{reason.start.value} carries {differs.has}; the {axle} axle takes {differs.takes}."
    if reason.code is Code.CONSTRUCTION:
        takes = _PLURAL.get(str(differs.takes), str(differs.takes))
        return f"{tire} is {differs.has}; the {axle} axle carries {takes}."
    if reason.code is Code.FRONT_TREAD:
        return f"{tire} is {differs.has}; the {axle} axle has {differs.takes}, and they do not mix."
    unit = _UNITS[reason.code]
    has, takes = _figure(differs.has), _figure(differs.takes)
    return f"Wheel {tire} has {reason.code.value} {has}{unit}; the {axle} takes {takes}{unit}."


def _own_not_known(reason: Reason) -> str:
    name = _NAMES.get(reason.code, reason.code.value)
    whose = f"wheel {_named(reason)}" if reason.code in _OF_WHEEL else _named(reason)
    at = "" if reason.tire == reason.start.value else f" at {reason.start.value}"
    return f"The {name} of {whose}{at} is not known."


def _axle_not_known(reason: Reason, axle: AxleNotKnown) -> str:
    name = _NAMES.get(reason.code, reason.code.value)
    if axle.missing:
        return (
            f"What {name} the {axle.axle.value} axle takes is not known: that of"
            f" {_listed(axle.missing)} is missing."
        )
    if axle.differing:
        return (
            f"What {name} the {axle.axle.value} axle takes is not known: {_listed(axle.differing)}"
            " differ."
        )
    return f"What {name} the {axle.axle.value} axle takes is not known."


def _figure(value: str | float) -> str:
    return value if isinstance(value, str) else f"{value:g}"


def _mm(value: float) -> str:
    return f"{round(value, 2):g}"


def _deep(depth_mm: float, unit: str) -> str:
    """Give a depth to the hundredth: what is just over a limit must not read like it."""
    if unit == MM:
        return f"{_mm(depth_mm)} mm"
    return f"{_mm(depth_mm / depth.MM_PER_THIRTY_SECOND)}/32"


def _listed(names: tuple[str, ...]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
