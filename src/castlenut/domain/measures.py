"""What is measured: the units of each measure, what they tell apart, and reading it as typed."""

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, field
from castlenut.domain.happenings import Grade

IN = "in"
MM = "mm"
NEW = "new"
"""Under this name a part's stamped figures hold what it measured when new."""

THIRTY_SECOND = "1/32 in"

_PER_MM: Mapping[str, Fraction] = {
    MM: Fraction(1),
    IN: Fraction(254, 10),  # exact
    THIRTY_SECOND: Fraction(254, 320),
}
_WRITTEN: Mapping[str, str] = {
    '"': IN,
    "inch": IN,
    "inches": IN,
    "percent": "%",
    "sg": "gravity",
    "°c": "C",
    "°f": "F",
    "v": "V",
    "volt": "V",
    "volts": "V",
    "c": "C",
    "f": "F",
    "degrees": "deg",
    "°": "deg",
    "sec": "s",
    "seconds": "s",
}
_GROOVES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One quantity that is measured.

    `resolutions`: the units it may be given in, each with what its instrument can tell apart; the
    first is the usual one. `falls`: wear makes the figure smaller (True), larger (False), or it has
    to lie between two values (None). A `depth` without a unit is read in the garage's depth unit.
    """

    id: str
    words: str
    resolutions: Mapping[str, Decimal] = field(default_factory=dict)
    falls: bool | None
    is_depth: bool = False
    most_values: int = 1
    may_be_negative: bool = False

    @property
    def unit(self) -> str:
        """Give the unit meant where none is typed."""
        return next(iter(self.resolutions))


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A measurement as typed: figures with unit and resolution, or the grade of a check."""

    values: tuple[Decimal, ...] = ()
    unit: str | None = None
    resolution: Decimal | None = None
    grade: Grade | None = None


def _measures(*measures: Measure) -> Mapping[str, Measure]:
    return {measure.id: measure for measure in measures}


def _by(**units: str) -> Mapping[str, Decimal]:
    names = {"thirty_second": THIRTY_SECOND, "in_": IN}
    return {names.get(unit, unit): Decimal(step) for unit, step in units.items()}


_GAUGE = _by(thirty_second="1", mm="0.1", in_="0.03125")
_DIAL = _by(in_="0.001", mm="0.01")
_RULE = _by(in_="0.125", mm="3")
_ANGLE = _by(deg="0.1")

MEASURES = _measures(
    Measure(
        id="tread_depth",
        words="tread depth",
        resolutions=_GAUGE,
        falls=True,
        is_depth=True,
        most_values=_GROOVES,
    ),
    Measure(
        id="pad_thickness",
        words="pad thickness",
        resolutions=_GAUGE,
        falls=True,
        is_depth=True,
    ),
    Measure(
        id="lining_thickness",
        words="lining thickness",
        resolutions=_GAUGE,
        falls=True,
        is_depth=True,
    ),
    Measure(id="rotor_thickness", words="rotor thickness", resolutions=_DIAL, falls=True),
    Measure(
        id="rotor_variation",
        words="rotor thickness variation",
        resolutions=_by(in_="0.0001", mm="0.001"),
        falls=False,
    ),
    Measure(id="rotor_runout", words="rotor runout", resolutions=_DIAL, falls=False),
    Measure(
        id="drum_diameter",
        words="drum diameter",
        resolutions=_by(in_="0.005", mm="0.1"),
        falls=False,
    ),
    Measure(id="bearing_end_play", words="bearing end play", resolutions=_DIAL, falls=False),
    Measure(id="ball_joint_play", words="ball joint play", resolutions=_DIAL, falls=False),
    Measure(id="wheel_lash", words="steering wheel lash", resolutions=_RULE, falls=False),
    Measure(
        id="linkage_play",
        words="steering linkage play",
        resolutions=_by(in_="0.0625", mm="1"),
        falls=False,
    ),
    Measure(id="pedal_travel", words="pedal travel", resolutions={"%": Decimal(5)}, falls=False),
    Measure(
        id="fluid_boiling",
        words="boiling point of the fluid",
        resolutions=_by(C="5", F="10"),
        falls=True,
    ),
    Measure(id="fluid_copper", words="copper in the fluid", resolutions=_by(ppm="50"), falls=False),
    Measure(
        id="coolant_freeze",
        words="freezing point of the coolant",
        resolutions=_by(F="5", C="2"),
        falls=False,
        may_be_negative=True,
    ),
    Measure(id="battery_volts", words="battery at rest", resolutions=_by(V="0.01"), falls=True),
    Measure(
        id="battery_gravity",
        words="specific gravity of the battery",
        resolutions=_by(gravity="0.005"),
        falls=True,
    ),
    Measure(id="charging_volts", words="charging voltage", resolutions=_by(V="0.1"), falls=None),
    Measure(id="ground_drop", words="drop to ground", resolutions=_by(V="0.05"), falls=False),
    Measure(
        id="compression_share",
        words="lowest compression as a share of the highest",
        resolutions={"%": Decimal(5)},
        falls=True,
    ),
    Measure(
        id="toe",
        words="toe",
        resolutions=_by(in_="0.03125", mm="1", deg="0.05"),
        falls=None,
        may_be_negative=True,
    ),
    Measure(id="camber", words="camber", resolutions=_ANGLE, falls=None, may_be_negative=True),
    Measure(id="caster", words="caster", resolutions=_ANGLE, falls=None, may_be_negative=True),
    Measure(
        id="wheel_runout",
        words="wheel runout",
        resolutions=_by(in_="0.03125", mm="1"),
        falls=False,
    ),
    Measure(
        id="circumference_spread",
        words="spread of circumference",
        resolutions=_by(in_="0.0625", mm="1"),
        falls=False,
    ),
    Measure(
        id="dual_difference",
        words="difference of diameter in a dual pair",
        resolutions=_by(in_="0.1", mm="1"),
        falls=False,
    ),
    Measure(
        id="ride_height_difference",
        words="difference of ride height",
        resolutions=_RULE,
        falls=False,
    ),
)
"""Trade, section E: every measure a rule may set a limit to."""

