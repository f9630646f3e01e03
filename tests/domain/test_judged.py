"""Measurements against limits, with the shipped rules: wear, stamped and own figures, spread."""

from datetime import date
from decimal import Decimal

import pytest

from castlenut.domain.item import Item
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive
from castlenut.domain.working import Beats, Binds, Judged, State
from tests.builders import (
    book,
    car,
    figure,
    job,
    measured,
    part,
    reading,
    the_item,
    today,
    vehicle,
)

STEADY = (reading("2025-01-01", 50000), reading("2026-01-01", 53650))  # 10 mi a day


def judged(item: Item, measure: str) -> Judged:
    found = [step for step in item.working if isinstance(step, Judged) and step.measure == measure]
    assert found
    return found[0]


def test_wear_is_carried_on_to_the_limit() -> None:
    """10 mm at 50,000, 6.5 mm at 53,500: 1 mm a 1,000 mi; 3.325 mm to 1/8 in (3.175 mm): 56,825."""
    pads = part(
        "brake pad", "LF", on="2025-01-01", at=50000, stamped={"new": "10 mm"}, friction="disc"
    )
    seen = measured(
        "pad_thickness", "2025-12-17", 53500, "6.5", unit="mm", where="LF", resolution="0.1"
    )
    this = car(pads, readings=STEADY, measurements=[seen])

    item = the_item(today(this, book(), "2026-01-01"), "pad-measure")

    step = judged(item, "pad_thickness")
    assert step.passes is True
    assert step.rate_per_1000 is not None
    assert abs(step.rate_per_1000 * _mm(step) - 1.0) < 1e-3
    assert step.reached_at is not None
    assert abs(step.reached_at - 56825) < 1


def _mm(step: Judged) -> float:
    return {"mm": 1.0, "in": 25.4, "1/32 in": 25.4 / 32}[step.unit]


def test_below_the_limit_is_overdue_by_measurement() -> None:
    pads = part("brake pad", "LF", on="2025-01-01", at=50000, friction="disc")
    thin = measured("pad_thickness", "2025-12-17", 53500, "3.1", unit="mm", where="LF")
    this = car(pads, readings=STEADY, measurements=[thin])

    item = the_item(today(this, book(), "2026-01-01"), "pad-measure")

    assert (item.state, item.binds) == (State.OVERDUE, Binds.MEASUREMENT)


def test_exactly_at_the_limit_passes() -> None:
    pads = part("brake pad", "LF", on="2025-01-01", at=50000, friction="disc")
    limit = measured("pad_thickness", "2025-12-17", 53500, "0.125", unit="in", where="LF")
    this = car(pads, readings=STEADY, measurements=[limit])

    item = the_item(today(this, book(), "2026-01-01"), "pad-measure")

    assert judged(item, "pad_thickness").passes is True
    assert item.state is not State.OVERDUE


def test_the_figure_stamped_on_the_part_is_its_limit() -> None:
    rotor = part("rotor", "LF", on="2025-01-01", at=50000, stamped={"rotor_thickness": "20.4 mm"})
    thin = measured("rotor_thickness", "2025-12-17", 53500, "20.2", unit="mm", where="LF")
    this = car(rotor, readings=STEADY, measurements=[thin])

    item = the_item(today(this, book(), "2026-01-01"), "rotor-measure")

    assert judged(item, "rotor_thickness").whose is Beats.STAMPED
    assert item.state is State.OVERDUE


def test_without_a_stamped_figure_no_limit_is_known() -> None:
    rotor = part("rotor", "LF", on="2025-12-01", at=53300)
    seen = measured("rotor_thickness", "2025-12-17", 53500, "20.2", unit="mm", where="LF")
    this = car(rotor, readings=STEADY, measurements=[seen])

    item = the_item(today(this, book(), "2026-01-01"), "rotor-measure")

    step = judged(item, "rotor_thickness")
    assert (step.limit, step.passes) == (None, None)
    assert item.state is State.AHEAD


def test_a_bonded_lining_has_the_heavier_limit() -> None:
    """Invented pickup of 10,500 lb: 3/64 in of bonded lining is under 1/16."""
    shoes = part("brake shoe", "LR", on="2025-01-01", at=50000, friction="drum", lining="bonded")
    thin = measured("lining_thickness", "2025-12-17", 53500, "0.046875", unit="in", where="LR")
    this = car(shoes, of=vehicle(weight_lb=10500), readings=STEADY, measurements=[thin])

    item = the_item(today(this, book(), "2026-01-01"), "shoe-measure")

    assert item.state is State.OVERDUE


