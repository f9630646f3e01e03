"""The working in words: a line a step, each read out as it will be told to a customer."""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import get_args

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Spot, place
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.tires.reasons import Answer, Code, NothingThere, Reason
from castlenut.domain.units import Distance, Shown
from castlenut.domain.use.estimate import BandFrom, DistanceBand, LastReading, Outlook, UseBasis
from castlenut.domain.working import (
    Aged,
    Anchored,
    Assumed,
    Beats,
    BeforeItRolls,
    Binds,
    Cautioned,
    Checked,
    Counted,
    DialRead,
    Expected,
    From,
    Judged,
    KeptToSchedule,
    NoRotation,
    NotKnown,
    NotShortened,
    Pointed,
    Reached,
    Refused,
    Result,
    Seasoned,
    Shortened,
    Sourced,
    State,
    Step,
    WindowSet,
)
from castlenut.words import working
from castlenut.words.cautions import CAUTIONS, DEFERRING_LINE
from tests.builders import MILES, book, car, only, part, reading, the_item, today

RECORD = RecordId("01a212e3-56cb-7816-a3ae-4cbc9f2c61d0")
DUE = today(
    car(
        part("spring", "rear", name=RECORD, on="2026-10-06", at=61230, type="leaf"),
        readings=(reading("2026-11-04", 61400), reading("2026-11-24", 61600)),
    ),
    book(),
    "2026-11-25",
)
U_BOLTS = the_item(DUE, "u-bolts")
ITEM = replace(
    U_BOLTS,
    against=(
        Reason(
            code=Code.PLACE,
            answer=Answer.NO,
            tire=None,
            start=Spot.SP,
            to=Spot.RR,
            detail=NothingThere(at=Spot.SP),
        ),
    ),
)

BASIS = UseBasis(
    last=LastReading(record=RECORD, on=date(2026, 11, 24), shown=Shown(Decimal(61600))),
    readings=3,
    held_back=0,
    first_on=date(2026, 10, 18),
    last_on=date(2026, 11, 24),
    driving_days=37,
    a_day=Distance(5.2),
    slowest=Distance(3.6),
    fastest=Distance(7.7),
    band=BandFrom.FORECAST,
    laid_up=(),
    notes=(),
    outlook=Outlook(
        yearly=DistanceBand(p10=Distance(1_312.0), p50=Distance(1_893.0), p90=Distance(2_790.0)),
        season=(4, 10),
        laid_up_chance=0.02,
        has_changed=False,
        longest_days=20,
        was_run_laid_up=False,
    ),
)


def miles(figure: int) -> Shown:
    return Shown(Decimal(figure))


