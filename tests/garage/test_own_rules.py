"""A rule changed for one car."""

from datetime import date

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.working import Beats, Counted, Judged
from castlenut.garage.changes.jobs import draft_measurement
from castlenut.garage.changes.own_rules import draft_as_shipped, draft_own_rule
from castlenut.garage.changes.parts import draft_fit
from tests.garage.conftest import CAR, Shop

BOOK = "its book, p. 31"


@pytest.fixture
def oiled(shop: Shop) -> Shop:
    """Give the shop with engine oil and a brake pad fitted on 2026-06-01 at 40,000."""
    shop.save(draft_fit(shop.garage, CAR, "engine oil", on="2026-06-01", at="40000"))
    shop.save(draft_fit(shop.garage, CAR, "brake pad", "LF", on="2026-06-01", at="40000"))
    return shop


def test_a_car_of_its_own_interval_falls_due_by_it_and_says_whose_it_is(oiled: Shop) -> None:
    oiled.save(draft_own_rule(oiled.garage, CAR, "oil", every="5k/12m", why=BOOK))

    (item,) = oiled.items("oil")
    assert item.due_on == date(2027, 6, 1)
    assert item.shown.due_at == 45000
    assert Beats.THIS_CAR in [step.whose for step in item.working if isinstance(step, Counted)]
    assert item.rule.source == BOOK


def test_a_second_change_of_a_rule_keeps_what_it_does_not_give(oiled: Shop) -> None:
    oiled.save(draft_own_rule(oiled.garage, CAR, "oil", every="5k/12m", why=BOOK))
    oiled.save(draft_own_rule(oiled.garage, CAR, "engine oil, renew", first="500,1000"))

    assert oiled.table("rule_change") == [
        {"rule": "oil", "every": "5k/12m", "first": [500, 1000], "why": BOOK}
    ]


def test_first_points_may_be_none(oiled: Shop) -> None:
    oiled.save(draft_own_rule(oiled.garage, CAR, "pad-measure", first="-", why=BOOK))

    (item,) = oiled.items("pad-measure")
    assert item.rule.first == ()


def test_a_limit_with_its_unit_is_kept_as_entered_and_held_in_the_rules_unit(oiled: Shop) -> None:
    oiled.save(
        draft_own_rule(oiled.garage, CAR, "pad-measure", limits=["pad_thickness=4mm"], why=BOOK)
    )
    oiled.save(draft_measurement(oiled.garage, CAR, "pad-measure", "3.9mm"))

    assert oiled.table("rule_change")[0]["limits"] == {"pad_thickness": "4 mm"}
    (item,) = oiled.items("pad-measure")
    (judged,) = (step for step in item.working if isinstance(step, Judged))
    assert (judged.passes, judged.whose) == (False, Beats.THIS_CAR)


def test_a_rule_off_for_the_car_makes_no_item_and_as_shipped_brings_it_back(oiled: Shop) -> None:
    oiled.save(draft_own_rule(oiled.garage, CAR, "oil", off=True, why="a sealed engine, invented"))
    without = oiled.items("oil")
    oiled.save(draft_as_shipped(oiled.garage, CAR, "oil"))

    assert without == []
    assert [item.due_on for item in oiled.items("oil")] == [date(2026, 12, 1)]
    assert oiled.table("rule_change") == []


def test_a_rule_off_as_shipped_is_put_in_force_for_one_car(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "master cylinder", on="2026-06-01", at="40000"))
    shop.save(draft_own_rule(shop.garage, CAR, "hydraulics-seals", off=False, why=BOOK))

    assert [item.due_on for item in shop.items("hydraulics-seals")] == [date(2029, 6, 1)]


@pytest.mark.parametrize(
    ("given", "sentences"),
    [
        (
            {"every": "5k/12m"},
            ['why: no reason is given; say where it stands: "its book, p. 31"'],
        ),
        (
            {},
            [
                (
                    "rule: nothing is changed;"
                    " give --every, --first, --limit, --off, --in-force or --as-shipped"
                )
            ],
        ),
        (
            {"first": "1000,500", "why": BOOK},
            ["first: '1000,500' does not rise; write the nearest point first"],
        ),
        (
            {"every": "soon", "limits": ["toe=3"], "why": BOOK},
            [
                (
                    'every: "soon" is not an interval; write a distance, a time or both,'
                    " as 12k/24m, 500mi, 6k/-, -/12m or 10000km/12m"
                ),
                "limit: oil has no limit that is measured; leave --limit away",
            ],
        ),
    ],
)
def test_a_change_that_cannot_be_is_refused(
    shop: Shop, given: dict[str, object], sentences: list[str]
) -> None:
    with pytest.raises(BadInput) as refused:
        draft_own_rule(shop.garage, CAR, "oil", **given)  # type: ignore[arg-type]  # by name

    assert [str(fault) for fault in refused.value.faults] == sentences
    assert shop.table("rule_change") == []


def test_a_limit_in_a_unit_its_measure_does_not_have_is_refused(shop: Shop) -> None:
    with pytest.raises(BadInput) as refused:
        draft_own_rule(shop.garage, CAR, "pad-measure", limits=["pad_thickness=4 psi"], why=BOOK)

    assert [str(fault) for fault in refused.value.faults] == [
        (
            "limit: '4 psi' has a unit that pad thickness is not measured in;"
            " write 5/32, 4.5 mm, 0.125 in or 1/8 in"
        )
    ]