def test_the_lash_goes_by_the_steering_wheel() -> None:
    """18 in: 2-1/4 in (1.01). 2.3 fails; with a wheel of 20 in, 2-1/2, it passes."""
    box = part("steering box", on="2025-06-01", at=51510)
    lash = measured("wheel_lash", "2025-12-17", 53500, "2.3", unit="in")
    small = car(
        box,
        readings=STEADY,
        measurements=[lash],
        figures=[figure("steering_wheel_diameter", "18", "in")],
    )
    large = car(
        box,
        readings=STEADY,
        measurements=[lash],
        figures=[figure("steering_wheel_diameter", "20", "in")],
    )

    fails = the_item(today(small, book(), "2026-01-01"), "steering-lash")
    passes = the_item(today(large, book(), "2026-01-01"), "steering-lash")

    assert (fails.state, judged(fails, "wheel_lash").limit) == (State.OVERDUE, Decimal("2.25"))
    assert passes.state is not State.OVERDUE


def test_the_spread_of_a_set_follows_from_its_tread() -> None:
    """8/32 on three, 6/32 on one: 2/32 x 2 pi = 0.39 in, over the quarter inch (4.30, 4.31)."""
    tires = [part("tire", place, on="2024-01-01", at=46000) for place in ("LF", "RF", "LR", "RR")]
    depths = [
        measured("tread_depth", "2025-12-17", 53500, depth, unit="1/32 in", where=place)
        for place, depth in (("LF", "8"), ("RF", "8"), ("LR", "8"), ("RR", "6"))
    ]
    this = car(
        *tires,
        part("tire set", on="2024-01-01", at=46000),
        of=vehicle(drive=Drive.ALL),
        readings=STEADY,
        measurements=depths,
    )

    item = the_item(today(this, book(), "2026-01-01"), "awd-spread")

    assert item.state is State.OVERDUE
    value = judged(item, "circumference_spread").value
    assert value is not None
    assert abs(float(value) - 0.3927) < 1e-4


def test_a_job_done_after_a_failing_measurement_clears_it() -> None:
    box = part("steering box", on="2025-06-01", at=51510, name="box")
    this = car(
        box,
        readings=STEADY,
        measurements=[measured("wheel_lash", "2025-12-17", 53500, "2.3", unit="in")],
        figures=[figure("steering_wheel_diameter", "18", "in")],
        jobs=[job("2025-12-20", 53530, "steering-lash~box")],
    )

    item = the_item(today(this, book(), "2026-01-01"), "steering-lash")

    assert (item.state, item.due_on) == (State.AHEAD, date(2026, 12, 20))


def test_a_measurement_before_the_part_was_fitted_says_nothing_of_it() -> None:
    pads = part("brake pad", "LF", on="2025-12-20", at=53530, friction="disc")
    old = measured("pad_thickness", "2025-12-17", 53500, "1.0", unit="mm", where="LF")
    this = car(pads, readings=STEADY, measurements=[old])

    item = the_item(today(this, book(), "2026-01-01"), "pad-measure")

    assert judged(item, "pad_thickness").value is None
    assert item.state is State.AHEAD


def test_a_measurement_at_another_corner_says_nothing_of_it() -> None:
    pads = part("brake pad", "LF", on="2025-06-20", at=51700, friction="disc")
    other = measured("pad_thickness", "2025-12-17", 53500, "1.0", unit="mm", where="RF")
    this = car(pads, readings=STEADY, measurements=[other])

    item = the_item(today(this, book(), "2025-12-18"), "pad-measure")

    assert item.binds is not Binds.MEASUREMENT


@pytest.mark.published("1.05", basis="R", source="49 CFR 570.7(d): 1.5 x the value, in or out")
@pytest.mark.parametrize(
    ("spec", "toe", "passes"),
    [
        ("0.125", "0.1875", True),
        ("0.125", "-0.25", False),
        ("-0.125", "-0.15", True),
        ("-0.125", "-0.3", False),
    ],
)
def test_toe_is_held_in_or_out_alike(spec: str, toe: str, passes: bool) -> None:  # noqa: FBT001 - a case
    this = car(
        part("alignment", on="2025-06-01", at=51510),
        readings=STEADY,
        measurements=[measured("toe", "2025-12-17", 53500, toe, unit="in")],
        figures=[figure("toe", spec, "in")],
    )

    item = the_item(today(this, book(), "2026-01-01"), "align")

    assert judged(item, "toe").passes is passes


def test_camber_is_shown_beside_the_cars_own_figure_and_not_judged() -> None:
    this = car(
        part("alignment", on="2025-06-01", at=51510),
        readings=STEADY,
        measurements=[measured("camber", "2025-12-17", 53500, "-0.5", unit="deg")],
        figures=[figure("camber", "-1.0", "deg")],
    )

    item = the_item(today(this, book(), "2026-01-01"), "align")

    step = judged(item, "camber")
    assert (step.value, step.limit, step.passes) == (Decimal("-0.5"), Decimal(-1), None)


def test_measuring_counts_as_done_for_the_interval() -> None:
    pads = part("brake pad", "LF", on="2025-01-01", at=50000, friction="disc")
    seen = measured("pad_thickness", "2025-12-17", 53500, "9", unit="mm", where="LF")
    this = car(pads, readings=STEADY, measurements=[seen])

    item = the_item(today(this, book(), "2026-01-01"), "pad-measure")

    assert item.due_on == date(2026, 6, 17)
    assert this.vehicle.dial.unit is Unit.MI
