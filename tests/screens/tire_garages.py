"""Cars with tires for the tests of their screens. All cars, tires and figures are invented."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from castlenut.garage.garage import Garage, open_garage
from castlenut.store.revisions import Added, Changed
from castlenut.store.values import Value
from tests.screens.garages import Record, empty_garage, surroundings

WALK = ("LF", "RF", "LR", "RR")
DUAL_WALK = ("LF", "RF", "LRO", "LRI", "RRI", "RRO")
FITTED_ON, FITTED_AT = "2024-04-10", 40000
MEASURED_ON, MEASURED_AT = "2026-11-23", 52400


def garage(path: Path) -> Garage:
    """Make a garage of cars that differ in their tires."""
    built = empty_garage(path)
    _add(built, "ellersby-kite", "Ellersby Kite", "rear", _even())
    _add(built, "marlholme-ox", "Marlholme Ox", "rear", _duals(), dual=True)
    _add(built, "quenby-marsh", "Quenby Marsh", "front", [])
    _add(built, "stanwick-fulmar", "Stanwick Fulmar", "rear", _staggered())
    _add(built, "torvane-cresset", "Torvane Cresset", "all", _spread())
    return open_garage(path, surroundings(first=9_000))


def with_odd_size(shop: Garage, size: str) -> Garage:
    """Give the garage with another text as the size of one tire."""
    file = shop.file("ellersby-kite")
    tire = file.table("tire")[0]
    edit = Changed(table="tire", id=tire.id, values={"size": size})
    shop.folder.save(file, [edit], shop.change())
    return open_garage(shop.path, surroundings(first=95_000))


def _add(
    built: Garage,
    slug: str,
    description: str,
    drive: str,
    records: Sequence[Record],
    **more: Value,
) -> None:
    vehicle: dict[str, Value] = {
        "slug": slug,
        "description": description,
        "unit": "mi",
        "digits": 6,
        "year": 1988,
        "drive": drive,
        **more,
    }
    readings: list[Record] = [
        ("reading", {"figure": figure, "on": on, "unit": "mi"})
        for figure, on in (
            (40000, "2024-04-10"),
            (45100, "2025-02-02"),
            (50900, "2026-05-11"),
            (52400, "2026-11-23"),
        )
    ]
    new_id = built.surroundings.new_id
    file = built.folder.new_vehicle(slug, new_id())
    edits = [
        Added(table=table, id=str(values.pop("id", None) or new_id()), values=values)
        for table, values in [("vehicle", vehicle), *readings, *records]
    ]
    built.folder.save(file, edits, built.change())


def _set(
    walk: Sequence[str],
    sizes: Mapping[str, str],
    depths: Mapping[str, Sequence[int]],
    *,
    rims: Mapping[str, int],
    first_id: int,
    temporary: Sequence[str] = (),
) -> list[Record]:
    """Give a tire and a wheel a place, put on together, and what was measured since."""
    found: list[Record] = []
    for number, spot in enumerate(walk):
        tire = f"01935f00-0000-7000-8001-{first_id + 2 * number:012x}"
        wheel = f"01935f00-0000-7000-8001-{first_id + 2 * number + 1:012x}"
        found += [
            (
                "tire",
                {
                    "id": tire,
                    "size": sizes[spot],
                    "construction": "radial",
                    "service": "94H",
                    "tread": "symmetric",
                    "new_depth": 11,
                    "depth_unit": "32nds",
                    "tin": "DEMO0424",
                    **({"temporary": True} if spot in temporary else {}),
                },
            ),
            (
                "wheel",
                {"id": wheel, "rim_width": rims[spot], "rim_diameter": 15, "offset": 35},
            ),
            (
                "placement",
                {
                    "tire": tire,
                    "wheel": wheel,
                    "place": spot,
                    "on": FITTED_ON,
                    "at": FITTED_AT,
                },
            ),
        ]
        if spot in depths:
            grooves: list[Value] = list(depths[spot])
            found.append(
                (
                    "measurement",
                    {
                        "measure": "tread_depth",
                        "item": f"tire-tread~{tire}",
                        "place": spot,
                        "value": grooves,
                        "unit": "1/32 in",
                        "resolution": 1,
                        "on": MEASURED_ON,
                        "at": MEASURED_AT,
                    },
                )
            )
    return found


def _even() -> list[Record]:
    same = dict.fromkeys((*WALK, "SP"), "205/65R15")
    return _set(
        (*WALK, "SP"),
        same,
        {"LF": (8, 8, 8), "RF": (8, 8, 7), "LR": (6, 6, 6), "RR": (6, 5, 6), "SP": (11, 11, 11)},
        rims=dict.fromkeys((*WALK, "SP"), 6),
        first_id=0x100,
    )


def _staggered() -> list[Record]:
    return _set(
        WALK,
        {"LF": "205/60R15", "RF": "205/60R15", "LR": "225/60R15", "RR": "225/60R15"},
        {"LF": (7, 7, 7), "RF": (7, 7, 7), "LR": (4, 4, 4), "RR": (2, 2, 2)},
        rims={"LF": 6, "RF": 6, "LR": 7, "RR": 7},
        first_id=0x200,
    )


def _spread() -> list[Record]:
    sizes = {**dict.fromkeys(WALK, "205/65R15"), "SP": "T125/80D15"}
    return _set(
        (*WALK, "SP"),
        sizes,
        {"LF": (8, 8, 8), "RF": (8, 8, 8), "LR": (8, 8, 8), "RR": (6, 6, 6)},
        rims={**dict.fromkeys(WALK, 6), "SP": 4},
        first_id=0x300,
        temporary=("SP",),
    )


def _duals() -> list[Record]:
    return _set(
        DUAL_WALK,
        dict.fromkeys(DUAL_WALK, "7.50R16"),
        dict.fromkeys(DUAL_WALK, (10, 10, 10)),
        rims=dict.fromkeys(DUAL_WALK, 6),
        first_id=0x400,
    )
