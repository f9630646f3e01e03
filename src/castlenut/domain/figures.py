"""The car's own figures: torques, gaps, pressures, amounts, and the `spec` of a limit by measure.

A figure goes by the name of a measure, by one of the names below, or by any words of the trade; the
unit it may have follows from that name.
"""

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from castlenut.domain.car import OwnFigure
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.measures import IN, MEASURES, MM, THIRTY_SECOND, quantity
from castlenut.domain.naming import choose
from castlenut.domain.rules.rule import Figure, Rule
from castlenut.domain.vocabulary import our_words

STEERING_WHEEL = "steering_wheel_diameter"
RIM = "rim_diameter"
"""Names of the car's own figures that published tables go by."""

NO_UNIT = "-"
"""Written where a figure has no unit: a grade of oil, a ratio."""

LENGTHS = (IN, MM, THIRTY_SECOND)
TORQUES = ("ft-lb", "in-lb", "Nm")
PRESSURES = ("psi", "kPa", "bar")
AMOUNTS = ("qt", "pt", "gal", "oz", "l", "ml")
ANGLES = ("deg",)
SPEEDS = ("rpm",)

_UNITS_BY_WORD = {
    "torque": TORQUES,
    "pressure": PRESSURES,
    "gap": LENGTHS,
    "clearance": LENGTHS,
    "play": LENGTHS,
    "deflection": LENGTHS,
    "height": LENGTHS,
    "thickness": LENGTHS,
    "shim": LENGTHS,
    "diameter": LENGTHS,
    "timing": ANGLES,
    "dwell": ANGLES,
    "speed": SPEEDS,
    "amount": AMOUNTS,
    "capacity": AMOUNTS,
}
_WRITTEN = {
    "ftlb": "ft-lb",
    "ftlbs": "ft-lb",
    "lbft": "ft-lb",
    "lbsft": "ft-lb",
    "lbf-ft": "ft-lb",
    "footpounds": "ft-lb",
    "inlb": "in-lb",
    "inlbs": "in-lb",
    "lbin": "in-lb",
    "n-m": "Nm",
    "newtonmeters": "Nm",
    "lb/in2": "psi",
    "inch": IN,
    "inches": IN,
    '"': IN,
    "quart": "qt",
    "quarts": "qt",
    "pint": "pt",
    "pints": "pt",
    "gallon": "gal",
    "gallons": "gal",
    "ounces": "oz",
    "liter": "l",
    "liters": "l",
    "litre": "l",
    "litres": "l",
    "degree": "deg",
    "degrees": "deg",
    "°": "deg",
}
_NUMBER = r"[+-]?(\d+(\.\d+)?|\.\d+)"
_FRACTION = r"([+-]?)(?:(\d+)[- ])?(\d+)/(\d+)"
_RANGE = r"(\d+(\.\d+)?|\.\d+)\s*-\s*(\d+(\.\d+)?|\.\d+)"


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureRead:
    """A figure as it was typed, read."""

    name: str
    value: Decimal | str
    unit: str


def read_figure(name: str, value: str, unit: str) -> FigureRead:
    """Read a figure: its name, a number, a fraction, a range or words, and its unit.

    The figure of a measure has to be a number in a unit of that measure; it is kept as entered.

    Raises:
        BadInput: nothing is named, or the unit is none that such a figure is given in.
    """
    meant = figure_name(name)
    if meant in MEASURES:
        measure = MEASURES[meant]
        try:
            read = quantity(f"{value} {'' if unit == NO_UNIT else unit}".strip(), measure)
        except BadInput as bad:
            raise BadInput(
                *(Fault(each.what, "value", each.remedy) for each in bad.faults)
            ) from bad
        if len(read.values) != 1 or read.unit is None:
            raise BadInput(
                Fault(f"{value!r} is no figure of {measure.words}", "value", "give one number")
            )
        return FigureRead(name=meant, value=read.values[0], unit=read.unit)
    allowed = units_of(meant)
    found = _unit(unit)
    if allowed and found not in allowed:
        what = "has no unit" if found == NO_UNIT else f"cannot be in {unit}"
        raise BadInput(Fault(f"{meant} {what}", "unit", f"give it in {_either(allowed)}"))
    number = _number(value)
    if number is None and allowed and not re.fullmatch(_RANGE, value.strip()):
        raise BadInput(
            Fault(f"{value!r} is no {meant}", "value", "give a number, or two as 750-800")
        )
    return FigureRead(name=meant, value=value.strip() if number is None else number, unit=found)


