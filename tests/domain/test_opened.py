"""What is opened for a job, and the events it raises."""

from castlenut.domain.happenings import Raised
from castlenut.domain.opened import Opened, access_of, events_of, opened
from castlenut.domain.place import Place, Spot, place
from tests.builders import book, part

LF = Place(Spot.LF)


def test_a_hub_comes_off_with_the_wheel_and_what_brakes_it_has() -> None:
    fitted = [part("drum", "LF"), part("caliper", "RF")]

    found = opened(["hub"], LF, book().accesses, fitted=fitted, dual=False)

    assert set(found) == {
        Opened(key="hub", place=LF),
        Opened(key="drum", place=LF),
        Opened(key="wheel", place=LF),
        Opened(key="lift", place=None),
    }


def test_nobody_knows_which_brakes_there_are_then_none_are_opened() -> None:
    found = opened(["hub"], LF, book().accesses, fitted=(), dual=False)

    assert {each.key for each in found} == {"hub", "wheel", "lift"}


def test_bleeding_the_brakes_takes_every_wheel_off() -> None:
    found = opened(["hydr"], LF, book().accesses, fitted=(), dual=False)

    assert Opened(key="wheel", place=None) in found


def test_an_end_is_counted_by_its_corners() -> None:
    found = opened(["wheel"], place("rear"), book().accesses, fitted=(), dual=False)

    assert [each.place for each in found if each.key == "wheel"] == [
        Place(Spot.LR),
        Place(Spot.RR),
    ]


def test_trim_is_counted_by_the_side() -> None:
    found = opened(["trim"], LF, book().accesses, fitted=(), dual=False)

    assert found == (Opened(key="trim", place=Place(Spot.L)),)


def test_opening_raises_its_event_at_its_place() -> None:
    found = opened(["hub"], LF, book().accesses, fitted=(), dual=False)

    assert set(events_of(found, book().accesses)) == {
        Raised(event="hub-off", place=LF),
        Raised(event="wheel-off", place=LF),
    }


def test_an_event_names_the_access_it_comes_from() -> None:
    assert access_of("hydraulics-open", book().accesses) == "hydr"
    assert access_of("curb-hit", book().accesses) is None
