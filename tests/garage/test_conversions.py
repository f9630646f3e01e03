"""Conversions: parts that end and begin in one change, and the job that makes rules due."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.working import State
from castlenut.garage.changes.conversions import draft_conversion
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.drafts import difference
from castlenut.words.jobs import job_card, job_title
from tests.garage.conftest import CAR, Shop


@pytest.fixture
def shop(shop: Shop) -> Shop:
    """Give a car with drums all round, read today at 61,000."""
    shop.save(draft_reading(shop.garage, CAR, "60000", on="2026-08-17"))
    shop.save(draft_reading(shop.garage, CAR, "61000"))
    shop.save(draft_fit(shop.garage, CAR, "brake shoe", "all", {"adjuster": "manual"}, on="-"))
    shop.save(draft_fit(shop.garage, CAR, "alignment", on="-"))
    return shop


def test_front_drums_leave_and_discs_join(shop: Shop) -> None:
    draft = draft_conversion(shop.garage, CAR, "front-discs")

    found = difference(shop.garage, draft)

    assert {(str(item.id.rule), str(item.place)) for item in found.leaves} == {
        ("shoe-measure", "LF"),
        ("shoe-measure", "RF"),
        ("shoe-adjust", "LF"),
        ("shoe-adjust", "RF"),
    }
    assert {"pad-measure", "rotor-measure", "hose-look"} <= {
        str(item.id.rule) for item in found.joins
    }
    assert "bed-friction" in {str(item.id.rule) for item in found.due_now}


def test_nothing_is_stored_until_it_is_saved(shop: Shop) -> None:
    before = shop.table("component")
    draft_conversion(shop.garage, CAR, "front-discs")

    assert shop.table("component") == before


def test_one_change_takes_off_and_puts_on(shop: Shop) -> None:
    saved = shop.save(draft_conversion(shop.garage, CAR, "front-discs"))

    parts = shop.table("component")
    assert sorted(str(each["place"]) for each in parts if "removed_on" in each) == ["LF", "RF"]
    assert {each["why"] for each in parts if "removed_on" in each} == {"front drums to discs"}
    assert saved.change is not None
    assert {"brake pad", "rotor", "caliper"} <= {str(each["kind"]) for each in parts}


def test_the_job_raises_the_conversion_by_its_name(shop: Shop) -> None:
    shop.save(draft_conversion(shop.garage, CAR, "front-discs"))

    events = shop.table("job")[-1]["events"]
    assert isinstance(events, list)
    assert "front-discs" in events
    assert "convert front" in events
    assert {item.state for item in shop.items("align")} == {State.DUE}


def test_the_job_is_titled_by_the_conversion_in_words(shop: Shop) -> None:
    shop.save(draft_conversion(shop.garage, CAR, "front-discs"))

    car = shop.garage.car(CAR).car
    (job,) = car.jobs
    assert job_title(job, car, shop.garage.book).startswith(
        "front drums to discs, brake pad fitted"
    )
    assert "raised: front drums to discs" in job_card(job, car, shop.garage.book)


def test_rear_shoes_are_adjusted_after_it(shop: Shop) -> None:
    shop.save(draft_conversion(shop.garage, CAR, "front-discs"))

    assert {str(item.place) for item in shop.items("shoe-adjust")} == {"LR", "RR"}


def test_figures_go_to_the_parts_that_have_them(shop: Shop) -> None:
    shop.save(
        draft_conversion(
            shop.garage,
            CAR,
            "front-discs",
            {"stamped.rotor_thickness": ".97 in", "brake pad.new": "10mm", "service": "sealed"},
        )
    )

    parts = {str(each["kind"]): each for each in shop.table("component")}
    assert parts["rotor"]["stamped"] == {"rotor_thickness": "0.97 in"}
    assert parts["brake pad"]["stamped"] == {"new": "10 mm"}
    assert parts["wheel bearing"]["attributes"] == {"service": "sealed"}


def test_a_field_no_new_part_has_is_refused(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"no new part has a field 'colour'"):
        draft_conversion(shop.garage, CAR, "front-discs", {"colour": "red"})


def test_nothing_to_take_off_is_told(shop: Shop) -> None:
    draft = draft_conversion(shop.garage, CAR, "alternator")

    assert draft.told[0] == "nothing was recorded that alternator takes off: generator"
    assert draft.told[1].startswith("ask for: 6 V or 12 V")


def test_an_unknown_conversion_names_them_all(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"no conversion 'turbo'; use one of alternator"):
        draft_conversion(shop.garage, CAR, "turbo")


def test_another_tire_size_is_one_new_set(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "tire", "all", {"size": "185/70R14"}, on="2025-01-01"))
    shop.save(draft_conversion(shop.garage, CAR, "wheels", {"tire.size": "195/70R14"}))

    sets = [each for each in shop.table("component") if each["kind"] == "tire set"]
    tires = shop.garage.car(CAR).car.fitted(shop.garage.surroundings.today)
    assert [each.get("removed_on") for each in sets] == ["2026-11-25", None]
    assert [each.attributes["size"] for each in tires if each.kind == "tire"] == ["195/70R14"] * 4


def test_wheels_without_a_size_are_refused(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"size is missing"):
        draft_conversion(shop.garage, CAR, "wheels")