def figure_name(text: str) -> str:
    """Give the name a figure is kept by: the measure meant by its words, else the words as typed.

    Raises:
        BadInput: nothing is named, or several measures begin so.
    """
    plain = " ".join(text.split())
    if not plain:
        raise BadInput(Fault("no figure is named", "figure", "as toe, or lug nut torque"))
    also = {measure.words: id_ for id_, measure in MEASURES.items()}
    names = (*MEASURES, STEERING_WHEEL, RIM)
    try:
        return choose(plain, names, what="figure", also=also)
    except BadInput as bad:
        if "may be" in bad.faults[0].what:
            raise
    return plain


def units_of(name: str) -> tuple[str, ...]:
    """Give the units a figure of this name may have; none: any, or no unit at all."""
    if name in MEASURES:
        return tuple(MEASURES[name].resolutions)
    words = evened(name).split()
    return next((_UNITS_BY_WORD[word] for word in reversed(words) if word in _UNITS_BY_WORD), ())


def figure_words(name: str) -> str:
    """Give the name of a figure as it is told: the words of its measure, else its own."""
    return MEASURES[name].words if name in MEASURES else name.replace("_", " ")


def same_figure(one: str, other: str) -> bool:
    """Tell whether two names mean the same figure."""
    return evened(one) == evened(other)


def serves(figure: OwnFigure, rules: Iterable[Rule]) -> Iterator[Rule]:
    """Give the rules that take a figure for a limit, as their `spec` or for want of a stamp."""
    for rule in rules:
        by_spec = any(names_spec(figure.name, spec) for spec in rule.specs)
        by_table = figure.name in {STEERING_WHEEL, RIM} and any(
            limit.value is Figure.TABLE for limit in rule.limits
        )
        if (
            by_spec
            or by_table
            or any(
                limit.value in {Figure.SPEC, Figure.STAMPED} and limit.measure == figure.name
                for limit in rule.limits
            )
        ):
            yield rule


@lru_cache(maxsize=4096)  # the same few names are asked for by every item of a car
def names_spec(name: str, spec: str) -> bool:
    """Tell whether a figure's name holds all words of a spec; `a|b` is either."""
    words = set(evened(name).split())
    return any(set(evened(each).split()) <= words for each in spec.split("|"))


def _unit(text: str) -> str:
    plain = "".join(text.split())
    if plain in {"", NO_UNIT}:
        return NO_UNIT
    lower = plain.lower()
    known = (*LENGTHS, *TORQUES, *PRESSURES, *AMOUNTS, *ANGLES, *SPEEDS)
    found = next((unit for unit in known if unit.lower() == lower), None)
    return found or _WRITTEN.get(lower) or _WRITTEN.get(lower.replace("-", "")) or text.strip()


def _number(text: str) -> Decimal | None:
    plain = text.strip()
    if re.fullmatch(_NUMBER, plain):
        return Decimal(plain)
    found = re.fullmatch(_FRACTION, plain)
    if found is None or int(found[4]) == 0:
        return None
    value = int(found[2] or 0) + Fraction(int(found[3]), int(found[4]))
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    if Fraction(exact) != value:
        return None
    return -exact if found[1] == "-" else exact


def _either(units: tuple[str, ...]) -> str:
    return units[0] if len(units) == 1 else f"{', '.join(units[:-1])} or {units[-1]}"


def evened(name: str) -> str:
    """Give a name without differences of case, hyphens, plural and the word a shop has for it."""
    return " ".join(word.removesuffix("s") for word in our_words(name).split())
