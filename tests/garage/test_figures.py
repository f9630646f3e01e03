"""Entering the car's own figures, and what their limits make of them."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.working import Beats, Judged
from castlenut.garage.changes.figures import draft_figure
from castlenut.garage.changes.jobs import draft_measurement
from castlenut.garage.changes.parts import draft_fit
from tests.garage.conftest import CAR, Shop


def test_a_figure_is_kept_with_its_place_and_where_it_came_from(shop: Shop) -> None:
    shop.save(
        draft_figure(shop.garage, CAR, "camber", "-0.5", "deg", where="LF,RF", source="plate")
    )

    assert shop.table("figure") == [
        {"name": "camber", "place": "LF", "value": -0.5, "unit": "deg", "source": "plate"},
        {"name": "camber", "place": "RF", "value": -0.5, "unit": "deg", "source": "plate"},
    ]


def test_the_same_figure_again_corrects_the_one_before(shop: Shop) -> None:
    shop.save(draft_figure(shop.garage, CAR, "toe", "1/8", "in", source="its book, p. 112"))
    shop.save(draft_figure(shop.garage, CAR, "Toe", "1/16", "in"))

    assert shop.table("figure") == [
        {"name": "toe", "value": 0.0625, "unit": "in", "source": "its book, p. 112"}
    ]


def test_a_place_the_car_does_not_have_is_refused(shop: Shop) -> None:
    with pytest.raises(BadInput) as refused:
        draft_figure(shop.garage, CAR, "tire pressure", "32", "psi", where="LRO")

    assert [str(fault) for fault in refused.value.faults] == [
        (
            "place: the car has no LRO: its rear wheels are single;"
            " give LR or RR, or correct the vehicle: dual=yes"
        )
    ]


def test_both_a_wrong_unit_and_a_wrong_place_are_told(shop: Shop) -> None:
    with pytest.raises(BadInput) as refused:
        draft_figure(shop.garage, CAR, "lug nut torque", "75", "psi", where="LRI")

    assert [fault.where for fault in refused.value.faults] == ["unit", "place"]


def test_a_drum_with_nothing_cast_on_it_is_held_against_the_cars_own_figure(shop: Shop) -> None:
    """Before 1971 no figure is cast: the car's book has it."""
    shop.save(draft_fit(shop.garage, CAR, "drum", "LF", on="2026-01-02", at="-"))
    shop.save(draft_figure(shop.garage, CAR, "drum_diameter", "11.06", "in"))
    shop.save(draft_measurement(shop.garage, CAR, "drum-measure", "11.08 in"))

    (item,) = shop.items("drum-measure")
    (judged,) = (step for step in item.working if isinstance(step, Judged))
    assert judged.passes is False
    assert judged.whose is Beats.THIS_CAR
