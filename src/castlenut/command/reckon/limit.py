"""reckon limit: whether a measure keeps a published limit."""

from collections.abc import Sequence
from enum import Enum

from castlenut.command.reckon.fields import Answer, Field, Fields, Json
from castlenut.command.reckon.kind import Kind, figure
from castlenut.domain import limits
from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.limits import Limit
from castlenut.domain.units import MM_PER_IN


class Name(Enum):
    """The limits that can be asked for."""

    STEERING_LASH = "steering lash"
    STEERING_LINKAGE = "steering linkage"
    TOE = "toe"
    LINING = "lining"
    RIM_RUNOUT = "rim runout"
    TREAD = "tread"
    DUALS = "duals"
    WET_BOILING_POINT = "wet boiling point"
    ROTOR_RUNOUT = "rotor runout"
    ROTOR_VARIATION = "rotor variation"
    ROTOR_THICKNESS = "rotor thickness"
    DRUM = "drum"
    DRUM_MACHINING = "drum machining"
    COMPRESSION = "compression"
    BATTERY_GRAVITY = "battery gravity"


class Axle(Enum):
    """Which axle a tire stands on."""

    FRONT = "front"
    OTHER = "other"


class Lining(Enum):
    """How a lining is fixed."""

    BONDED = "bonded"
    RIVETED = "riveted"


