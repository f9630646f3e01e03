"""The sample garage copied, with all its days moved together."""

import json
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from castlenut.garage import demo
from castlenut.garage.changes.exposures import draft_layup
from castlenut.garage.changes.jobs import draft_job
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.settings import draft_settings
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage, open_garage
from castlenut.store.faults import FolderRefused
from castlenut.store.sample import copy_moved, last_reading_day
from tests.garage.conftest import CAR, Shop, surroundings

LATER = date(2027, 3, 1)


@pytest.fixture
def sample(shop: Shop) -> Garage:
    """Give a garage with a car whose last reading is of 24 November 2026."""
    garage = shop.garage
    save(garage, draft_settings(garage, {"name": "invented", "closed": "2026-12-25"}))
    save(garage, draft_vehicle(garage, "second", {}))
    save(garage, draft_reading(garage, CAR, "61000", on="2026-11-24"))
    save(garage, draft_reading(garage, CAR, "60000", on="2026-08-16"))
    save(garage, draft_fit(garage, CAR, "brake fluid", None, {"made": "2024-01-01"}, on="-"))
    save(garage, draft_job(garage, CAR, ["brake-fluid"], on="2026-10-01", at="60400"))
    save(garage, draft_layup(garage, CAR, since="2026-11-20", until="2027-04-15"))
    (garage.path / "rules.toml").write_text('[[rule]]\nid = "oil"\noff = true\n')
    return garage


def test_every_day_moves_by_the_same_and_nothing_else(sample: Garage, tmp_path: Path) -> None:
    copy_moved(sample.folder, tmp_path / "copy", days=10)

    copy = Shop(open_garage(tmp_path / "copy", surroundings()))
    assert [(each["figure"], each["on"]) for each in copy.table("reading")] == [
        (61000, "2026-12-04"),
        (60000, "2026-08-26"),
    ]
    assert copy.table("job")[0]["on"] == "2026-10-11"
    assert copy.table("component")[0]["made"] == "2024-01-11"
    assert copy.table("exposure")[0]["to"] == "2027-04-25"
    assert copy.table("vehicle")[0]["year"] == 1970
    assert copy.garage.settings.closed == (date(2027, 1, 4),)
    assert copy.garage.book.rules["oil"].off  # type: ignore[index]  # a rule id is a text


def test_the_record_is_written_as_far_back_as_it_was(sample: Garage, tmp_path: Path) -> None:
    copy_moved(sample.folder, tmp_path / "copy", days=-365)

    text = (tmp_path / "copy" / "vehicles" / f"{CAR}.json").read_text()
    stamps = {
        revision["at"]
        for table, records in json.loads(text).items()
        if table != "castlenut"
        for record in records.values()
        for revision in record["revs"]
    }
    assert min(stamps).startswith("2025-11-25T12:")


def test_the_last_reading_of_all_cars_is_found(sample: Garage) -> None:
    assert last_reading_day(sample.folder) == date(2026, 11, 24)


def test_the_demo_ends_yesterday(
    sample: Garage, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(demo, "_sample", lambda: sample.path)

    made = demo.make_demo(tmp_path / "demo", surroundings(LATER))

    assert last_reading_day(open_garage(made, surroundings(LATER)).folder) == date(2027, 2, 28)


def test_a_folder_that_holds_something_is_refused(sample: Garage, tmp_path: Path) -> None:
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "letter.txt").write_text("hello")

    with pytest.raises(FolderRefused, match=r"is not empty: choose an empty folder"):
        copy_moved(sample.folder, tmp_path / "full", days=1)


def test_an_empty_folder_is_taken(
    sample: Garage, make: Callable[..., Garage], tmp_path: Path
) -> None:
    (tmp_path / "empty").mkdir()

    copy_moved(sample.folder, tmp_path / "empty", days=0)

    assert make("empty").slugs() == ("second", CAR)
