"""The car of the legality table: four tires alike, A at LF, B at RF, C at LR, D at RR."""

from castlenut.domain.frozen import replace
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import Assembly, AxleNeeds, CarWheels, Tread
from castlenut.domain.tires.axle import Side
from castlenut.domain.tires.size import Construction, Size, read_size
from castlenut.domain.vehicle import Drive

SIZE = read_size("205/60R15")
WIDER = read_size("225/60R15")

PLACES = {"A": Spot.LF, "B": Spot.RF, "C": Spot.LR, "D": Spot.RR, "S": Spot.SP}
FRONT, REAR, ROAD = ("A", "B"), ("C", "D"), ("A", "B", "C", "D")


def tire(name: str, at: Spot | None = None) -> Assembly:
    return Assembly(
        id=name,
        at=at or PLACES[name],
        size=SIZE,
        construction=Construction.RADIAL,
        rim_width_in=6.0,
        rim_diameter_in=15.0,
        offset_mm=10.0,
        tread=Tread.SYMMETRIC,
        load_index=91,
        speed_symbol="H",
        depths_mm=(6.0,),
    )


def car(*, spare: bool = False) -> CarWheels:
    names = (*ROAD, "S") if spare else ROAD
    return CarWheels(assemblies=tuple(tire(name) for name in names), drive=Drive.REAR)


def dual_car() -> CarWheels:
    spots = (Spot.LF, Spot.RF, Spot.LRO, Spot.LRI, Spot.RRI, Spot.RRO)
    return CarWheels(assemblies=tuple(tire(spot.value, spot) for spot in spots), drive=Drive.REAR)


def changed(wheels: CarWheels, names: tuple[str, ...] | str, **fields: object) -> CarWheels:
    """Give the car with some fields of some of its tires changed."""
    wanted = (names,) if isinstance(names, str) else names
    return replace(
        wheels,
        assemblies=tuple(
            replace(each, **fields) if each.id in wanted else each  # type: ignore[arg-type] # any field
            for each in wheels.assemblies
        ),
    )


def sized(wheels: CarWheels, names: tuple[str, ...] | str, size: Size | None) -> CarWheels:
    return changed(wheels, names, size=size)


def directional(wheels: CarWheels, names: tuple[str, ...] = ROAD) -> CarWheels:
    """Make tires directional, each turning for the side it is on; the spare turns left."""
    for each in wheels.assemblies:
        if each.id in names:
            left = each.at.value.startswith("L") or each.at is Spot.SP
            wheels = changed(
                wheels,
                each.id,
                tread=Tread.DIRECTIONAL,
                turns=Side.LEFT if left else Side.RIGHT,
            )
    return wheels


def stated(
    wheels: CarWheels, *, front: AxleNeeds | None = None, rear: AxleNeeds | None = None
) -> CarWheels:
    return replace(wheels, front=front or wheels.front, rear=rear or wheels.rear)
