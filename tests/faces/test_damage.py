"""Damaged files, whatever the damage: a sentence, no byte lost, every other car answered."""

import json
import shutil
from collections.abc import Iterable
from pathlib import Path

import pytest

from tests.damage.corpus import every
from tests.faces.in_process import ran
from tests.fleet.build_sample_fleet import FLEET

TODAY = "2026-11-25"
CAR = "wendlecot-millrace"
OTHER = "tessarin-pim"
UNUSUAL = "something went wrong"


@pytest.fixture
def garage(tmp_path: Path) -> Path:
    """Give two cars of the sample fleet."""
    path = tmp_path / "garage"
    (path / "vehicles").mkdir(parents=True)
    shutil.copy(FLEET / "garage.json", path)
    for slug in (CAR, OTHER):
        shutil.copy(FLEET / "vehicles" / f"{slug}.json", path / "vehicles")
    return path


def holds(garage: Path, path: Path, forms: Iterable[tuple[str, bytes]]) -> int:
    """Prove each damaged form of one file; give how many made it unreadable."""
    whole = path.read_bytes()
    slug = None if path.name == "garage.json" else path.stem
    others = {
        each: ran("records", each, garage=garage, today=TODAY).out
        for each in (CAR, OTHER)
        if each != slug
    }
    refused = 0
    for what, data in forms:
        path.write_bytes(data)
        found = ran("check", "--json", garage=garage, today=TODAY)
        assert found.code == 0, (what, found.err)
        told = {each["fault"] for each in json.loads(found.out) if each["file"].endswith(path.name)}
        for each, before in others.items():
            answer = ran("records", each, garage=garage, today=TODAY)
            assert (answer.code, answer.out) == (0, before), what
        if slug is not None:
            answer = ran("records", slug, garage=garage, today=TODAY)
            assert answer.code == (2 if told & {"damaged", "newer"} else 0), (what, answer.err)
            assert UNUSUAL not in answer.err, (what, answer.err)
        assert UNUSUAL not in found.err, (what, found.err)
        if "damaged" in told:
            refused += 1
            _refuses_to_write(garage, slug, what)
        assert path.read_bytes() == data, what
    path.write_bytes(whole)
    return refused


def _refuses_to_write(garage: Path, slug: str | None, what: str) -> None:
    words = ("settings", "name=x") if slug is None else ("reading", slug, "99000")
    answer = ran(*words, garage=garage, today=TODAY)
    assert answer.code == 2, (what, answer)
    assert "check --repair" in answer.err, (what, answer.err)


def mends(garage: Path, path: Path, forms: Iterable[tuple[str, bytes]]) -> None:
    """Repair each damaged form: the damaged bytes are kept, the file reads, the car is answered."""
    whole = path.read_bytes()
    name = "garage" if path.name == "garage.json" else path.stem
    for what, data in forms:
        path.write_bytes(data)
        faults = json.loads(ran("check", "--json", garage=garage, today=TODAY).out)
        if not any(each["fault"] == "damaged" for each in faults):
            continue
        answer = ran("check", "--repair", name, garage=garage, today=TODAY)
        assert answer.code == 0, (what, answer.err)
        assert " records saved" in answer.out
        kept = (garage / ".castlenut" / "damaged").glob(f"{path.name}.*")
        assert data in [each.read_bytes() for each in kept], what
        after = json.loads(ran("check", "--json", garage=garage, today=TODAY).out)
        assert not [each for each in after if each["fault"] == "damaged"], (what, after)
    path.write_bytes(whole)


def test_a_damaged_car_costs_that_car_alone(garage: Path) -> None:
    path = garage / "vehicles" / f"{CAR}.json"

    assert holds(garage, path, [*every(path.read_bytes(), count=4, places=1)][::4]) > 8


def test_a_damaged_garage_record_costs_no_car(garage: Path) -> None:
    path = garage / "garage.json"

    assert holds(garage, path, [*every(path.read_bytes(), count=4, places=1)][::4]) > 8


def test_every_damage_can_be_mended(garage: Path) -> None:
    for path in (garage / "vehicles" / f"{CAR}.json", garage / "garage.json"):
        mends(garage, path, list(every(path.read_bytes(), count=4, places=1))[::16])


@pytest.mark.long
@pytest.mark.parametrize(
    "slug", ["garage", *sorted(each.stem for each in (FLEET / "vehicles").iterdir())]
)
def test_every_file_of_the_fleet_cut_at_200_places_and_flipped(garage: Path, slug: str) -> None:
    path = garage / "garage.json"
    if slug != "garage":
        path = garage / "vehicles" / f"{slug}.json"
        shutil.copy(FLEET / "vehicles" / f"{slug}.json", path)

    assert holds(garage, path, every(path.read_bytes(), places=5)) > 200
    mends(garage, path, every(path.read_bytes(), count=40, places=1))
