"""Which parts to have on hand: an invented car whose hoses are due."""

from castlenut.domain.component import Component
from castlenut.domain.frozen import replace
from castlenut.domain.on_hand import Needed, needed
from tests.builders import book, car, day, part, reading, today

READINGS = [reading("2026-10-05", 40000), reading("2026-11-24", 40500)]


def hose(where: str, *, number: str | None = None, on: str = "2021-01-01") -> Component:
    return replace(part("brake hose", where, on=on, at=20000, material="rubber"), part=number)


def shelved(where: str, number: str) -> Component:
    made = part("brake hose", where, name=f"shelf {where}", material="rubber")
    return replace(made, part=number, is_on_shelf=True)


def wanted(*parts: Component, part_name: str = "brake hose", **asked: object) -> list[Needed]:
    found = today(car(*parts, readings=READINGS), book(), "2026-11-25")
    every = needed(found, book().kinds, planned={}, **asked)  # type: ignore[arg-type]  # by name
    return [each for each in every if each.part == part_name]


def test_what_is_due_asks_for_its_parts_at_its_places() -> None:
    (found,) = wanted(hose("LF", number="BH-204"), hose("RF", number="BH-204"))

    assert found.kind == "brake hose"
    assert [str(place) for place in found.places] == ["LF", "RF"]
    assert found.number == "BH-204"
    assert found.planned_on is None
    assert {item.id.rule for item in found.items} == {"hose-renew"}


def test_the_number_is_the_one_last_fitted() -> None:
    old = replace(
        hose("LF", number="OLD-1", on="2010-01-01"),
        record=part("x", name="a").record,
        removed_on=day("2021-01-01"),
    )

    (found,) = wanted(old, hose("LF", number="BH-204"))

    assert found.number == "BH-204"


def test_what_lies_on_the_shelf_for_that_place_is_told() -> None:
    (found,) = wanted(hose("LF"), hose("RF"), shelved("RF", "BH-9"), shelved("LR", "BH-7"))

    assert [each.part for each in found.shelf] == ["BH-9"]


def test_a_part_that_is_no_kind_has_no_number() -> None:
    (found,) = wanted(hose("LF"), part_name="copper washer")

    assert (found.kind, found.number, found.shelf) == (None, None, ())


def test_what_has_no_record_is_looked_at_before_anything_is_ordered() -> None:
    unknown = part("brake hose", "LF", material="rubber")

    assert wanted(unknown) == []


def test_what_falls_due_by_a_day_is_asked_for_by_then() -> None:
    oil = part("engine oil", on="2026-08-01", at=40400)  # 6 months: 2027-02-01

    assert wanted(oil, part_name="engine oil") == []
    assert wanted(oil, part_name="engine oil", until=day("2027-02-01")) != []


def test_what_is_planned_comes_with_its_day_before_what_is_due() -> None:
    this = car(hose("LF"), part("engine oil", on="2026-08-01", at=40400), readings=READINGS)
    found = today(this, book(), "2026-11-25")
    oil = next(item for item in found.items if item.id.rule == "oil")

    every = needed(found, book().kinds, planned={oil.id: day("2026-12-02")})

    assert (every[0].planned_on, every[0].items) == (day("2026-12-02"), (oil,))
    assert every[-1].planned_on is None
