"""A line of reckon rotation read into wheels, rates and what is asked."""

from collections.abc import Mapping

from castlenut.command.reckon.fields import Field, Fields, shown
from castlenut.command.reckon.rotate import WHEEL_PLACES, placed
from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.place import CORNERS, DUAL_CORNERS, Spot
from castlenut.domain.tires.assembly import (
    GREATEST_DIFFERENCE_MM,
    LEAST_TREAD_MM,
    Assembly,
    AxleNeeds,
    CarWheels,
    Tread,
)
from castlenut.domain.tires.axle import Side
from castlenut.domain.tires.cost import AxleRates, StaggeredCost, staggered_cost
from castlenut.domain.tires.prospect import MoveSet
from castlenut.domain.tires.rotation.tread import (
    USUAL_RESOLUTION_MM,
    Look,
    WearRates,
    learned,
    pairs,
    rate_at,
    usual_rates,
)
from castlenut.domain.tires.service import LEAST_LOAD_INDEX, MOST_LOAD_INDEX, SPEED_KMH
from castlenut.domain.tires.size import Construction, Size, read_size
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive

_DEEPEST_MM = 40.0
_FASTEST_RATE = 1000.0
_SIDE = {Spot.LRO: Spot.LR, Spot.LRI: Spot.LR, Spot.RRI: Spot.RR, Spot.RRO: Spot.RR}
_SLOWEST_SYMBOL = "L"

