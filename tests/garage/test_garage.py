"""A garage opened: finding cars, reading one file at a time, seeing what changed outside."""

import os
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from castlenut.domain.errors import BadInput
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafts import save
from castlenut.garage.garage import CannotRead, Garage, make_garage, open_garage
from castlenut.store.faults import FolderRefused
from tests.garage.conftest import CAR, Shop, surroundings


def add(garage: Garage, slug: str, description: str | None = None) -> None:
    save(garage, draft_vehicle(garage, slug, {"description": description} if description else {}))


def test_no_garage_says_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(FolderRefused, match=r'make one with "castlenut --garage .* add SLUG"'):
        open_garage(tmp_path / "nothing", surroundings())


def test_a_folder_with_other_things_is_no_garage(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("hello")

    with pytest.raises(FolderRefused, match=r"not empty"):
        make_garage(tmp_path, surroundings())


def test_cars_are_listed_by_short_name(garage: Garage) -> None:
    add(garage, "zeta")
    add(garage, "alpha")

    assert garage.slugs() == ("alpha", "zeta")


def test_a_beginning_of_the_short_name_or_description_finds_a_car(garage: Garage) -> None:
    add(garage, "millrace", "Wendlecot Millrace 1956, invented")
    add(garage, "cobblegate", "Brantholm Cobblegate 1986, invented")

    assert garage.find("mill") == "millrace"
    assert garage.find("Brantholm") == "cobblegate"


def test_a_name_is_found_without_opening_a_file(shop: Shop) -> None:
    (shop.garage.folder.vehicles / f"{CAR}.json").write_text("damaged")

    assert shop.garage.find("toll") == CAR


def test_a_near_miss_is_named(shop: Shop) -> None:
    with pytest.raises(BadInput) as raised:
        shop.garage.find("tolgate")

    assert str(raised.value.faults[0]) == (
        "vehicle: no vehicle 'tolgate'; did you mean 'tollgate'?"
    )


def test_an_ambiguous_beginning_names_the_cars(garage: Garage) -> None:
    add(garage, "mill-a")
    add(garage, "mill-b")

    with pytest.raises(BadInput, match=r"'mill' may be mill-a or mill-b"):
        garage.find("mill")


def test_one_car_is_read_and_no_other_file(shop: Shop) -> None:
    add(shop.garage, "other")
    (shop.garage.folder.vehicles / "other.json").write_text("damaged")

    assert shop.garage.car(CAR).car.vehicle.year == 1970


def test_a_damaged_car_costs_that_car_only(shop: Shop) -> None:
    add(shop.garage, "other")
    (shop.garage.folder.vehicles / "other.json").write_text("{\ndamaged")

    with pytest.raises(CannotRead) as raised:
        shop.garage.car("other")

    assert raised.value.fault.file == "vehicles/other.json"
    assert shop.garage.today(CAR).items is not None


def test_a_car_read_once_is_kept_until_its_file_changes(shop: Shop) -> None:
    first = shop.garage.car(CAR)
    again = shop.garage.car(CAR)
    shop.save(draft_reading(shop.garage, CAR, "100"))
    changed = shop.garage.car(CAR)

    assert again is first
    assert [each.figure for each in changed.car.readings] == [100]


def test_its_own_save_is_no_outside_change(shop: Shop) -> None:
    shop.garage.changed_files()
    shop.save(draft_reading(shop.garage, CAR, "100"))

    assert shop.garage.changed_files() == ()


def test_another_program_s_change_is_seen_and_read(shop: Shop, make: Callable[..., Garage]) -> None:
    shop.garage.car(CAR)
    other = make()
    save(other, draft_reading(other, CAR, "100"))

    assert shop.garage.changed_files() == (f"vehicles/{CAR}.json",)
    assert len(shop.garage.car(CAR).car.readings) == 1
    assert shop.garage.changed_files() == ()


def test_a_car_taken_away_is_a_change(shop: Shop) -> None:
    shop.garage.changed_files()
    os.unlink(shop.garage.folder.vehicles / f"{CAR}.json")  # noqa: PTH108

    assert shop.garage.changed_files() == (f"vehicles/{CAR}.json",)


def test_rules_of_the_garage_are_read_again_when_they_change(shop: Shop) -> None:
    shop.garage.changed_files()
    (shop.garage.path / "rules.toml").write_text('[[rule]]\nid = "oil"\noff = true\n')

    assert shop.garage.changed_files() == ("rules.toml",)
    assert shop.garage.book.rules["oil"].off  # type: ignore[index]  # a rule id is a text


def test_a_faulty_rule_file_leaves_the_shipped_rules(shop: Shop) -> None:
    (shop.garage.path / "rules.toml").write_text('[[rule]]\nid = "oil"\nbogus = 1\n')

    assert not shop.garage.book.rules["oil"].off  # type: ignore[index]  # a rule id is a text
    assert len(shop.garage.rule_faults) == 1


def test_settings_have_defaults(garage: Garage) -> None:
    assert garage.settings.horizon_months == 12
    assert sum(garage.settings.hours.values()) == 40


def test_a_record_with_two_values_for_a_field_is_told(
    shop: Shop, make: Callable[..., Garage]
) -> None:
    """Two programs correct one field from the same state: both values stand until one is chosen."""
    from castlenut.garage.changes.corrections import draft_correction

    other = make()
    ours = draft_correction(shop.garage, CAR, "vehicle", {"year": "1971"})
    theirs = draft_correction(other, CAR, "vehicle", {"year": "1972"})
    save(other, theirs)
    save(shop.garage, ours)

    (sentence,) = shop.garage.car(CAR).look_at
    assert "year is " in sentence
    assert "1971 by dev-test" in sentence
    assert "1972 by dev-test" in sentence


def test_what_was_reckoned_is_kept_until_what_it_rests_on_changes(shop: Shop) -> None:
    shop.garage.changed_files()
    first = shop.garage.today(CAR)
    again = shop.garage.today(CAR)
    shop.save(draft_reading(shop.garage, CAR, "100"))
    read = shop.garage.today(CAR)
    shop.garage.turn_to(date(2027, 1, 4))
    later = shop.garage.today(CAR)
    (shop.garage.path / "rules.toml").write_text('[[rule]]\nid = "oil"\noff = true\n')
    shop.garage.changed_files()

    assert again is first
    assert read.odometer.last() is not None
    assert later.today == date(2027, 1, 4)
    assert shop.garage.today(CAR) is not later