_NUMBER = r"[+-]?(?:\d+(?:\.\d+)?|\.\d+)"
_FIGURE = (
    rf"(?P<whole>\d+)[- ](?P<over>\d+)/(?P<under>\d+)"
    rf"|(?P<up>\d+)/(?P<down>\d+)|(?P<number>{_NUMBER})"
)
_COMMA = r"\d,\d"
# 7 7 6/32: all three in thirty-seconds
_THIRTY_SECONDS = r"(?P<figures>[\d.]+( [\d.]+)+) ?/ ?32|(?P<figure>.*\S) ?(32nds?|1/32 in)"


def quantity(text: str, measure: Measure | None, *, depth_unit: str = THIRTY_SECOND) -> Quantity:
    """Read a measurement as typed: `4.5mm`, `5/32`, `3/64 in`, `7 7 6`, `good`, `not good`.

    A bare figure is in the measure's own unit, a depth in the garage's `depth_unit`. A fraction in
    thirty-seconds is kept as such; any other fraction is of an inch. `measure` None: a check that
    no figure measures.

    Raises:
        BadInput: the text says no such quantity; the sentence tells what is allowed.
    """
    plain = " ".join(text.lower().split())
    grade = next((each for each in Grade if each.value == plain), None)
    if grade is not None:
        return Quantity(grade=grade)
    if measure is None:
        raise _refused(text, "is no result of a check", "write good or not good")
    if re.search(_COMMA, plain):
        raise _refused(text, "has a comma", "write a point before the decimals, blanks between")
    figures, unit_text = _parted(plain)
    if not figures:
        raise _refused(text, f"is no {measure.words}", _allowed(measure))
    unit = _unit(text, unit_text, measure)
    if len(figures) > measure.most_values:
        raise _refused(
            text,
            f"has {len(figures)} figures, {measure.words} is {_count(measure.most_values)}",
            _allowed(measure),
        )
    return _read(text, figures, unit, measure, depth_unit)


def stamped_measure(name: str) -> Measure | None:
    """Give the measure a figure stamped on a part is read by; its figure when `new` is a gauge's.

    None: no limit goes by that name, and any text may stand there.
    """
    return MEASURES["pad_thickness"] if name == NEW else MEASURES.get(name)


def in_unit(value: Fraction | Decimal, given: str, wanted: str) -> Fraction | None:
    """Give a value in another unit, exactly; None where the two units measure different things.

    Inches, thirty-seconds and millimeters convert, and degrees Celsius and Fahrenheit.
    """
    exact = Fraction(value)
    if given == wanted:
        return exact
    if given in _PER_MM and wanted in _PER_MM:
        return exact * _PER_MM[given] / _PER_MM[wanted]
    if (given, wanted) == ("C", "F"):
        return exact * Fraction(9, 5) + 32
    if (given, wanted) == ("F", "C"):
        return (exact - 32) * Fraction(5, 9)
    return None


