"""The tires of a car from its record: what stands where, how far it ran, what may move."""

from datetime import date
from decimal import Decimal

import pytest

from castlenut.domain.ids import RecordId
from castlenut.domain.place import Spot
from castlenut.domain.tires.advice import CheckTube, DepthOld, NotAsStated, TreadsApart
from castlenut.domain.tires.amiss import (
    DeeperThanNew,
    DriveNotKnown,
    NoSuchPlace,
    NotRead,
    OtherConstruction,
    TireWithoutWheel,
    TreadGrew,
    TwoAtOnePlace,
    WheelWithoutTire,
)
from castlenut.domain.tires.axle import Axle
from castlenut.domain.tires.exchanges import Exchange
from castlenut.domain.tires.reasons import Answer, Code
from castlenut.domain.tires.rotation.moves import Pattern
from castlenut.domain.tires.size import Construction
from castlenut.domain.tires.standing import Standing
from castlenut.domain.tires.today import TiresToday
from castlenut.words.amiss import look_at
from castlenut.words.reasons import advised
from tests.domain.tires.recorded import DUALS, a_tire, a_wheel, kept, measured, put, shod, tires

WIDE = {"size": "225/60R15"}


def at(found: TiresToday, spot: Spot) -> Standing:
    here = found.at(spot)
    assert here is not None
    return here


def left(found: TiresToday) -> list[str]:
    return [each.pattern.value for each in found.left]


def test_places_come_as_one_walks_round_the_car() -> None:
    found = tires(*shod(places=(*DUALS, "SP"), dual=True))

    assert [each.spot.value for each in found.standing] == [*DUALS, "SP"]


def test_the_spares_place_is_told_only_where_something_stands_there() -> None:
    found = tires(*shod())

    assert [each.spot.value for each in found.standing] == ["LF", "RF", "LR", "RR"]
    assert found.missing == ()


def test_four_tires_alike_may_go_in_every_pattern_of_four() -> None:
    found = tires(*shod())

    assert left(found) == [
        "forward cross",
        "rearward cross",
        "X",
        "front to rear",
        "side to side",
    ]
    assert found.usual is Pattern.REARWARD_CROSS
    assert found.none_possible == ()


def test_a_wider_pair_at_the_rear_leaves_side_to_side() -> None:
    found = tires(*shod(tires={"LR": {**WIDE}, "RR": {**WIDE}}))

    assert left(found) == ["side to side"]


def test_wheels_are_named_by_the_place_they_stand_at() -> None:
    found = tires(
        *shod(),
        put("tire-LF+wheel-LF", "RR", on="2026-03-01", at=50590),
        put("tire-RR+wheel-RR", "LF", on="2026-03-01", at=50590),
    )

    here = at(found, Spot.RR)
    assert here.tire is not None
    assert here.tire.record == "tire-LF"
    assert here.assembly is not None
    assert here.assembly.id == "RR"
    assert here.since_on == date(2026, 3, 1)
    assert here.since_at == Decimal(50590)


def test_distance_by_place_follows_from_the_placements() -> None:
    """1,000 mi: 600 at LF, then 400 at RR."""
    found = tires(
        *shod(),
        put("tire-LF+wheel-LF", "RR", on="2026-03-02", at=50600),
        put("tire-RR+wheel-RR", "LF", on="2026-03-02", at=50600),
    )

    run = at(found, Spot.RR).run
    assert run is not None
    assert run.by_spot == {Spot.LF: 600.0, Spot.RR: 400.0}
    assert run.is_whole
    assert run.on_road == 1000.0


def test_a_spare_runs_no_distance_on_the_road() -> None:
    found = tires(*shod(places=("LF", "RF", "LR", "RR", "SP")))

    run = at(found, Spot.SP).run
    assert run is not None
    assert run.by_spot == {Spot.SP: 1000.0}
    assert run.on_road == 0.0


def test_a_set_off_the_car_keeps_where_it_stood_and_how_far_it_ran() -> None:
    found = tires(
        *shod(),
        a_tire("tire-winter", tin="ABCD EFG 2819"),
        put("tire-winter", "LF", on="2025-11-01", at=49000),
        put("tire-winter", None, on="2025-12-31", at=49900),
    )

    (off,) = found.off
    assert off.tire is not None
    assert off.tire.record == "tire-winter"
    assert (off.stood, off.off_on) == (Spot.LF, date(2025, 12, 31))
    assert off.run is not None
    assert off.run.by_spot == {Spot.LF: 900.0}