CASES: list[tuple[Step, list[str]]] = [
    (
        Anchored(
            how=From.FITTED, record=RECORD, on=date(2026, 10, 6), at=miles(61230), name="spring"
        ),
        ["fitted 61,230 mi, 2026-10-06 (spring, rear, 9f2c61d0)"],
    ),
    (
        Anchored(
            how=From.DONE,
            record=RECORD,
            on=date(2026, 10, 6),
            at=miles(61230),
            by="Marsh Lane Motors",
            is_estimated=True,
        ),
        [
            (
                "last done about 61,230 mi, 2026-10-06 (rear, 9f2c61d0, by Marsh Lane Motors,"
                " distance estimated)"
            )
        ],
    ),
    (
        Anchored(how=From.EVENT, record=RECORD, on=date(2026, 10, 6), at=None, name="wheel-off"),
        ["since wheel-off 2026-10-06 (rear, 9f2c61d0)"],
    ),
    (
        Anchored(how=From.STATED, record=None, on=None, at=miles(40000)),
        ["last done, as stated 40,000 mi (rear)"],
    ),
    (
        NotKnown(what="when it was last done", remedy="do or renew it"),
        ["not known: when it was last done; do or renew it"],
    ),
    (
        Assumed(attribute="service", taken_as="repackable"),
        [
            (
                "service taken as repackable: nobody recorded it, so the strictest rule that may"
                " apply is used"
            )
        ],
    ),
    (
        Counted(rule="u-bolts", distance=Decimal(12000), months=12, days=None),
        ["+ interval: 12,000 mi or 12 months (rule u-bolts, shipped)"],
    ),
    (
        Counted(rule="u-bolts", distance=None, months=6, days=None, whose=Beats.MAKER),
        ["+ interval: 6 months (the part maker's own, in place of rule u-bolts)"],
    ),
    (
        Pointed(rule="u-bolts", number=1, of=2, distance=Decimal(300)),
        ["+ first point 1 of 2: 300 mi (rule u-bolts, shipped)"],
    ),
    (
        Pointed(rule="u-bolts", number=2, of=2, distance=Decimal(1000), after="spring"),
        ["+ point 2 of 2 after spring: 1,000 mi (rule u-bolts, shipped)"],
    ),
    (
        Pointed(rule="align", number=1, of=1, distance=Decimal(0), after="suspension"),
        ["+ at once after suspension: 0 mi (rule align)"],
    ),
    (
        Aged(
            months=120,
            counted_from=From.MADE,
            since=date(2017, 6, 5),
            advise_months=72,
            is_advised=True,
        ),
        [
            (
                "+ age: 120 months, counted from the date of make, 2017-06-05; renewal is advised"
                " from 72 months: reached"
            )
        ],
    ),
    (
        Aged(months=60, counted_from=From.FITTED, since=date(2022, 1, 1)),
        ["+ age: 60 months, counted from 2022-01-01, fitted; no date of make is known"],
    ),
    (
        Seasoned(first_day=date(2027, 3, 1), last_day=date(2027, 4, 30)),
        [
            (
                "season 2027-03-01 to 2027-04-30; the first that ends half an interval or more"
                " after the last time"
            )
        ],
    ),
    (
        Shortened(
            exposure="stop-start",
            factor=Fraction(7, 10),
            distance=Decimal(2100),
            months=4,
            days=6,
        ),
        ["x exposure stop-start 0.7: 2,100 mi or 4 months 6 days"],
    ),
    (
        NotShortened(would=(("towing", Fraction(7, 10)),)),
        ["x exposure: none; towing would make it 0.7"],
    ),
    (
        Judged(
            measure="pad_thickness",
            record=RECORD,
            on=date(2026, 9, 3),
            at=miles(129400),
            value=Decimal("4.5"),
            limit=Decimal("3.2"),
            is_at_least=True,
            unit="mm",
            passes=True,
            rate_per_1000=0.316,
            reached_at=miles(133510),
        ),
        [
            (
                "pad thickness 4.5 mm at 129,400 mi, 2026-09-03; at least 3.2 mm is allowed: it"
                " holds; wears 0.32 mm per 1,000 mi, at the limit at 133,510 mi; 9f2c61d0"
            )
        ],
    ),
    (
        Judged(
            measure="wheel_lash",
            record=None,
            on=None,
            at=None,
            value=None,
            limit=None,
            is_at_least=False,
            unit="in",
            passes=None,
        ),
        [
            "steering wheel lash: not measured; no limit known: enter the car's own figure",
        ],
    ),
    (
        Checked(what="no leak", record=RECORD, on=date(2026, 9, 3), is_good=False),
        ["must hold: no leak; found not good on 2026-09-03, 9f2c61d0"],
    ),
    (Checked(what="no leak"), ["must hold: no leak; not checked yet"]),
    (
        Reached(on=date(2027, 10, 6), at=miles(61530), binds=Binds.DISTANCE),
        ["= due at 61,530 mi or 2027-10-06; distance binds"],
    ),
    (
        Reached(on=date(2027, 10, 6), at=None, binds=Binds.AGE),
        ["= due on 2027-10-06; age binds"],
    ),
    (
        WindowSet(
            opens_on=None,
            closes_on=None,
            opens_at=miles(61380),
            closes_at=miles(61530),
            lead_percent=None,
            late_percent=Fraction(0),
        ),
        ["window 61,380 to 61,530 mi; opens half way, no lateness allowed"],
    ),
    (
        WindowSet(
            opens_on=date(1999, 1, 13),
            closes_on=date(1999, 2, 18),
            opens_at=None,
            closes_at=None,
            lead_percent=Fraction(10),
            late_percent=Fraction(10),
        ),
        ["window 1999-01-13 to 1999-02-18; opens 10 % early, closes 10 % late"],
    ),
    (
        DialRead(
            today=date(2026, 11, 25),
            p10=miles(61600),
            p50=miles(61600),
            p90=miles(61600),
            basis=BASIS,
        ),
        [
            (
                "today 61,600 mi, from the reading 61,600 of 2026-11-24; three readings since"
                " October 2026; about 1,900 mi a year (1,300 to 2,800), mostly April to October"
            )
        ],
    ),
    (
        DialRead(today=date(2026, 11, 25), p10=None, p50=None, p90=None, basis=BASIS),
        ["today 2026-11-25; the distance is not known: no reading"],
    ),
    (
        Expected(p10=date(2026, 11, 15), p50=date(2026, 11, 17), p90=date(2026, 11, 19)),
        ["expected 2026-11-17 (2026-11-15 to 2026-11-19)"],
    ),
    (
        Refused(
            record=RECORD,
            on=date(2026, 10, 16),
            who="Tobin Wrackett",
            why="not now",
            until=date(2027, 3, 1),
            reckoned=State.DUE,
        ),
        [
            (
                'declined 2026-10-16, by Tobin Wrackett, "not now", ask again on 2027-03-01,'
                " without that: due, 9f2c61d0"
            )
        ],
    ),
    (
        BeforeItRolls(since=date(2026, 11, 19)),
        ["in work since 2026-11-19; due before it rolls, and not overdue until then"],
    ),
    (
        Result(
            state=State.OVERDUE,
            may_be=None,
            today=date(2026, 11, 25),
            days_left=315,
            distance_left=Decimal(-80),
        ),
        ["result: 80 mi over: overdue"],
    ),
    (
        KeptToSchedule(on=date(2025, 1, 31), at=None, turn_on=3, turn_at=1),
        ["on schedule from 2025-01-31; done inside its window: the next is interval 3 from there"],
    ),
    (
        Result(
            state=State.AHEAD,
            may_be=State.DUE,
            today=date(2026, 11, 25),
            days_left=1,
            distance_left=Decimal(120),
        ),
        ["result: 120 mi or 1 day left: ahead, may be due"],
    ),
    (
        Result(
            state=State.NO_RECORD,
            may_be=None,
            today=date(2026, 11, 25),
            days_left=None,
            distance_left=None,
            rank=2,
        ),
        ["result: no record, rank 2: before it goes on the road"],
    ),
    (
        Result(
            state=State.DUE,
            may_be=None,
            today=date(2026, 11, 25),
            days_left=0,
            distance_left=None,
            before_it_rolls=True,
        ),
        ["result: 0 days left: due, before it rolls"],
    ),
    (NoRotation(), ["rotation: none possible, because There is no spare."]),
    (
        Sourced(source="a published handbook (9.04)", basis="R", note="elsewhere 500 mi (9.40)"),
        [
            "source: a published handbook (9.04); read in the source",
            "note: elsewhere 500 mi (9.40)",
        ],
    ),
    (
        Sourced(source="common practice, no source", basis="P"),
        ["source: common practice, no source"],
    ),
    (Sourced(source="a shop manual", basis="M"), ["source: a shop manual; from memory"]),
    (
        Cautioned(keys=("spring", "lift")),
        [f"caution: {CAUTIONS['lift']}", f"caution: {CAUTIONS['spring']}"],
    ),
]


