"""Fitting an assembly equals fitting its parts, in any order.

"fitting one ends and begins all of them in one change, each still its own component" (work at the
bench, section 6). The car is invented.
"""

from collections.abc import Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from castlenut.garage.changes.happenings import draft_happening
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage, make_garage
from tests.builders import book
from tests.garage.conftest import surroundings
from tests.laws.examples import examples

CAR = "alderhay"
ON_BEFORE, AT_BEFORE = "2025-03-01", "50000"
ON, AT = "2026-11-20", "61000"
PLACES: Mapping[str, str | None] = {
    "arm": "LF lower",
    "loaded caliper": "LF,RF",
    "one-piece hub and rotor": "front",
    "loaded strut": "RF",
    "steering linkage set": "L,R",
    "leaf spring set": "rear",
    "clutch set": None,
    "cylinder head set": None,
    "radiator set": None,
}
OLD = (
    ("brake shoe", "front"),
    ("wheel bearing", "front"),
    ("ball joint", "LF lower"),
    ("bushing", "LR"),
    ("spring", "all"),
    ("idler", None),
    ("coolant", None),
    ("valve train", None),
)


def test_every_shipped_assembly_is_tried() -> None:
    assert set(PLACES) == set(book().assemblies)


WAYS = {
    "name": st.sampled_from(sorted(PLACES)),
    "old": st.lists(st.sampled_from(OLD), unique=True, max_size=4),
    "data": st.data(),
}


@examples(8)
@given(**WAYS)
def test_an_assembly_is_its_parts_in_any_order(
    name: str, old: Sequence[tuple[str, str | None]], data: st.DataObject
) -> None:
    check_that_an_assembly_is_its_parts(name, old, data)


@pytest.mark.long
@settings(max_examples=200)
@given(**WAYS)
def test_an_assembly_is_its_parts_on_many_cars(
    name: str, old: Sequence[tuple[str, str | None]], data: st.DataObject
) -> None:
    check_that_an_assembly_is_its_parts(name, old, data)


def check_that_an_assembly_is_its_parts(
    name: str, old: Sequence[tuple[str, str | None]], data: st.DataObject
) -> None:
    assembly = book().assemblies[name]
    order = data.draw(st.permutations(assembly.brings))

    with TemporaryDirectory() as folder:
        whole = _garage(Path(folder) / "whole", old)
        save(whole, draft_fit(whole, CAR, name, PLACES[name], on=ON, at=AT))
        parts = _garage(Path(folder) / "parts", old)
        for kind in order:
            fields = assembly.attributes.get(kind, {})
            where = None if "one" in book().kinds[kind].positions else PLACES[name]
            alone = ["ball joint", "bushing"] if kind == "arm" else []
            save(parts, draft_fit(parts, CAR, kind, where, fields, without=alone, on=ON, at=AT))
        for event in assembly.raises:
            save(parts, draft_happening(parts, CAR, event, on=ON, at=AT))

        assert _schedule(whole) == _schedule(parts)


def _garage(path: Path, old: Sequence[tuple[str, str | None]]) -> Garage:
    garage = make_garage(path, surroundings())
    save(garage, draft_vehicle(garage, CAR, {"description": "Alderhay, invented", "year": "1970"}))
    save(garage, draft_reading(garage, CAR, "50000", on="2025-03-01"))
    save(garage, draft_reading(garage, CAR, "61000", on="2026-11-20"))
    for kind, where in old:
        save(garage, draft_fit(garage, CAR, kind, where, on=ON_BEFORE, at=AT_BEFORE))
    return garage


def _schedule(garage: Garage) -> Sequence[tuple[object, ...]]:
    return sorted(
        (
            str(item.rule.id),
            str(item.place),
            item.state.value,
            str(item.due_on),
            str(item.due_at),
            str(item.window),
            str(item.binds),
        )
        for item in garage.today(CAR).items
    )