def test_tire_and_wheel_that_came_off_together_lie_together() -> None:
    found = tires(*shod(), put("tire-LF+wheel-LF", None, on="2026-04-01", at=50900))

    (off,) = found.off
    assert off.tire is not None
    assert off.wheel is not None
    assert off.wheel.record == "wheel-LF"
    assert found.missing == (Spot.LF,)


def test_age_and_weeks_come_from_the_number() -> None:
    """Week 28 of 2019 began on 14 July: 2,463 days to 11 April 2026, 6.74 years of 365.25."""
    found = tires(*shod(tires={"LF": {"tin": "ABCD EFG 2819"}}))

    here = at(found, Spot.LF)
    assert here.made is not None
    assert [(week.year, week.number) for week in here.made.weeks] == [(2019, 28)]
    assert here.age_years == pytest.approx(6.743, abs=0.001)


def test_a_number_that_may_mean_several_decades_gives_no_age() -> None:
    found = tires(*shod(tires={"LF": {"tin": "ABCD EFG 289"}}))

    here = at(found, Spot.LF)
    assert here.made is not None
    assert len(here.made.weeks) > 1
    assert here.age_years is None


def test_a_tire_fitted_new_counts_as_measured_for_its_first_thousand_miles() -> None:
    found = tires(*shod())

    here = at(found, Spot.LF)
    assert here.depths is not None
    assert here.depths.is_new
    assert here.depths.thinnest_mm == 8.0
    assert here.left == 1.0


def test_after_that_it_is_not_measured() -> None:
    found = tires(
        *shod(),
        kept("reading", "later", figure=51210, on="2026-05-01", unit="mi"),
        on=date(2026, 5, 1),
    )

    assert at(found, Spot.LF).depths is None
    verdict = found.verdict_on(Pattern.X)
    assert verdict is not None
    assert Code.WORN in {each.code for each in verdict.reasons}
    assert verdict.answer is Answer.NOT_KNOWN


def test_the_share_of_tread_left_counts_from_new_to_the_limit() -> None:
    """8.0 new, 1.6 the limit, 4.8 now: half."""
    found = tires(*shod(), measured("tire-LF", "2026-04-01", 50900, 5.2, 4.8, 5.0))

    assert at(found, Spot.LF).left == pytest.approx(0.5)


def test_a_wheel_missing_is_named() -> None:
    found = tires(*shod(places=("LF", "RF", "LR")))

    assert found.missing == (Spot.RR,)
    verdict = found.verdict_on(Pattern.X)
    assert verdict is not None
    assert verdict.answer is Answer.NO


def test_without_a_tire_on_the_car_nothing_is_judged() -> None:
    found = tires(*shod(places=()))

    assert found.wheels is None
    assert found.patterns == ()
    assert found.none_possible == ()


def test_two_tires_at_one_place_the_last_is_shown_and_it_is_told() -> None:
    found = tires(*shod(), a_tire("tire-other"), put("tire-other", "LF", on="2026-02-01", at=50310))

    here = at(found, Spot.LF)
    assert here.tire is not None
    assert here.tire.record == "tire-other"
    assert (
        TwoAtOnePlace(
            spot=Spot.LF, kind="tire", records=(RecordId("tire-LF"), RecordId("tire-other"))
        )
        in found.look_at
    )


def test_a_wheel_without_its_tire_and_a_tire_without_a_wheel_are_told() -> None:
    found = tires(
        *shod(),
        put("tire-LF", None, on="2026-02-01", at=50310),
        put("wheel-RR", None, on="2026-02-01", at=50310),
    )

    assert WheelWithoutTire(spot=Spot.LF, wheel=RecordId("wheel-LF")) in found.look_at
    assert TireWithoutWheel(spot=Spot.RR, tire=RecordId("tire-RR")) in found.look_at


def test_a_place_that_the_car_does_not_have_is_told() -> None:
    found = tires(*shod(), a_wheel("wheel-odd"), put("wheel-odd", "LRI"))

    assert NoSuchPlace(spot=Spot.LRI, kind="wheel", record=RecordId("wheel-odd")) in found.look_at


def test_a_size_that_cannot_be_read_is_told_and_not_known() -> None:
    found = tires(*shod(tires={"LF": {"size": "20/60R15"}}))

    (wrong,) = (each for each in found.look_at if isinstance(each, NotRead))
    assert (wrong.spot, wrong.tire) == (Spot.LF, "tire-LF")
    assert "character" in wrong.fault.what
    assert at(found, Spot.LF).size is None


