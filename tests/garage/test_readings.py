"""Readings recorded: kept as entered, the odd ones told."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.garage.changes.readings import draft_reading
from tests.garage.conftest import CAR, Shop


def refusal(shop: Shop, figure: str, **options: str) -> str:
    with pytest.raises(BadInput) as raised:
        draft_reading(shop.garage, CAR, figure, **options)
    return str(raised.value.faults[0])


def test_a_reading_is_kept_as_entered(shop: Shop) -> None:
    saved = shop.save(
        draft_reading(shop.garage, CAR, "61,600", on="yesterday", note="by telephone")
    )

    assert saved.title == "reading 61,600 mi on 2026-11-24"
    assert [(each.table, each.vehicle) for each in saved.records] == [("reading", CAR)]
    assert shop.table("reading") == [
        {"figure": 61600, "on": "2026-11-24", "unit": "mi", "note": "by telephone"}
    ]


def test_another_unit_is_kept_with_the_figure(shop: Shop) -> None:
    shop.save(draft_reading(shop.garage, CAR, "51000.3", unit="km"))

    (values,) = shop.table("reading")
    assert (str(values["figure"]), values["unit"]) == ("51000.3", "km")


def test_a_lower_figure_is_kept_and_told(shop: Shop) -> None:
    shop.save(draft_reading(shop.garage, CAR, "61600", on="2026-11-20"))

    draft = draft_reading(shop.garage, CAR, "16600")

    assert len(draft.told) == 2  # of two that disagree either may be the mistaken one
    assert "16,600 is lower than 61,600 on 20 November 2026" in draft.told[1]
    assert shop.save(draft).change is not None


def test_what_was_odd_before_is_not_told_again(shop: Shop) -> None:
    shop.save(draft_reading(shop.garage, CAR, "61600", on="2026-11-18"))
    shop.save(draft_reading(shop.garage, CAR, "16600", on="2026-11-19"))

    assert draft_reading(shop.garage, CAR, "61650").told == ()


@pytest.mark.parametrize(
    ("figure", "options", "sentence"),
    [
        ("abc", {}, "figure: 'abc' is no dial figure;"),
        ("-5", {}, "figure: '-5' is negative;"),
        ("123456", {}, "figure: '123456' has more digits than the dial, which shows 5;"),
        ("100", {"unit": "furlong"}, "figure: '100': 'furlong' is no unit of distance;"),
        ("100", {"on": "2026-02-30"}, "on: '2026-02-30' is no day: February 2026 has 28 days;"),
        ("100", {"on": "2026-12-01"}, "on: 2026-12-01 is after today, 2026-11-25;"),
        ("100", {"on": "1960-05-01"}, "on: 1960-05-01 is before the car was made, 1970;"),
    ],
)
def test_what_cannot_be_is_refused(
    shop: Shop, figure: str, options: dict[str, str], sentence: str
) -> None:
    assert refusal(shop, figure, **options).startswith(sentence)
    assert shop.table("reading") == []


def test_a_car_may_be_built_in_the_year_before_its_model_year(shop: Shop) -> None:
    assert draft_reading(shop.garage, CAR, "3", on="1969-10-01").told == ()


def test_several_faults_are_told_together(shop: Shop) -> None:
    with pytest.raises(BadInput) as raised:
        draft_reading(shop.garage, CAR, "abc", on="soon")

    assert {fault.where for fault in raised.value.faults} == {"figure", "on"}


def test_a_record_may_not_hold_control_characters(shop: Shop) -> None:
    assert "holds control characters" in refusal(shop, "100", note="a\x1b[2J")