ASSEMBLY = (
    Field("id", "the name of tire and wheel"),
    Field("at", f"its place: {', '.join(spot.value for spot in WHEEL_PLACES)}"),
    Field("size", "the size as marked", optional=True),
    Field("construction", "radial, bias, bias belted", optional=True),
    Field("rim_width_in", "the rim width", optional=True),
    Field("rim_diameter_in", "the rim diameter", optional=True),
    Field("offset_mm", "the offset", optional=True),
    Field("tread", "symmetric, asymmetric, directional", optional=True),
    Field("turns", "left or right: the side its arrow turns for as mounted", optional=True),
    Field("load_index", f"{LEAST_LOAD_INDEX} to {MOST_LOAD_INDEX}", optional=True),
    Field("speed_symbol", "L to Y", optional=True),
    Field("temporary", "true for a temporary spare", optional=True),
    Field("studded", "true for a tire that keeps its side", optional=True),
    Field("age_years", "years from manufacture", optional=True),
    Field("depth_mm", "a list of 1 to 3 depths", optional=True),
)
_AXLE = (
    *(field for field in ASSEMBLY[2:7]),
    Field("need_kg", "what one tire must carry", optional=True),
    Field("need_kmh", "what one tire must be good for", optional=True),
)
_FITMENT = (
    Field("front", "what the front axle takes", optional=True),
    Field("rear", "what the rear axle takes", optional=True),
)
_RATES = tuple(Field(spot.value, "mm per 1,000", optional=True) for spot in WHEEL_PLACES)
_LOOK = (
    Field("at", "the distance"),
    Field("places", "an object of places and what stands there from then on"),
    Field("depth_mm", "an object of tires and lists of depths"),
    Field("resolution_mm", "one step of the gauge, 0.1 without it", optional=True),
)
_STAGGERED = (
    Field("new_depth_front_mm", "of a new front tire"),
    Field("new_depth_rear_mm", "of a new rear tire"),
    Field("new_depth_one_size_mm", "of a new tire of one size all round"),
    Field("directional", "true or false", optional=True),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a line asks: the car's wheels, wear by place, and the rotations wanted.

    `wear` is None where the rates are given.
    """

    wheels: CarWheels
    rates: Mapping[Spot, float]
    wear: WearRates | None
    interval: float
    moves: MoveSet
    use_spare: bool
    cost: StaggeredCost | None


def read_line(fields: Fields) -> Asked:
    """Read a line.

    Raises:
        BadInput: with every fault.
    """
    drive = fields.need_choice("drive", Drive)
    unit = fields.need_choice("unit", Unit)
    limit = fields.number("limit_mm", most=_DEEPEST_MM)
    limit = LEAST_TREAD_MM if limit is None else limit
    difference = fields.number("max_difference_mm", most=_DEEPEST_MM)
    interval = fields.need_number("interval", least=0.001)
    moves = fields.choice("moves", MoveSet) or MoveSet.ANY
    use_spare = fields.truth("use_spare")
    age = fields.number("max_age_years", most=100)
    fitment = fields.part("fitment", _FITMENT)
    wheels = CarWheels(
        assemblies=_assemblies(fields),
        drive=drive,
        limit_mm=limit,
        max_difference_mm=GREATEST_DIFFERENCE_MM if difference is None else difference,
        max_age_years=age,
        front=_needs(fitment, "front"),
        rear=_needs(fitment, "rear"),
    )
    if fields.has("rates_mm_per_1000") == fields.has("history"):
        fields.fault(
            "rates_mm_per_1000", "must be given, or history, and not both", "give one of the two"
        )
    looks = _looks(fields)
    given = _given_rates(fields, wheels)
    staggered = fields.part("staggered", _STAGGERED)
    depths = [] if staggered is None else _new_depths(staggered, limit)
    fields.check()
    wear = learned(usual_rates(drive, unit), pairs(looks)) if fields.has("history") else None
    rates = (
        given if wear is None else {each.at: rate_at(wear.rates, each.at) for each in wheels.road}
    )
    return Asked(
        wheels=wheels,
        rates=rates,
        wear=wear,
        interval=interval,
        moves=moves,
        use_spare=use_spare is not False,
        cost=None if staggered is None else _cost(rates, depths, limit, staggered),
    )


def _assemblies(fields: Fields) -> tuple[Assembly, ...]:
    found: list[Assembly] = []
    places = {spot.value: spot for spot in WHEEL_PLACES}
    told = len(fields.faults)
    parts = fields.parts("assemblies", ASSEMBLY)
    is_whole = len(fields.faults) == told
    for part in parts:
        name, at = part.text("id"), part.text("at")
        if name is not None and not name.strip():
            part.fault("id", "is blank", "name it")
        if at is not None and at not in places:
            part.fault("at", f"{shown(at)} is no place", f"it may be {', '.join(places)}")
        if name is None or at is None or at not in places:
            is_whole = False
            continue
        if any(each.id == name for each in found):
            part.fault("id", f"{shown(name)} is there twice", "name each tire once")
        if any(each.at is places[at] for each in found):
            part.fault("at", f"{at} has two wheels", "give each place one")
        found.append(
            Assembly(
                id=name,
                at=places[at],
                size=_size(part),
                construction=part.choice("construction", Construction),
                rim_width_in=part.number("rim_width_in", least=1, most=30),
                rim_diameter_in=part.number("rim_diameter_in", least=1, most=40),
                offset_mm=part.number("offset_mm", least=-300, most=300),
                tread=part.choice("tread", Tread),
                turns=part.choice("turns", Side),
                load_index=part.whole("load_index", least=LEAST_LOAD_INDEX, most=MOST_LOAD_INDEX),
                speed_symbol=_symbol(part),
                is_marked_temporary=part.truth("temporary") is True,
                is_studded=part.truth("studded") is True,
                age_years=part.number("age_years", most=200),
                depths_mm=tuple(_depths(part, "depth_mm")),
            )
        )
    stands = {each.at for each in found}
    needed = DUAL_CORNERS if stands & set(_SIDE) else CORNERS
    for spot in needed:
        if spot not in stands and is_whole and fields.has("assemblies"):
            fields.fault("assemblies", f"{spot.value} is missing", "give what stands there")
    for spot in sorted(stands - {*needed, Spot.SP}, key=lambda each: each.value):
        fields.fault("assemblies", f"{spot.value} stands beside dual wheels", "leave one out")
    return tuple(found)


def _depths(part: Fields, name: str) -> list[float]:
    depths = part.numbers(name, most=_DEEPEST_MM)
    if len(depths) > 3:
        part.fault(name, f"holds {len(depths)} depths", "give 1 to 3")
    return depths


def _size(part: Fields) -> Size | None:
    text = part.text("size")
    if text is None:
        return None
    try:
        return read_size(text, where="size")
    except BadInput as unread:
        for fault in unread.faults:
            part.fault("size", fault.what, fault.remedy)
        return None


def _symbol(part: Fields) -> str | None:
    text = part.text("speed_symbol")
    if text is None:
        return None
    if text not in SPEED_KMH or SPEED_KMH[text] < SPEED_KMH[_SLOWEST_SYMBOL]:
        part.fault("speed_symbol", f"{shown(text)} is no speed symbol here", "give one from L to Y")
        return None
    return text


def _needs(fitment: Fields | None, name: str) -> AxleNeeds:
    part = None if fitment is None else fitment.part(name, _AXLE)
    if part is None:
        return AxleNeeds()
    return AxleNeeds(
        size=_size(part),
        construction=part.choice("construction", Construction),
        rim_width_in=part.number("rim_width_in", least=1, most=30),
        rim_diameter_in=part.number("rim_diameter_in", least=1, most=40),
        offset_mm=part.number("offset_mm", least=-300, most=300),
        need_kg=part.number("need_kg", most=10_000),
        need_kmh=part.number("need_kmh", most=1000),
    )


def _given_rates(fields: Fields, wheels: CarWheels) -> dict[Spot, float]:
    """Read wear by place; LR and RR stand for both dual wheels of their side."""
    part = fields.part("rates_mm_per_1000", _RATES)
    if part is None:
        return {}
    found: dict[Spot, float] = {}
    for each in wheels.road:
        own = part.number(each.at.value, least=1e-6, most=_FASTEST_RATE)
        side = _SIDE.get(each.at, each.at)
        rate = part.number(side.value, least=1e-6, most=_FASTEST_RATE) if own is None else own
        if rate is None:
            part.fault(each.at.value, "is missing", "give its wear, mm per 1,000")
        else:
            found[each.at] = rate
    return found


def _looks(fields: Fields) -> list[Look]:
    looks: list[Look] = []
    for part in fields.parts("history", _LOOK):
        at = part.need_number("at")
        places = {wheel: spot for spot, wheel in placed(part, "places").items()}
        resolution = part.number("resolution_mm", least=1e-6, most=_DEEPEST_MM)
        depths = part.members("depth_mm")
        measured: dict[str, tuple[float, ...]] = {}
        for name in () if depths is None else depths.names:
            given = _depths(depths, name) if depths is not None else []
            if given:
                measured[name] = tuple(given)
            elif depths is not None:
                depths.fault(name, "holds no depth", "give 1 to 3, or leave the tire out")
        looks.append(
            Look(
                at=at,
                places=places,
                depths_mm=measured,
                resolution_mm=USUAL_RESOLUTION_MM if resolution is None else resolution,
            )
        )
    return looks


def _new_depths(part: Fields, limit: float) -> list[float]:
    depths = []
    for field in _STAGGERED[:3]:
        told = len(part.faults)
        depth = part.need_number(field.name, most=_DEEPEST_MM)
        if part.has(field.name) and len(part.faults) == told and depth <= limit:
            part.fault(field.name, f"{depth:g} is not over the limit", f"give over {limit:g}")
        depths.append(depth)
    return depths


def _cost(
    rates: Mapping[Spot, float], depths: list[float], limit: float, part: Fields
) -> StaggeredCost | None:
    """Give the cost of staggered sizes; None with dual wheels, where axles are not bought alike."""
    if any(spot not in rates for spot in CORNERS):
        return None
    return staggered_cost(
        AxleRates(left=rates[Spot.LF], right=rates[Spot.RF]),
        AxleRates(left=rates[Spot.LR], right=rates[Spot.RR]),
        usable_front_mm=depths[0] - limit,
        usable_rear_mm=depths[1] - limit,
        usable_one_size_mm=depths[2] - limit,
        is_directional=part.truth("directional") is True,
    )
