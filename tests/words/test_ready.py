"""What stands against handing a car over, in words."""

from castlenut.domain.car import Car
from castlenut.domain.stay import against_rolling
from castlenut.words import ready
from tests.builders import book, car, part, reading, today

READINGS = (reading("2026-10-26", 61300), reading("2026-11-25", 61600))
BELT = part("timing belt", on="2021-11-20", at=20000)


def lines(of: Car) -> tuple[str, list[str]]:
    found = today(of, book(), "2026-11-25")
    standing = against_rolling(found, book())
    return ready.head_line(standing), [ready.line(each, found) for each in standing]


def test_a_ready_car_is_said_to_be() -> None:
    assert lines(car(readings=READINGS)) == (
        "ready: nothing stands against handing it over",
        [],
    )


def test_one_thing_stands_and_two_stand() -> None:
    fluid = part("brake fluid", fluid="DOT 4", on="2015-01-01", at=1000)

    one, _ = lines(car(BELT, readings=READINGS))
    several, _ = lines(car(BELT, fluid, readings=READINGS))

    assert one == "not ready: 1 thing stands against handing it over"
    assert several == "not ready: 2 things stand against handing it over"


def test_a_thing_overdue_says_by_how_much_and_what_to_type() -> None:
    """60 months from 20 November 2021: five days ago."""
    _, (line,) = lines(car(BELT, readings=READINGS))

    assert line == "!! overdue  timing belt, renew  5 days over  [timing-belt]"


def test_parts_that_exclude_each_other_are_named_with_what_to_do() -> None:
    mixed = [
        part("brake fluid", name=name, fluid=fluid, on="2026-11-01", at=61400)
        for name, fluid in (("one", "DOT 4"), ("two", "DOT 5"))
    ]

    _, told = lines(car(*mixed, readings=READINGS))

    assert told == [
        "! parts exclude each other  brake fluid DOT 4 and DOT 5  never both: take one off"
    ]


def test_what_a_stay_keeps_as_open_is_cause_and_title() -> None:
    found = today(car(BELT, readings=READINGS), book(), "2026-11-25")

    assert [ready.open_line(each) for each in against_rolling(found, book())] == [
        "overdue: timing belt, renew"
    ]