def _parted(plain: str) -> tuple[list[tuple[Fraction, int | None, int]], str]:
    """Part a text into figures (value, denominator or None, decimals) and what stands behind."""
    figures: list[tuple[Fraction, int | None, int]] = []
    if shared := re.fullmatch(_THIRTY_SECONDS, plain):
        figures, rest = _parted(shared["figures"] or shared["figure"])
        return figures, rest or THIRTY_SECOND
    rest = plain
    while found := re.match(_FIGURE, rest):
        figures.append(_figure(found))
        behind = rest[found.end() :]
        rest = behind.lstrip()
        if not (behind.startswith(" ") and rest[:1].isdigit()) and not rest.startswith("."):
            break
    return figures, rest


def _figure(found: re.Match[str]) -> tuple[Fraction, int | None, int]:
    if found["number"] is not None:
        decimals = len(found["number"].partition(".")[2])
        return Fraction(found["number"]), None, decimals
    over, under = int(found["over"] or found["up"]), int(found["under"] or found["down"])
    if under == 0:
        return Fraction(0), 0, 0
    return int(found["whole"] or 0) + Fraction(over, under), under, 0


def _unit(text: str, typed: str, measure: Measure) -> str | None:
    if not typed:
        return None
    known = {unit.lower(): unit for unit in measure.resolutions}
    unit = known.get(typed) or _WRITTEN.get(typed)
    if unit is None or unit not in measure.resolutions:
        raise _refused(
            text, f"has a unit that {measure.words} is not measured in", _allowed(measure)
        )
    return unit


def _read(
    text: str,
    figures: list[tuple[Fraction, int | None, int]],
    unit: str | None,
    measure: Measure,
    depth_unit: str,
) -> Quantity:
    fractions = {under for _, under, _ in figures if under is not None}
    if 0 in fractions:
        raise _refused(text, "divides by zero", _allowed(measure))
    if fractions and len(figures) > sum(under is not None for _, under, _ in figures):
        # "7/32 7 6": the rest is meant in the same thirty-seconds only if all say so
        raise _refused(text, "mixes fractions and figures", "write all of them in the same way")
    if fractions and (IN not in measure.resolutions or unit == MM):
        raise _refused(text, f"is a fraction, {measure.words} is not given so", _allowed(measure))
    if any(value < 0 for value, _, _ in figures) and not measure.may_be_negative:
        raise _refused(text, "is negative", "write a figure of 0 or more")
    if fractions == {32} and THIRTY_SECOND in measure.resolutions:
        values = tuple(_exact(text, value * 32) for value, _, _ in figures)
        return Quantity(values=values, unit=THIRTY_SECOND, resolution=Decimal(1))
    values = tuple(_exact(text, value) for value, _, _ in figures)
    if fractions:
        finest = min(
            measure.resolutions[IN], *(_exact(text, Fraction(1, each)) for each in fractions)
        )
        return Quantity(values=values, unit=IN, resolution=finest)
    held = unit if unit is not None else (depth_unit if measure.is_depth else measure.unit)
    told_apart = measure.resolutions[held]
    if decimals := max(decimals for _, _, decimals in figures):
        told_apart = min(told_apart, Decimal(1).scaleb(-decimals))
    return Quantity(values=values, unit=held, resolution=told_apart)


def _exact(text: str, value: Fraction) -> Decimal:
    """Give a fraction as a decimal; one whose decimals never end stands on no rule."""
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest != 1 or value.denominator > 10**9:
        raise _refused(text, "is no fraction a rule shows", "write halves to 128ths, or decimals")
    return Decimal(value.numerator) / Decimal(value.denominator)


def _count(most: int) -> str:
    return "one" if most == 1 else f"one to {most}"


def _allowed(measure: Measure) -> str:
    examples = {
        MM: "4.5 mm",
        IN: "0.125 in or 1/8 in",
        THIRTY_SECOND: "5/32",
        "gravity": "1.265",
    }
    written = [examples.get(unit, f"a figure in {unit}") for unit in measure.resolutions]
    return f"write {', '.join(written)}"


def _refused(text: str, what: str, remedy: str) -> BadInput:
    return BadInput(Fault(f"{text!r} {what}", "value", remedy))