_LARGEST_IN = 200.0
_MEASURES = ("measured_in", "measured_mm", "measured_c", "measured", "other_in")
_LENGTH = ("measured_in", "measured_mm")
_MEASURED_BY = {
    Name.WET_BOILING_POINT: ("measured_c",),
    Name.COMPRESSION: ("measured",),
    Name.BATTERY_GRAVITY: ("measured",),
    Name.DUALS: ("measured_in", "other_in"),
}
_NEEDS = {
    Name.STEERING_LASH: "wheel_diameter_in",
    Name.TOE: "spec_in",
    Name.WET_BOILING_POINT: "fluid",
    Name.ROTOR_THICKNESS: "spec_in",
    Name.DRUM: "spec_in",
    Name.DRUM_MACHINING: "spec_in",
    Name.COMPRESSION: "measured",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """Everything a line can say of a limit and what was measured; None is not given."""

    wheel_diameter_in: float | None
    rim_in: float | None
    gvwr_lb: float | None
    spec_in: float | None
    axle: Axle | None
    lining: Lining | None
    fluid: str | None
    temperature_f: float | None
    pressures: Sequence[float]
    measured: float | None


def _answer(fields: Fields) -> Answer:
    name = fields.choice("limit", Name)
    if name is None:
        raise BadInput(*fields.faults)
    asked = _read(fields, name)
    fields.check()
    limit = _limit(name, asked)
    if fields.has("measured_mm"):
        limit = limits.in_mm(limit)
    measured, corrected = asked.measured, None
    if name is Name.TOE and measured is not None:
        measured = abs(measured)  # in or out alike
    if name is Name.BATTERY_GRAVITY and measured is not None and asked.temperature_f is not None:
        measured = corrected = limits.gravity_at_80(measured, asked.temperature_f)
    answer: dict[str, Json] = {
        "passes": None if measured is None else limits.holds(limit, measured),
        "allowed": figure(limit.allowed),
        "source": limit.source,
    }
    if corrected is not None:
        answer["corrected"] = figure(corrected)
    return answer


def _read(fields: Fields, name: Name) -> _Asked:
    measures = _MEASURED_BY.get(name, _LENGTH)
    for measure in _MEASURES:
        if fields.has(measure) and measure not in measures:
            fields.fault(
                measure, f"is not how {name.value} is measured", f"give {' or '.join(measures)}"
            )
    needed = _NEEDS.get(name)
    if needed is not None and not fields.has(needed):
        fields.fault(needed, f"is missing for {name.value}", f"give {fields.meaning(needed)}")
    pressures = fields.numbers("measured", most=5000) if name is Name.COMPRESSION else []
    return _Asked(
        wheel_diameter_in=fields.number("wheel_diameter_in", least=5, most=40),
        rim_in=fields.number("rim_in", least=4, most=60),
        gvwr_lb=fields.number("gvwr_lb", least=100, most=1_000_000),
        spec_in=fields.number(
            "spec_in", least=-_LARGEST_IN if name is Name.TOE else 0.0, most=_LARGEST_IN
        ),
        axle=fields.choice("axle", Axle),
        lining=fields.choice("lining", Lining),
        fluid=fields.text("fluid"),
        temperature_f=fields.number("temperature_f", least=-60, most=200),
        pressures=pressures,
        measured=_measured(fields, name, pressures),
    )


def _measured(fields: Fields, name: Name, pressures: Sequence[float]) -> float | None:
    """Give the one figure that is held against the limit, in the unit the line uses."""
    match name:
        case Name.WET_BOILING_POINT:
            return fields.number("measured_c", most=500)
        case Name.BATTERY_GRAVITY:
            return fields.number("measured", least=0.9, most=1.5)
        case Name.COMPRESSION:
            return min(pressures, default=None)
        case Name.DUALS:
            one = fields.number("measured_in", most=_LARGEST_IN)
            other = fields.number("other_in", most=_LARGEST_IN)
            return None if one is None or other is None else abs(one - other)
        case _:
            if fields.has("measured_in") and fields.has("measured_mm"):
                fields.fault("measured_mm", "stands beside measured_in", "give one of the two")
            least = -_LARGEST_IN if name is Name.TOE else 0.0
            inches = fields.number("measured_in", least=least, most=_LARGEST_IN)
            mm = fields.number("measured_mm", least=least * MM_PER_IN, most=_LARGEST_IN * MM_PER_IN)
            return mm if inches is None else inches


def _limit(name: Name, asked: _Asked) -> Limit:
    """Give the limit. What it needs was read and found there."""
    match name:
        case Name.STEERING_LASH:
            return limits.steering_lash(asked.wheel_diameter_in or 0.0)
        case Name.STEERING_LINKAGE:
            return limits.steering_linkage(gvwr_lb=asked.gvwr_lb, rim_in=asked.rim_in)
        case Name.TOE:
            return limits.toe(asked.spec_in or 0.0)
        case Name.LINING:
            is_bonded = None if asked.lining is None else asked.lining is Lining.BONDED
            return limits.lining(gvwr_lb=asked.gvwr_lb, is_bonded=is_bonded)
        case Name.RIM_RUNOUT:
            return limits.rim_runout()
        case Name.TREAD:
            return limits.tread(gvwr_lb=asked.gvwr_lb, is_front=asked.axle is Axle.FRONT)
        case Name.DUALS:
            return limits.duals()
        case Name.WET_BOILING_POINT:
            return limits.wet_boiling_point(asked.fluid or "")
        case Name.ROTOR_RUNOUT:
            return limits.rotor_runout(asked.spec_in)
        case Name.ROTOR_VARIATION:
            return limits.rotor_variation(asked.spec_in)
        case Name.ROTOR_THICKNESS:
            return limits.rotor_thickness(asked.spec_in or 0.0)
        case Name.DRUM:
            return limits.drum(asked.spec_in or 0.0)
        case Name.DRUM_MACHINING:
            return limits.drum_machining(asked.spec_in or 0.0)
        case Name.COMPRESSION:
            return limits.compression(asked.pressures)
        case Name.BATTERY_GRAVITY:
            return limits.battery_gravity()


KIND = Kind(
    name="limit",
    summary="whether a measure keeps a published limit",
    fields=(
        Field("limit", ", ".join(name.value for name in Name)),
        Field("wheel_diameter_in", "diameter of the steering wheel", optional=True),
        Field("rim_in", "rim diameter, for steering linkage over 10,000 lb", optional=True),
        Field(
            "gvwr_lb", "gross weight rating; without it 10,000 lb or less is taken", optional=True
        ),
        Field("spec_in", "the maker's, stamped or cast figure", optional=True),
        Field("measured_in", "what was measured, in inches", optional=True),
        Field("measured_mm", "instead of measured_in; allowed is then in mm", optional=True),
        Field("measured_c", "boiling point, in degrees C", optional=True),
        Field("measured", "a list of pressures, or a specific gravity", optional=True),
        Field("temperature_f", "of the battery; without it nothing is corrected", optional=True),
        Field("axle", "front or other (as without it), for tread", optional=True),
        Field("lining", "bonded or riveted", optional=True),
        Field("fluid", ", ".join(limits.FLUIDS), optional=True),
        Field("other_in", "diameter of the other tire of a dual wheel", optional=True),
    ),
    answers=(
        Field("passes", "true, false, or null while nothing is measured; at the limit it passes"),
        Field("allowed", "the limit, in the unit of the measure"),
        Field("corrected", "specific gravity at 80 F", optional=True),
        Field("source", "where the limit stands"),
    ),
    answer=_answer,
)
