"""Garages of any size, written straight to the disk in the canonical form. All in them is invented.

`python tests/bench/big_garage.py DIR [CARS]` writes one. The same cars give the same bytes.
"""

import json
import sys
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import count
from pathlib import Path
from random import Random

TODAY = date(2026, 11, 25)
SEED = 20261125
USUAL = 40
BIG = 300
RECORDS = 60
MANY_RECORDS = 300
DEVICE = "dev-0be7c4"

_WRITTEN_AT = "2026-11-20T08:00:00.000Z"

# What each car has: kind, places, attributes, and what the jobs do to it. With the shipped rules
# some 40 items come of it.
_PARTS: tuple[tuple[str, tuple[str, ...], dict[str, str], tuple[str, ...]], ...] = (
    ("engine oil", ("",), {}, ("oil", "oil-level")),
    ("air filter", ("",), {"type": "paper"}, ("air-paper",)),
    ("coolant", ("",), {"type": "green"}, ("coolant-green", "coolant-test")),
    ("drive belt", ("",), {"type": "V-belt"}, ("belt-look", "belt-renew")),
    ("battery", ("",), {"volts": "12", "type": "flooded"}, ("battery-test",)),
    ("brake fluid", ("",), {"fluid": "DOT 4"}, ("brake-fluid", "brake-level")),
    ("brake pad", ("LF", "RF"), {"friction": "disc"}, ("pad-measure",)),
    ("brake shoe", ("LR", "RR"), {"friction": "drum"}, ("shoe-adjust", "shoe-measure")),
    ("brake hose", ("LF", "RF"), {"material": "rubber"}, ("hose-look",)),
    ("wheel bearing", ("LF", "RF"), {"service": "repackable"}, ("hub-play", "hub-repack-old")),
    ("ball joint", ("LF", "RF"), {"grease": "fitting"}, ("ball-joint-play", "grease-old")),
    ("transmission", ("",), {}, ("transmission-level", "transmission-oil-old")),
    ("axle", ("rear",), {"diff": "open"}, ("axle-level", "axle-oil-old")),
    ("fuel filter", ("",), {}, ("fuel-filter",)),
    ("spark plug", ("",), {"core": "copper"}, ("plugs-clean", "plugs-renew")),
)
_DONE_IN_A_JOB = 5

Values = dict[str, object]


def write_garage(
    folder: Path, *, cars: int, records: int = RECORDS, many: int = 0
) -> tuple[str, ...]:
    """Write a garage, and give the slugs of its cars. The first `many` hold 300 records each."""
    (folder / "vehicles").mkdir(parents=True)
    _write(folder / "garage.json", "garage", _id(0), {})
    slugs = tuple(f"car-{number:03}" for number in range(1, cars + 1))
    for number, slug in enumerate(slugs):
        held = MANY_RECORDS if number < many else records
        write_car(folder, slug, number, held)
    return slugs


def usual(folder: Path) -> tuple[str, ...]:
    """Write the usual garage: 40 cars, 5 of them with 300 records."""
    return write_garage(folder, cars=USUAL, many=5)


def big(folder: Path) -> tuple[str, ...]:
    """Write the growth case: 300 cars, 10 of them with 300 records."""
    return write_garage(folder, cars=BIG, many=10)


def write_car(folder: Path, slug: str, number: int, records: int) -> None:
    """Write one car of so many records."""
    ids = (_id(each) for each in count(1 + number * 10_000))
    vehicle = next(ids)
    tables: dict[str, dict[str, Values]] = {}
    for table, record, values in _car(slug, number, records, ids):
        tables.setdefault(table, {})[record] = values
    _write(folder / "vehicles" / f"{slug}.json", "vehicle", vehicle, tables)


def _car(
    slug: str, number: int, records: int, ids: Iterator[str]
) -> Iterator[tuple[str, str, Values]]:
    """Give the records of a car: readings of its own pace, its parts, and jobs for the rest."""
    chance = Random(SEED + number)
    daily = chance.uniform(4, 32)
    driven = chance.randrange(18_000, 90_000)
    first_day = TODAY - timedelta(days=max(chance.randrange(900, 1600), 400 + records))

    def dial(day: int) -> int:
        return driven + round(day * daily)

    def on(day: int) -> str:
        return (first_day + timedelta(days=day)).isoformat()

    yield (
        "vehicle",
        next(ids),
        {
            "slug": slug,
            "description": f"Invented car {number + 1}",
            "year": 1950 + number % 40,
            "drive": ("rear", "front", "all")[number % 3],
            "unit": "mi",
            "digits": 6,
            "kept_at": "owner",
        },
    )
    items: list[str] = []
    parts = [(part, place) for part in _PARTS for place in part[1]][: records // 2]
    for (kind, _, attributes, done), place in parts:
        day = chance.randrange(400)
        values: Values = {"kind": kind, "state": "fitted", "on": on(day), "at": dial(day)}
        if place:
            values["place"] = place
        component = next(ids)
        yield "component", component, {**values, "attributes": attributes}
        items.extend(f"{rule}~{component}" for rule in done)
    rest = records - 1 - len(parts)
    readings = rest * 3 // 4
    days = chance.sample(range(400, (TODAY - first_day).days), rest)
    for day in sorted(days[:readings]):
        yield "reading", next(ids), {"figure": dial(day), "on": on(day), "unit": "mi"}
    for day in sorted(days[readings:]):
        work = sorted(chance.sample(items, min(_DONE_IN_A_JOB, len(items))))
        yield "job", next(ids), {"on": on(day), "at": dial(day), "items": work, "hours": 1}


def _id(number: int) -> str:
    return f"01935f00-0000-7000-8000-{number:012x}"


def _write(path: Path, kind: str, own_id: str, tables: dict[str, dict[str, Values]]) -> None:
    """Write a file of records: one a line, keys sorted, no blank after a comma or colon in them."""
    order = count(1)
    parts = [f'"castlenut": {_line({"file": kind, kind: own_id, "schema": 1})}']
    for table in sorted(tables):
        rows = [
            f"{_line(record)}: {_line({'revs': [_revision(record, values, next(order))]})}"
            for record, values in sorted(tables[table].items())
        ]
        parts.append(f"{_line(table)}: {{\n" + ",\n".join(rows) + "\n}")
    path.write_text("{\n" + ",\n".join(parts) + "\n}\n", encoding="utf-8", newline="\n")


def _revision(record: str, values: Values, place: int) -> Values:
    return {
        "after": [],
        "at": _WRITTEN_AT,
        "by": DEVICE,
        "n": place,
        "rev": f"{record}.0",
        "set": values,
    }


def _line(value: object) -> str:
    return json.dumps(value, sort_keys=True, separators=(",", ":"))


if __name__ == "__main__":
    write_garage(Path(sys.argv[1]), cars=int(sys.argv[2]) if len(sys.argv) > 2 else USUAL)
