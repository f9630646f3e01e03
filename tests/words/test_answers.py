"""Items and parts as other programs get them."""

from castlenut.domain.units import Distance
from castlenut.domain.use.estimate import DistanceBand
from castlenut.words.accesses import access_keys
from castlenut.words.answers import component_answer, distance_answer, item_answer, vehicle_answer
from castlenut.words.cautions import DEFERRING_LINE
from tests.builders import MILES, book, car, day, part, reading, the_item, today

SPRING = "01a212e3-56cb-7816-a3ae-4cbc9f2c61d0"
FOUND = today(
    car(
        part("spring", "rear", name=SPRING, on="2026-10-06", at=61230, type="leaf"),
        part("wheel bearing", "LF"),
        part("cavity", "L", area="sill"),
        readings=(reading("2026-11-04", 61400), reading("2026-11-24", 61600)),
    ),
    book(),
    "2026-11-25",
)


def test_an_item_has_every_field_of_the_contract_in_its_order() -> None:
    answer = item_answer(the_item(FOUND, "u-bolts"), "fallowmere", MILES, book())

    assert list(answer)[:22] == [
        "vehicle",
        "item",
        "title",
        "component",
        "position",
        "state",
        "due_on",
        "due_at",
        "unit",
        "window",
        "binds",
        "expected",
        "may_be",
        "danger",
        "baseline",
        "rule",
        "source",
        "access",
        "hours",
        "cautions",
        "why",
        "component_id",
    ]


def test_an_item_is_told_with_its_due_point_and_its_working() -> None:
    """Fitted at 61,230, first point 300 on: 61,530; 10 mi a day reach it on the 17th."""
    answer = item_answer(the_item(FOUND, "u-bolts"), "fallowmere", MILES, book())

    assert answer["item"] == "u-bolts@rear~9f2c61d0"
    assert answer["component"] == "spring"
    assert answer["position"] == "rear"
    assert answer["state"] == "overdue"
    assert (answer["due_on"], answer["due_at"], answer["unit"]) == ("2027-10-06", 61530, "mi")
    assert answer["window"] == {
        "opens_on": "2027-09-06",
        "closes_on": "2027-10-06",
        "opens_at": 61380,
        "closes_at": 61530,
    }
    assert answer["binds"] == "distance"
    assert answer["expected"] == {"p10": "2026-11-17", "p50": "2026-11-17", "p90": "2026-11-17"}
    assert answer["may_be"] is None
    assert answer["danger"] == 1
    assert answer["baseline"] == {
        "on": "2026-10-06",
        "at": 61230,
        "from": "fitted",
        "by": None,
        "record": SPRING,
    }
    assert answer["access"] == ["lift"]
    assert answer["hours"] == 0.3
    assert answer["left"] == {"days": 315, "distance": -70}
    why = answer["why"]
    assert isinstance(why, list)
    assert why[-1] == DEFERRING_LINE


def test_what_is_not_known_is_null() -> None:
    answer = item_answer(the_item(FOUND, "hub-repack"), "fallowmere", MILES, book())

    assert answer["state"] == "no record"
    assert answer["rank"] == 1
    assert answer["due_on"] is answer["due_at"] is answer["binds"] is answer["baseline"] is None
    assert answer["expected"] == {"p10": None, "p50": None, "p90": None}
    assert answer["left"] == {"days": None, "distance": None}


def test_an_access_has_a_place_where_it_is_counted_by_place() -> None:
    """Hubs are counted by the wheel, trim by the side, a lift once a car."""
    assert access_keys(the_item(FOUND, "hub-repack"), book()) == ("hub LF",)
    assert access_keys(the_item(FOUND, "cavity-look"), book()) == ("trim L",)
    assert access_keys(the_item(FOUND, "u-bolts"), book()) == ("lift",)


def test_a_part_is_told_with_its_place_and_day() -> None:
    hose = part("brake hose", "LF", on="2026-10-06", at=61230, made="2026-03-02", material="rubber")

    answer = component_answer(hose, "fallowmere", MILES, day("2026-11-25"))

    assert (answer["kind"], answer["position"], answer["state"]) == ("brake hose", "LF", "fitted")
    assert (answer["on"], answer["at"], answer["unit"]) == ("2026-10-06", 61230, "mi")
    assert answer["made"] == "2026-03-02"
    assert answer["attributes"] == {"material": "rubber"}
    before = component_answer(hose, "fallowmere", MILES, day("2026-10-05"))
    assert before["state"] == "removed"


def test_the_distance_today_is_what_the_dial_will_show() -> None:
    """A day after the last reading the car may not have been driven, or a day's driving."""
    band = DistanceBand(p10=Distance(61_600.2), p50=Distance(61_610.9), p90=Distance(61_620.5))

    assert distance_answer(band, FOUND.odometer) == {"p10": 61600, "p50": 61610, "p90": 61620}
    assert distance_answer(None, FOUND.odometer) == {"p10": None, "p50": None, "p90": None}


def test_a_vehicle_is_told_as_recorded() -> None:
    answer = vehicle_answer(FOUND.car.vehicle)

    assert (answer["vehicle"], answer["year"], answer["drive"]) == ("test-car", 1970, "rear")
    assert answer["owner"] is None
