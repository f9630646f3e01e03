"""What falls due on a trip: may I go first?"""

from datetime import date

from castlenut.domain.trip import falls_due, on_trip
from tests.builders import book, car, part, reading, the_item, today

FOUND = today(
    car(
        part("spring", "LR", name="spring", on="2026-10-18", at=61230, type="leaf"),
        readings=(reading("2026-11-04", 61400), reading("2026-11-24", 61600)),
    ),
    book(),
    "2026-11-25",
)
LEAF_LOOK = the_item(FOUND, "leaf-look")  # due at 73,230 or on 2027-10-18
U_BOLTS = the_item(FOUND, "u-bolts")  # 80 mi past its point


def test_what_is_due_already_falls_due_on_any_trip() -> None:
    assert falls_due(U_BOLTS, by=date(2026, 11, 25), at=None)


def test_the_last_day_of_the_trip_counts() -> None:
    assert falls_due(LEAF_LOOK, by=date(2027, 10, 18), at=61700.0)
    assert not falls_due(LEAF_LOOK, by=date(2027, 10, 17), at=61700.0)


def test_a_distance_reached_exactly_at_the_end_counts() -> None:
    assert LEAF_LOOK.due_at is not None
    assert falls_due(LEAF_LOOK, by=date(2026, 12, 24), at=LEAF_LOOK.due_at)
    assert not falls_due(LEAF_LOOK, by=date(2026, 12, 24), at=LEAF_LOOK.due_at - 1)


def test_without_a_distance_the_expected_day_counts() -> None:
    assert LEAF_LOOK.expected.p50 == date(2027, 10, 18)
    assert not falls_due(LEAF_LOOK, by=date(2027, 10, 17), at=None)
    assert falls_due(LEAF_LOOK, by=date(2027, 10, 18), at=None)


def test_a_trip_is_reckoned_from_the_distance_of_today() -> None:
    """61,610 mi today, 10 mi a day; the leaf springs are looked over at 73,230."""
    last = date(2026, 12, 24)

    short, long = (on_trip(FOUND, by=last, far=far) for far in (11_600.0, 11_640.0))

    assert U_BOLTS in short
    assert LEAF_LOOK not in short
    assert LEAF_LOOK in long
