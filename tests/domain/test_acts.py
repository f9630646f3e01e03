"""What counts as having dealt with an item: jobs, visits, statements; and refusals."""

from datetime import date
from decimal import Decimal

import pytest

from castlenut.domain.happenings import Answer, Decline, Measurement, Statement
from castlenut.domain.units import Distance
from castlenut.domain.working import Anchored, From, Refused, State
from tests.builders import (
    book,
    car,
    day,
    item_of,
    job,
    measured,
    only,
    part,
    reading,
    record,
    stated,
    the_item,
    today,
)

STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))  # 10 mi a day

OIL = """
[[rule]]
id = "test-oil"
title = "engine oil, test"
part = "Engine"
component = "engine oil"
every = { miles = 3000, months = 6 }
intake = { rank = 1, act = "renew" }
"""


def refused(
    item: str, on: str, *, until: str | None = None, name: str = "refusal", who: str | None = None
) -> Decline:
    return Decline(
        record=record(name),
        item=item_of(item),
        on=day(on),
        who=who,
        until=None if until is None else day(until),
    )


def test_a_used_part_brings_no_history() -> None:
    this = car(part("transmission", on="2026-01-01", at=50000, condition="used"), readings=STEADY)

    item = the_item(today(this, book(), "2026-04-11"), "transmission-oil")

    assert (item.state, item.rank) == (State.NO_RECORD, 3)


def test_any_visit_to_the_garage_counts_the_owners_checks_done() -> None:
    tires = part("tire", "LF", on="2025-01-01", at=46000, name="tire")
    oil = part("engine oil", on="2025-01-01", at=46000, name="oil")
    this = car(tires, oil, readings=STEADY, jobs=[job("2026-04-01", 50900, "oil~oil")])

    item = the_item(today(this, book(), "2026-04-11"), "tire-pressure")

    assert (item.due_on, item.due_at) == (date(2026, 5, 1), Distance(51900))
    assert item.baseline is not None
    assert item.baseline.how is From.VISIT


def test_work_at_another_shop_is_no_visit_to_the_garage() -> None:
    tires = part("tire", "LF", on="2026-03-20", at=50780, name="tire")
    oil = part("engine oil", on="2025-01-01", at=46000, name="oil")
    elsewhere = job("2026-04-01", 50900, "oil~oil", by="Perrin's (invented)")
    this = car(tires, oil, readings=STEADY, jobs=[elsewhere])

    found = today(this, book(), "2026-04-11")

    assert the_item(found, "tire-pressure").due_on == date(2026, 4, 20)
    assert the_item(found, "oil").due_on == date(2026, 10, 1)


def test_the_working_says_whose_work_it_was_and_that_its_distance_is_estimated() -> None:
    oil = part("engine oil", on="2025-01-01", at=46000, name="oil")
    elsewhere = job("2026-04-01", 50900, "test-oil~oil", by="owner")
    this = car(oil, readings=STEADY, jobs=[elsewhere])

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    anchors = [step for step in item.working if isinstance(step, Anchored)]
    assert [(step.how, step.by, step.is_estimated) for step in anchors] == [
        (From.DONE, "owner", False)
    ]


def test_what_was_done_before_the_part_was_fitted_was_done_on_another() -> None:
    oil = part("engine oil", on="2026-03-01", at=50590, name="oil")
    this = car(oil, readings=STEADY, jobs=[job("2026-02-01", 50310, "test-oil~oil")])

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert item.due_at == Distance(53590)


@pytest.mark.parametrize(
    ("where", "states"),
    [
        ("", {"LF": State.AHEAD, "RF": State.AHEAD}),
        ("LF", {"LF": State.AHEAD, "RF": State.NO_RECORD}),
        ("front", {"LF": State.AHEAD, "RF": State.AHEAD}),
        ("rear", {"LF": State.NO_RECORD, "RF": State.NO_RECORD}),
    ],
)
def test_a_statement_by_kind_speaks_of_its_place(where: str, states: dict[str, State]) -> None:
    this = car(
        part("wheel bearing", "LF", service="repackable"),
        part("wheel bearing", "RF", service="repackable"),
        readings=STEADY,
        statements=[stated("wheel bearing", where, "2025-09-01", None)],
    )

    found = today(this, book(), "2026-04-11")

    assert {place: the_item(found, "hub-repack", place).state for place in ("LF", "RF")} == states


def test_a_statement_by_item_speaks_of_that_item_alone() -> None:
    this = car(
        part("wheel bearing", "LF", service="repackable", name="left"),
        part("wheel bearing", "RF", service="repackable", name="right"),
        readings=STEADY,
        statements=[
            Statement(
                record=record("stated"),
                answer=Answer.STATED,
                item="hub-repack~left",
                on=day("2025-09-01"),
                at=Decimal(48000),
            )
        ],
    )

    found = today(this, book(), "2026-04-11")

    assert the_item(found, "hub-repack", "LF").due_on == date(2027, 9, 1)
    assert the_item(found, "hub-repack", "RF").state is State.NO_RECORD
    assert the_item(found, "hub-play", "LF").state is State.NO_RECORD


