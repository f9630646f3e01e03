"""The plan from the record: depths and wear of the car's own, its band, and what keeps it back."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.place import Spot
from castlenut.domain.tires.outlook import plan_of, why_no_plan
from castlenut.domain.tires.prospect import MoveSet
from castlenut.store.revisions import StoredRecord
from tests.domain.tires.recorded import kept, measured, shod, tires

WIDE = {place: {"size": "225/60R15"} for place in ("LR", "RR")}


def depths(**mm: float) -> list[StoredRecord]:
    return [measured(f"tire-{place}", "2026-04-11", 51000, each) for place, each in mm.items()]


WORN = depths(LF=7.0, RF=7.0, LR=6.0, RR=6.0)


def test_the_wear_is_that_of_the_car_moved_from_what_is_usual() -> None:
    """New 8.0 at 50,000; at 51,000 the front lost 0.3 and the rear 0.6, not 0.152 and 0.168."""
    found = tires(*shod(), *depths(LF=7.7, RF=7.7, LR=7.4, RR=7.4))

    assert found.wear.learned_from == 4
    assert 0.2 < found.rates[Spot.LF] < 0.35
    assert 0.25 < found.rates[Spot.LR] < 0.6


def test_without_a_measurement_the_wear_is_the_usual_one() -> None:
    """From memory: 0.16 mm per 1,000 mi, rear drive 0.95 in front and 1.05 behind."""
    found = tires(*shod())

    assert found.wear.learned_from == 0
    assert found.rates[Spot.LF] == pytest.approx(0.152)
    assert found.rates[Spot.RR] == pytest.approx(0.168)


def test_the_interval_is_that_of_the_rule_in_force() -> None:
    own = kept("rule_change", "own", rule="tire-rotate", every="3k", why="its book")

    assert tires(*shod()).interval == 5000
    assert tires(*shod(), own).interval == 3000


def test_the_plan_begins_with_a_move_that_is_allowed() -> None:
    outlook = plan_of(tires(*shod(), *WORN))

    first = outlook.next_move
    assert first is not None
    assert first.places[Spot.LR] in {"LF", "RF"}
    assert outlook.interval == 5000
    assert outlook.prospect.plan.course.life <= outlook.prospect.plan.bound + 1e-6


def test_the_band_holds_the_life_and_is_the_same_each_time() -> None:
    found = tires(*shod(), *WORN)

    one, again = plan_of(found), plan_of(found)

    assert one.life_p10 < one.prospect.plan.course.life < one.life_p90
    assert (one.life_p10, one.life_p90) == (again.life_p10, again.life_p90)


def test_staggered_tires_are_planned_on_their_axles() -> None:
    outlook = plan_of(tires(*shod(tires=WIDE), *WORN))

    for stint in outlook.prospect.stints:
        assert {stint.places[Spot.LF], stint.places[Spot.RF]} == {"LF", "RF"}


def test_with_patterns_alone_each_move_is_one() -> None:
    outlook = plan_of(tires(*shod(), *WORN), moves=MoveSet.PATTERNS)

    done = {stint.pattern for stint in outlook.prospect.stints if stint.moves}
    assert done <= {each.pattern for each in tires(*shod(), *WORN).left}


def test_a_spare_like_the_others_joins() -> None:
    records = [*shod(places=("LF", "RF", "LR", "RR", "SP")), *WORN, *depths(SP=8.0)]

    assert plan_of(tires(*records)).prospect.joins
    assert not plan_of(tires(*records), use_spare=False).prospect.joins


def test_everything_that_keeps_a_plan_back_is_told_at_once() -> None:
    off = kept("rule_change", "own", rule="tire-rotate", every="-/12m", why="its book")
    found = tires(
        *shod(places=("LF", "RF", "LR"), tires={"RF": {"new_depth": None}}),
        *depths(LF=1.5),
        off,
    )

    told = [str(fault) for fault in why_no_plan(found)]

    no_interval = "no distance between rotations is in force; give this car one with every=5k"
    assert told == [
        "RR: there is no tire at RR; fit one first",
        "LF: has 1.5 mm: at the limit; renew it first",
        "RF: its tread is not measured; measure it first",
        f"rule tire-rotate: {no_interval}",
    ]
    with pytest.raises(BadInput) as raised:
        plan_of(found)
    assert [str(fault) for fault in raised.value.faults] == told


def test_a_heavy_car_plans_to_the_stricter_limit_of_its_front_axle() -> None:
    """1.12: over 10,000 lb the front tires keep 4/32 in, 3.175 mm."""
    base = [*shod(), *WORN]
    heavy = kept("vehicle", "vehicle", **{**base[0].values, "weight_lb": 10500})

    light = plan_of(tires(*base)).prospect
    strict = plan_of(tires(heavy, *base[1:])).prospect

    assert tires(heavy, *base[1:]).rules.front_limit_mm == pytest.approx(3.175)
    assert strict.plan.course.life < light.plan.course.life
