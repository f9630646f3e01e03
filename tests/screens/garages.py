"""Garages for the screens' tests, record by record. All cars and people in them are invented."""

from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime
from itertools import count
from pathlib import Path

from castlenut.garage.garage import Garage, Surroundings, make_garage, open_garage
from castlenut.store.revisions import Added
from castlenut.store.values import Value

TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)

Record = tuple[str, dict[str, Value]]


def surroundings(first: int = 1) -> Surroundings:
    """Give a world that stands still, with ids counted up from a first one."""
    ids = _ids(first)
    return Surroundings(
        today=TODAY,
        now=lambda: NOW,
        new_id=lambda: next(ids),
        draw=bytes,
        device=lambda: "dev-1a2b",
        command="screens",
    )


def _ids(first: int) -> Iterator[str]:
    return (f"01935f00-0000-7000-8000-{number:012x}" for number in count(first))


def empty_garage(path: Path) -> Garage:
    """Make a garage without a car."""
    return make_garage(path, surroundings())


def garage(path: Path) -> Garage:
    """Make a garage of four cars: one in work, one overdue, one ahead, one that cannot be read."""
    built = empty_garage(path)
    file = built.garage_file()
    built.folder.save(
        file,
        [Added(table="garage", id="garage", values={"name": "Wexholt Yard (invented)"})]
        if not file.table("garage")
        else [],
        built.change(),
    )
    _add(built, "harrowmead-tanager", _TANAGER)
    _add(built, "oldbrook-lantern", _LANTERN)
    _add(built, "quenby-marsh", _MARSH)
    _add(built, "stavering-plover", _MARSH)
    (path / "vehicles" / "stavering-plover.json").write_text('{"castlenut":', encoding="utf-8")
    return open_garage(path, surroundings(first=5_000))


def add_car(built: Garage, slug: str, description: str) -> None:
    """Add a car of which nothing but its name is known."""
    _add(built, slug, [_vehicle(slug, description)])


def _add(built: Garage, slug: str, records: Sequence[Record]) -> None:
    new_id = built.surroundings.new_id
    file = built.folder.new_vehicle(slug, new_id())
    edits = [Added(table=table, id=new_id(), values=values) for table, values in records]
    built.folder.save(file, edits, built.change())


def _vehicle(slug: str, description: str, **more: Value) -> Record:
    return (
        "vehicle",
        {"slug": slug, "description": description, "unit": "mi", "digits": 5, **more},
    )


def _reading(figure: int, on: str) -> Record:
    return ("reading", {"figure": figure, "on": on, "unit": "mi"})


def _fitted(kind: str, **more: Value) -> Record:
    return ("component", {"kind": kind, "state": "fitted", **more})


_TANAGER: Sequence[Record] = (
    _vehicle(
        "harrowmead-tanager",
        "Harrowmead Tanager",
        year=1974,
        drive="rear",
        owner="Isolde Quarrington",
        phone="555-0117",
    ),
    _reading(61240, "2026-10-18"),
    _reading(61410, "2026-11-05"),
    _reading(61600, "2026-11-24"),
    _fitted("engine oil", on="2026-03-02", at=58100),
    _fitted("brake fluid", on="2025-02-11", at=52000, attributes={"fluid": "DOT 4"}),
    _fitted("brake pad", place="LF", on="2025-02-11", at=52000, stamped={"new": "11 mm"}),
    _fitted("brake pad", place="RF", on="2025-02-11", at=52000, stamped={"new": "11 mm"}),
    _fitted("coolant", on="2024-10-30", at=49000, attributes={"type": "green"}),
    _fitted("air filter", on="2026-03-02", at=58100, part="AF-204"),
    _fitted("drive belt", on="2023-05-20", at=41000, part="VB-11"),
)

_LANTERN: Sequence[Record] = (
    _vehicle("oldbrook-lantern", "Oldbrook Lantern", year=1958, owner="Caspian Threlford"),
    _reading(47318, "2026-11-24"),
    ("stay", {"from": "2026-11-19"}),
    _fitted("engine oil"),
    _fitted("brake fluid"),
    _fitted("brake hose", place="LF"),
    _fitted("brake hose", place="RF"),
    _fitted("battery"),
)

_MARSH: Sequence[Record] = (
    _vehicle("quenby-marsh", "Quenby Marsh", year=1983, drive="front"),
    _reading(20100, "2026-06-01"),
    _reading(20400, "2026-11-20"),
    _fitted("engine oil", on="2026-11-20", at=20400),
    _fitted("brake fluid", on="2026-11-20", at=20400, attributes={"fluid": "DOT 4"}),
)