@pytest.mark.parametrize(
    "answer",
    [
        Statement(record=record("a"), answer=Answer.NOT_APPLICABLE, kind="exhaust", why="none"),
        Statement(record=record("a"), answer=Answer.NOT_APPLICABLE, item="exhaust~pipe"),
    ],
)
def test_does_not_apply_is_an_answer_and_makes_no_item(answer: Statement) -> None:
    this = car(part("exhaust", name="pipe"), readings=STEADY, statements=[answer])

    assert today(this, book(), "2026-04-11").items == ()


def test_unknown_leaves_no_record() -> None:
    unknown = Statement(record=record("a"), answer=Answer.UNKNOWN, kind="exhaust")
    this = car(part("exhaust"), readings=STEADY, statements=[unknown])

    item = the_item(today(this, book(), "2026-04-11"), "exhaust")

    assert item.state is State.NO_RECORD


def test_declined_stays_counted_and_says_how_it_would_stand() -> None:
    oil = part("engine oil", on="2025-01-01", at=46000, name="oil")
    no = refused("test-oil~oil", "2026-03-01", who="Odile Marrowby (invented)")
    this = car(oil, readings=STEADY, declines=[no])

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert (item.state, item.reckoned, item.may_be) == (State.DECLINED, State.OVERDUE, None)
    assert (item.due_on, item.due_at) == (date(2025, 7, 1), Distance(49000))
    assert item.is_open
    told = [step for step in item.working if isinstance(step, Refused)]
    assert [(step.who, step.reckoned) for step in told] == [
        ("Odile Marrowby (invented)", State.OVERDUE)
    ]


def test_declined_of_no_record_loses_its_rank() -> None:
    this = car(
        part("engine oil", name="oil"),
        readings=STEADY,
        declines=[refused("test-oil~oil", "2026-03-01")],
    )

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert (item.state, item.reckoned, item.rank) == (State.DECLINED, State.NO_RECORD, None)


@pytest.mark.parametrize(
    ("on", "state"), [("2026-05-01", State.DECLINED), ("2026-05-02", State.OVERDUE)]
)
def test_a_refusal_holds_through_the_day_it_is_to_be_asked_again(on: str, state: State) -> None:
    oil = part("engine oil", on="2025-01-01", at=46000, name="oil")
    this = car(
        oil, readings=STEADY, declines=[refused("test-oil~oil", "2026-03-01", until="2026-05-01")]
    )

    item = the_item(today(this, only(OIL), on), "test-oil")

    assert item.state is state


def test_the_last_refusal_counts() -> None:
    """No in January for good, no in March until May: in May he is asked again."""
    oil = part("engine oil", on="2025-01-01", at=46000, name="oil")
    both = [
        refused("test-oil~oil", "2026-01-10", name="refusal-1"),
        refused("test-oil~oil", "2026-03-01", until="2026-05-01", name="refusal-2"),
    ]
    this = car(oil, readings=STEADY, declines=both)

    item = the_item(today(this, only(OIL), "2026-05-02"), "test-oil")

    assert item.state is State.OVERDUE


@pytest.mark.parametrize(
    ("done", "state"),
    [
        ("2026-02-28", State.DECLINED),
        ("2026-03-01", State.AHEAD),
        ("2026-03-02", State.AHEAD),
    ],
)
def test_a_job_from_the_day_of_the_refusal_on_ends_it(done: str, state: State) -> None:
    figure = {"2026-02-28": 50580, "2026-03-01": 50590, "2026-03-02": 50600}[done]
    oil = part("engine oil", on="2025-01-01", at=46000, name="oil")
    this = car(
        oil,
        readings=STEADY,
        jobs=[job(done, figure, "test-oil~oil")],
        declines=[refused("test-oil~oil", "2026-03-01")],
    )

    item = the_item(today(this, only(OIL), "2026-04-11"), "test-oil")

    assert item.state is state


def pads_measured(on: str, at: int) -> Measurement:
    return measured("pad_thickness", on, at, "3.0", unit="mm", where="LF")


def test_what_was_measured_on_the_day_of_a_refusal_does_not_end_it() -> None:
    """He was told the figure, and said no: the refusal stands."""
    pads = part("brake pad", "LF", on="2025-01-01", at=46000, friction="disc", name="pads")
    this = car(
        pads,
        readings=STEADY,
        measurements=[pads_measured("2026-03-01", 50590)],
        declines=[refused("pad-measure~pads", "2026-03-01")],
    )

    item = the_item(today(this, book(), "2026-04-11"), "pad-measure")

    assert (item.state, item.reckoned) == (State.DECLINED, State.OVERDUE)


def test_what_is_measured_later_brings_it_back() -> None:
    pads = part("brake pad", "LF", on="2025-01-01", at=46000, friction="disc", name="pads")
    this = car(
        pads,
        readings=STEADY,
        measurements=[pads_measured("2026-04-01", 50900)],
        declines=[refused("pad-measure~pads", "2026-03-01")],
    )

    item = the_item(today(this, book(), "2026-04-11"), "pad-measure")

    assert item.state is State.OVERDUE
