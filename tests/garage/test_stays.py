"""In work from a day, and over: what is asked, what is kept, what is refused."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.working import State
from castlenut.garage.changes.happenings import draft_happening
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.stays import draft_stay, draft_stay_over
from tests.garage.conftest import CAR, Shop


@pytest.fixture
def shop(shop: Shop) -> Shop:
    """Give a car read at 61,000 today, with an alignment set up long ago."""
    shop.save(draft_reading(shop.garage, CAR, "60000", on="2026-08-17"))
    shop.save(draft_reading(shop.garage, CAR, "61000", on="2026-11-24"))
    return shop


def fault(error: pytest.ExceptionInfo[BadInput]) -> str:
    (only,) = error.value.faults
    return str(only)


def test_a_stay_begins_today_or_on_the_day_given(shop: Shop) -> None:
    shop.save(draft_stay(shop.garage, CAR, since="2026-11-20", note="on the trailer"))

    assert shop.table("stay") == [{"from": "2026-11-20", "note": "on the trailer"}]


def test_a_car_in_work_cannot_come_in_again(shop: Shop) -> None:
    shop.save(draft_stay(shop.garage, CAR, since="2026-11-20"))

    with pytest.raises(BadInput) as error:
        draft_stay(shop.garage, CAR)

    assert fault(error) == ("from: tollgate is in work since 2026-11-20; stay --over ends that")


def test_a_stay_may_not_begin_inside_an_earlier_one(shop: Shop) -> None:
    shop.save(draft_stay(shop.garage, CAR, since="2026-11-10"))
    shop.save(draft_stay_over(shop.garage, CAR, on="2026-11-20").draft)

    with pytest.raises(BadInput) as error:
        draft_stay(shop.garage, CAR, since="2026-11-19")

    assert fault(error) == (
        "from: tollgate was in work from 2026-11-10 to 2026-11-20; give a day from 2026-11-20 on"
    )
    shop.save(draft_stay(shop.garage, CAR, since="2026-11-20"))


def test_a_stay_cannot_end_before_it_began(shop: Shop) -> None:
    shop.save(draft_stay(shop.garage, CAR, since="2026-11-20"))

    with pytest.raises(BadInput) as error:
        draft_stay_over(shop.garage, CAR, on="2026-11-19")

    assert fault(error) == (
        "on: 2026-11-19 is before it began, 2026-11-20; give a day from 2026-11-20 on"
    )
    assert shop.table("stay") == [{"from": "2026-11-20"}]


def test_a_car_not_in_work_has_no_stay_to_end(shop: Shop) -> None:
    with pytest.raises(BadInput) as error:
        draft_stay_over(shop.garage, CAR)

    assert fault(error) == "stay: tollgate is not in work; stay tollgate takes it in work first"


def test_what_was_open_at_the_end_is_kept(shop: Shop) -> None:
    """The job that fitted the tire is a visit, so the owner's own look at the lights is done."""
    shop.save(draft_stay(shop.garage, CAR, since="2026-11-20", note="came on a trailer"))
    shop.save(draft_fit(shop.garage, CAR, "lights", None, {}, on="-"))
    shop.save(draft_fit(shop.garage, CAR, "tire", "LF", {"size": "185/70R14"}, on="2026-11-20"))
    shop.save(draft_happening(shop.garage, CAR, "wheel-changed", on="2026-11-24", at="61000"))

    over = draft_stay_over(shop.garage, CAR, on="2026-11-25", at="61000")
    shop.save(over.draft)

    assert over.has_to_ask
    (stay,) = shop.table("stay")
    assert stay["open"] == [
        "point at 0: tires, clearance at full lock and bump, LF",
        "no record: wiring under hood and dash, look over",
        "no record: headlights, aim",
    ]
    assert stay["note"] == "came on a trailer"


def test_a_dial_figure_read_at_the_end_is_a_reading_and_an_estimate_is_none(shop: Shop) -> None:
    shop.save(draft_stay(shop.garage, CAR, since="2026-11-20"))
    shop.save(draft_stay_over(shop.garage, CAR, on="2026-11-25", at="61005").draft)
    shop.save(draft_stay(shop.garage, CAR))
    shop.save(draft_stay_over(shop.garage, CAR).draft)

    assert [each["figure"] for each in shop.table("reading")] == [60000, 61000, 61005]


def test_a_point_at_0_of_a_car_three_weeks_on_stands_is_due_and_never_overdue(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "tire", "LF", {"size": "185/70R14"}, on="2026-11-01"))
    shop.save(draft_happening(shop.garage, CAR, "wheel-changed", on="2026-11-04", at="60900"))
    assert [item.state for item in shop.items("lock-clearance")] == [State.OVERDUE]

    shop.save(draft_stay(shop.garage, CAR, since="2026-11-04"))
    assert [item.state for item in shop.items("lock-clearance")] == [State.DUE]

    shop.save(draft_stay_over(shop.garage, CAR, on="2026-11-25").draft)
    assert [item.state for item in shop.items("lock-clearance")] == [State.OVERDUE]
