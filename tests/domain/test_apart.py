"""What else lies behind what is opened: an invented car on drums, 10 mi a day."""

from datetime import date
from fractions import Fraction

import pytest

from castlenut.domain.apart import Apart, Opening, apart, read_opening
from castlenut.domain.errors import BadInput
from castlenut.domain.opened import Opened
from castlenut.domain.place import Place, Spot
from tests.builders import book, car, part, reading, today

LF, RF = Place(Spot.LF), Place(Spot.RF)
RATE = Fraction(50)
READINGS = [reading("2026-10-05", 40000), reading("2026-11-24", 40500)]
PARTS = (
    part("drum", "LF", on="2026-06-01", at=39000),
    part("drum", "RF", on="2026-06-01", at=39000),
    part("brake shoe", "LF", on="2026-06-01", at=39000, adjuster="self", lining="bonded"),
    part("brake shoe", "RF", on="2026-06-01", at=39000, adjuster="self", lining="bonded"),
    part("engine oil", on="2026-06-20", at=39000),
    part("steering box", on="2026-06-01", at=39000),
)


def opened(*texts: str, until: date = date(2027, 11, 25)) -> Apart:
    found = today(car(*PARTS, readings=READINGS), book(), "2026-11-25")
    openings = [read_opening(text, book().accesses, dual=False) for text in texts]
    return apart(found, openings, book().accesses, until=until, hourly_rate=RATE)


def test_one_wheel_opens_one_corner_and_the_lift_under_it() -> None:
    found = opened("wheel LF")

    assert found.open == (Opened(key="wheel", place=LF), Opened(key="lift", place=None))
    assert found.hours == Fraction(3, 10)  # 0.1 and 0.2


def test_a_wheel_without_a_place_is_every_wheel() -> None:
    found = opened("wheel")

    assert [str(each.place) for each in found.open if each.key == "wheel"] == [
        "LF",
        "RF",
        "LR",
        "RR",
    ]
    assert found.hours == Fraction(6, 10)


def test_what_lies_behind_that_corner_is_offered_and_its_twin_named() -> None:
    found = opened("drum LF")

    names = {(str(each.item.id.rule), str(each.item.place)) for each in found.items}
    assert ("shoe-measure", "LF") in names
    assert ("shoe-measure", "RF") not in names
    (shoe,) = (each for each in found.items if each.item.id.rule == "shoe-measure")
    assert shoe.twin is not None
    assert shoe.twin.place == RF


def test_a_twin_whose_wheel_is_off_too_is_no_twin() -> None:
    found = opened("drum LF", "drum RF")

    assert [each.twin for each in found.items if each.item.id.rule == "shoe-measure"] == [
        None,
        None,
    ]


def test_hours_saved_are_those_of_opening_it_again() -> None:
    """Drum 0.2, wheel 0.1 and lift 0.2 are opened anyway."""
    found = opened("drum LF")

    (shoe,) = (each for each in found.items if each.item.id.rule == "shoe-measure")
    assert shoe.hours_saved == Fraction(5, 10)
    assert shoe.besides == ()


def test_what_it_needs_besides_is_told() -> None:
    found = opened("wheel LF")

    (shoe,) = (each for each in found.items if each.item.id.rule == "shoe-measure")
    assert shoe.hours_saved == Fraction(3, 10)
    assert shoe.besides == (Opened(key="drum", place=LF),)


def test_life_given_up_is_the_share_of_the_interval_that_is_left() -> None:
    """Drums measured each 12 months: fitted 2026-06-01, due 2027-06-01, 188 of 365 days left.

    By distance 12,000 mi from 39,000, at 40,510 now: more is left, the smaller share counts.
    """
    found = opened("drum LF")

    (drum,) = (each for each in found.items if each.item.id.rule == "drum-measure")
    assert drum.days_early == 188
    assert drum.share_left == Fraction(188, 365)
    assert drum.life_given_up(RATE) == Fraction(3, 10) * 50 * Fraction(188, 365)
    assert drum.net(RATE) == Fraction(5, 10) * 50 - Fraction(15) * Fraction(188, 365)


def test_what_is_due_gives_up_nothing() -> None:
    found = opened("drum LF")

    (shoe,) = (each for each in found.items if each.item.id.rule == "shoe-measure")
    assert (shoe.days_early, shoe.share_left) == (0, Fraction(0))


def test_what_would_not_bring_the_car_back_in_time_is_left_out() -> None:
    near = opened("drum LF", until=date(2026, 12, 31))

    assert "drum-measure" not in {each.item.id.rule for each in near.items}


def test_what_is_on_the_lift_alone_comes_after_what_lies_behind() -> None:
    found = opened("wheel LF")

    is_there = [each.is_there for each in found.items]
    assert is_there == sorted(is_there, reverse=True)
    assert "steering-bolts" in {each.item.id.rule for each in found.items if not each.is_there}


def test_what_needs_another_opening_is_no_candidate() -> None:
    assert "oil" not in {each.item.id.rule for each in opened("hood").items}


@pytest.mark.parametrize(
    ("text", "key", "place"),
    [
        ("wheel LF", "wheel", LF),
        ("wheel off", "wheel", None),
        ("hub front", "hub", Place(Spot.FRONT)),
        ("lift", "lift", None),
        ("trim L", "trim", Place(Spot.L)),
        ("driveshaft out", "prop", None),
    ],
)
def test_an_access_is_read_with_its_place(text: str, key: str, place: Place | None) -> None:
    assert read_opening(text, book().accesses, dual=False) == Opening(key=key, place=place)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("lift LF", '--open: lift is opened for the whole car; write it as "lift"'),
        (
            "wheel LRO",
            (
                "place: the car has no LRO: its rear wheels are single;"
                " give LR or RR, or correct the vehicle: dual=yes"
            ),
        ),
        ("", '--open: nothing is named; write it as "wheel LF"'),
    ],
)
def test_an_opening_that_cannot_be_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_opening(text, book().accesses, dual=False)

    assert [str(fault) for fault in refused.value.faults] == [sentence]