def test_a_construction_other_than_marked_is_told_and_the_recorded_one_counts() -> None:
    found = tires(*shod(tires={"LF": {"construction": "bias"}}))

    assert (
        OtherConstruction(spot=Spot.LF, recorded=Construction.BIAS, marked=Construction.RADIAL)
        in found.look_at
    )
    assert at(found, Spot.LF).construction is Construction.BIAS


def test_without_a_drive_the_strictest_is_taken_and_told() -> None:
    found = tires(*shod(drive=None))

    assert DriveNotKnown() in found.look_at
    assert found.usual is Pattern.REARWARD_CROSS


def test_tread_deeper_than_new_and_tread_that_grew_are_told() -> None:
    found = tires(
        *shod(),
        measured("tire-LF", "2026-02-01", 50310, 7.0),
        measured("tire-LF", "2026-04-01", 50900, 9.0),
    )

    assert (
        DeeperThanNew(spot=Spot.LF, tire=RecordId("tire-LF"), depth_mm=9.0, new_mm=8.0)
        in found.look_at
    )
    assert TreadGrew(spot=Spot.LF, tire=RecordId("tire-LF"), by_mm=2.0) in found.look_at


def test_all_wheel_drive_is_warned_of_more_than_a_millimeter() -> None:
    """4.30: 1/4 in of circumference is 1.0 mm of tread. 2/32 in is 1.59 mm."""
    depths = [
        measured(f"tire-{place}", "2026-04-01", 50900, depth, unit="1/32 in")
        for place, depth in (("LF", 8), ("RF", 8), ("LR", 8), ("RR", 6))
    ]

    found = tires(*shod(drive="all"), *depths)

    (warned,) = (each for each in found.advice if isinstance(each, TreadsApart))
    assert warned.difference_mm == pytest.approx(1.5875)
    assert warned.limit_mm == 1.0
    assert Pattern.REARWARD_CROSS.value in left(found)


def test_the_cars_own_figure_of_spread_goes_before_the_rules() -> None:
    """1 in of circumference over 2 pi is 0.159 in, 4.04 mm of tread."""
    own = kept("figure", "spread", name="circumference_spread", value=1, unit="in")

    found = tires(*shod(drive="all"), own)

    assert found.rules.max_difference_mm == pytest.approx(4.043, abs=0.001)


def test_what_a_tire_must_carry_comes_from_the_cars_figures() -> None:
    """86 is 530 kg: enough where 500 are needed, asked against 615 (91) without that."""
    weak = {"RR": {"service": "86H"}}
    need = kept("figure", "need", name="tire_load", value=500, unit="kg")

    assert left(tires(*shod(tires=weak))) == ["side to side"]
    assert len(left(tires(*shod(tires=weak), need))) == 5


def test_what_size_an_axle_takes_comes_from_the_cars_figures() -> None:
    """The rear carries 205/60R15 and is stated to take 215/60R15: no tire of the car fits there."""
    rear = kept("figure", "rear", name="tire_size", value="215/60r15", unit="-", place="rear")
    both = kept("figure", "both", name="tire size", value="205/60R15", unit="-")

    found = tires(*shod(), rear, both)

    assert len(left(tires(*shod(), both))) == 5
    assert left(found) == []
    assert NotAsStated(axle=Axle.REAR, carries=("205/60R15",), stated="215/60R15") in found.advice


def test_what_construction_an_axle_takes_comes_from_the_cars_figures() -> None:
    own = kept("figure", "own", name="tire_construction", value="bias", unit="-", place="front")

    assert left(tires(*shod(), own)) == []


def test_figures_of_an_axle_that_cannot_be_read_are_told_and_state_nothing() -> None:
    size = kept("figure", "size", name="tire_size", value="205 by 15", unit="-", place="front")
    made = kept("figure", "made", name="tire_construction", value="cross", unit="-", place="rear")

    found = tires(*shod(), size, made)

    told = [look_at(each, depth_unit="mm") for each in found.look_at]
    assert len(left(found)) == 5
    assert told[0].startswith("What the front axle takes, by the car's own figures: ")
    assert len(told) == 2
    assert told[1] == (
        "What the rear axle takes, by the car's own figures: 'cross' is no construction; give one"
        " of radial, bias, bias belted."
    )


def test_readings_older_than_a_thousand_miles_are_told_together() -> None:
    """51,210 today, less 50,010."""
    found = tires(
        *shod(),
        measured("tire-LF", "2026-01-02", 50010, 7.9),
        measured("tire-RF", "2026-01-02", 50010, 7.9),
        measured("tire-LR", "2026-04-29", 51190, 7.9),
        kept("reading", "later", figure=51210, on="2026-05-01", unit="mi"),
        on=date(2026, 5, 1),
    )

    (old,) = (each for each in found.advice if isinstance(each, DepthOld))
    assert (old.tires, old.on) == (("LF", "RF"), date(2026, 1, 2))
    assert advised(old) == (
        "LF and RF were measured 1,200 mi ago, on 2026-01-02: measure them again."
    )