@pytest.mark.parametrize(("step", "lines"), CASES)
def test_each_step_has_its_sentence(step: Step, lines: list[str]) -> None:
    rows = working.rows(step, ITEM, MILES)

    assert [working.sentence(row) for row in rows] == lines


def test_no_kind_of_step_is_without_a_sentence_here() -> None:
    assert {type(step) for step, _ in CASES} == set(get_args(Step))


def test_the_working_of_an_item_reads_from_its_record_to_the_deferring_line() -> None:
    """Read yesterday at 61,600, which is 70 past the first point."""
    lines = working.lines(U_BOLTS, MILES)

    assert lines[0] == "fitted 61,230 mi, 2026-10-06 (spring, rear, 9f2c61d0)"
    assert "+ first point 1 of 2: 300 mi (rule u-bolts, shipped)" in lines
    assert "= due at 61,530 mi or 2027-10-06; distance binds" in lines
    assert any(line.startswith("today 61,600 mi (") for line in lines)
    assert "result: 70 mi over: overdue" in lines
    assert lines[-1] == DEFERRING_LINE


def test_columns_and_sentences_come_from_the_same_rows() -> None:
    rows = working.sum_rows(U_BOLTS, MILES)

    assert working.lines(U_BOLTS, MILES) == tuple(working.sentence(row) for row in rows)
    point = next(row for row in rows if row.label.startswith("= due"))
    assert (point.label, point.distance, point.date, point.remark) == (
        "= due at",
        "61,530 mi",
        "2027-10-06",
        "distance binds",
    )


def test_an_item_without_cautions_still_defers_to_the_book() -> None:
    bare = the_item(today(car(part("drain", "L", area="door")), book(), "2026-11-25"), "drain-door")

    assert not bare.rule.cautions
    assert working.lines(bare, MILES)[-1] == DEFERRING_LINE


def test_a_hostile_name_in_a_record_reaches_no_line_raw() -> None:
    step = Refused(
        record=RECORD,
        on=date(2026, 10, 16),
        who="\x1b[31mred",
        why="a\u202eb",
        until=None,
        reckoned=State.DUE,
    )

    (row,) = working.rows(step, U_BOLTS, MILES)

    assert working.sentence(row) == (
        'declined 2026-10-16, by \\x1b[31mred, "a\\u202eb", without that: due, 9f2c61d0'
    )


def test_one_reading_gives_a_date_and_says_what_it_rests_on() -> None:
    known = today(
        car(
            part("spring", "rear", name=RECORD, on="2026-10-06", at=61230, type="leaf"),
            readings=(reading("2026-11-24", 61300),),
        ),
        only_distance(),
        "2026-11-25",
    )
    item = the_item(known, "test-distance")

    lines = working.lines(item, MILES)

    assert any(
        "alone and how cars of this age and use are usually driven" in line for line in lines
    )
    assert any(line.startswith("expected 20") for line in lines)


def only_distance() -> RuleBook:
    return only(
        """
[[rule]]
id = "test-distance"
title = "spring, test"
part = "Steering and suspension"
component = "spring"
every = { miles = 3000 }
"""
    )


def test_the_place_stands_beside_the_part() -> None:
    assert U_BOLTS.place == place("rear")