def test_a_radial_on_a_spoked_rim_is_told_to_be_checked() -> None:
    found = tires(*shod(wheels={"LF": {"type": "wire"}}))

    assert CheckTube(tire="LF") in found.advice


def test_a_directional_tire_keeps_its_way_when_its_wheel_moves() -> None:
    turning = {place: {"tread": "directional"} for place in ("LF", "RF", "LR", "RR")}
    sides = [
        put(f"tire-{place}+wheel-{place}", place, turns="left" if place[0] == "L" else "right")
        for place in turning
    ]

    found = tires(
        *shod(tires=turning),
        *sides,
        put("tire-LF+wheel-LF", "LR", on="2026-03-01", at=50590),
        put("tire-LR+wheel-LR", "LF", on="2026-03-01", at=50590),
    )

    assert left(found) == ["front to rear"]


def test_a_directional_tire_mounted_anew_turns_nobody_knows_which_way() -> None:
    found = tires(
        *shod(tires={"LF": {"tread": "directional"}}),
        put("tire-LF", "LF", turns="left"),
        put("tire-LF", None, on="2026-02-01", at=50310),
        put("tire-LF", "LF", on="2026-03-01", at=50590),
    )

    assert at(found, Spot.LF).turns is None


def test_patterns_blocked_by_the_latest_change_are_named() -> None:
    wide = [
        each
        for place in ("LR", "RR")
        for each in (
            put(f"tire-{place}", None, on="2026-03-01", at=50590),
            a_tire(f"wide-{place}", **WIDE),
            put(f"wide-{place}", place, on="2026-03-01", at=50590),
        )
    ]

    found = tires(*shod(), *wide)

    assert [each.pattern.value for each in found.changed_since] == [
        "forward cross",
        "rearward cross",
        "X",
        "front to rear",
    ]


def test_a_rotation_after_a_change_is_no_change() -> None:
    wide = [
        each
        for place in ("LR", "RR")
        for each in (
            put(f"tire-{place}", None, on="2026-03-01", at=50590),
            a_tire(f"wide-{place}", **WIDE),
            put(f"wide-{place}", place, on="2026-03-01", at=50590),
        )
    ]

    found = tires(
        *shod(),
        *wide,
        put("tire-LF+wheel-LF", "RF", on="2026-03-20", at=50780),
        put("tire-RF+wheel-RF", "LF", on="2026-03-20", at=50780),
    )

    assert len(found.changed_since) == 4


def test_a_car_that_was_always_so_has_nothing_blocked_since() -> None:
    found = tires(*shod(tires={"LR": {**WIDE}, "RR": {**WIDE}}))

    assert found.changed_since == ()


def test_records_of_later_days_are_left_out() -> None:
    found = tires(
        *shod(),
        put("tire-LF", None, on="2026-05-01", at=51200),
        a_tire("tire-next"),
        put("tire-next", "LF", on="2026-05-01", at=51200),
    )

    here = at(found, Spot.LF)
    assert here.tire is not None
    assert here.tire.record == "tire-LF"
    assert found.off == ()


def test_duals_of_other_tread_in_front_change_inside_to_outside_alone() -> None:
    """rotation.md, case 49."""
    front = {place: {"tread": "asymmetric"} for place in ("LF", "RF")}

    found = tires(*shod(places=DUALS, dual=True, tires=front))

    answers = {each: verdict.answer for each, verdict in found.exchanges.items()}
    assert answers == {Exchange.FRONT: Answer.YES, Exchange.INSIDE_OUT: Answer.YES}
    assert found.left == ()
    assert found.none_possible == ()


def test_where_nothing_may_move_the_reasons_against_the_usual_pattern_are_given() -> None:
    """Staggered and directional: case 4."""
    turning = {
        place: {"tread": "directional", **(WIDE if place[1] == "R" else {})}
        for place in ("LF", "RF", "LR", "RR")
    }
    sides = [
        put(f"tire-{place}+wheel-{place}", place, turns="left" if place[0] == "L" else "right")
        for place in turning
    ]

    found = tires(*shod(tires=turning), *sides)

    assert found.left == ()
    assert {each.code for each in found.none_possible} == {Code.SIZE, Code.DIRECTION}
