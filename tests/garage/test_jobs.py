"""Jobs, measurements and refusals: what is written, what is included, what is refused."""

from decimal import Decimal

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.working import State
from castlenut.garage.changes.happenings import draft_happening
from castlenut.garage.changes.jobs import Refusal, draft_decline, draft_job, draft_measurement
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from tests.garage.conftest import CAR, Shop

BEARINGS = ("wheel bearing", "LF,RF")


@pytest.fixture
def shop(shop: Shop) -> Shop:
    """Give a car read at 60,000 and 61,000, with repackable bearings in front, fitted long ago."""
    shop.save(draft_reading(shop.garage, CAR, "60000", on="2026-08-17"))
    shop.save(draft_reading(shop.garage, CAR, "61000", on="2026-11-25"))
    shop.save(draft_fit(shop.garage, CAR, *BEARINGS, {"service": "repackable"}, on="-"))
    shop.save(draft_fit(shop.garage, CAR, "brake fluid", None, {"fluid": "DOT 4"}, on="-"))
    return shop


def component_at(shop: Shop, rule: str, place: str) -> str:
    return next(item.component.record for item in shop.items(rule) if str(item.place) == place)


def faults(error: pytest.ExceptionInfo[BadInput]) -> list[str]:
    return [str(fault) for fault in error.value.faults]


def test_a_job_names_items_what_they_include_and_the_events_of_what_was_opened(shop: Shop) -> None:
    shop.save(
        draft_job(
            shop.garage, CAR, ["hub-repack@LF"], at="61010", hours="1:30", cost="120", note="done"
        )
    )

    (job,) = shop.table("job")
    left = component_at(shop, "hub-repack", "LF")
    assert job == {
        "on": "2026-11-25",
        "at": 61010,
        "by": "this garage",
        "items": [f"hub-repack~{left}"],
        "includes": [f"hub-play~{left}"],
        "events": ["hub-off LF", "wheel-off LF"],
        "hours": Decimal("1.5"),
        "cost": "120.00",
        "note": "done",
    }


def test_a_job_done_ends_no_record(shop: Shop) -> None:
    assert {item.state for item in shop.items("hub-repack")} == {State.NO_RECORD}

    shop.save(draft_job(shop.garage, CAR, ["hub-repack"], at="61010"))

    assert {item.state for item in shop.items("hub-repack")} == {State.AHEAD}


def test_an_included_item_may_be_left_out(shop: Shop) -> None:
    shop.save(draft_job(shop.garage, CAR, ["hub-repack@LF"], at="61010", left_out=["hub-play"]))

    assert "includes" not in shop.table("job")[0]


def test_leaving_out_what_is_not_included_is_refused(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"'brake-fluid' is not included"):
        draft_job(shop.garage, CAR, ["hub-repack@LF"], left_out=["brake-fluid"])


def test_the_reading_of_the_day_is_no_estimate(shop: Shop) -> None:
    shop.save(draft_job(shop.garage, CAR, ["brake-fluid"]))

    (job,) = shop.table("job")
    assert (job["at"], job.get("estimated")) == (61000, None)


def test_between_readings_the_dial_figure_is_estimated_and_marked(shop: Shop) -> None:
    """Half of the 100 days between the readings: half of the 1,000 miles."""
    draft = draft_job(shop.garage, CAR, ["brake-fluid"], on="2026-10-06")
    shop.save(draft)

    (job,) = shop.table("job")
    assert (job["at"], job["estimated"]) == (60500, True)
    assert draft.told == ("dial figure taken as 60,500 mi, estimated",)


def test_long_before_the_readings_nobody_knows_the_dial_figure(shop: Shop) -> None:
    draft = draft_job(shop.garage, CAR, ["brake-fluid"], on="2019-06-01")
    shop.save(draft)

    assert "at" not in shop.table("job")[0]
    assert draft.told == ("no dial figure is known for that day: give one with --at",)


def test_a_dial_figure_that_does_not_fit_is_kept_and_told(shop: Shop) -> None:
    draft = draft_job(shop.garage, CAR, ["brake-fluid"], at="6100")

    assert draft.told == ("6,100 is lower than the reading 61,000 of 2026-11-25: kept as typed",)


def test_work_of_another_shop_is_named(shop: Shop) -> None:
    shop.save(draft_job(shop.garage, CAR, ["brake-fluid"], by="Fell Garage"))

    assert shop.table("job")[0]["by"] == "Fell Garage"


def test_values_go_to_the_items_in_their_order(shop: Shop) -> None:
    shop.save(
        draft_job(
            shop.garage,
            CAR,
            ["hub-play@LF", "hub-play@RF"],
            at="61010",
            measured=[".003 in", "0.05mm"],
        )
    )

    job = shop.ids("job")[-1]
    assert [
        (each["place"], str(each["value"]), each["unit"], each["measure"], each["job"])
        for each in shop.table("measurement")
    ] == [
        ("LF", "0.003", "in", "bearing_end_play", job),
        ("RF", "0.05", "mm", "bearing_end_play", job),
    ]


def test_a_value_of_a_repack_is_of_the_play_it_includes(shop: Shop) -> None:
    shop.save(draft_job(shop.garage, CAR, ["hub-repack@LF"], at="61010", measured=[".002"]))

    (measurement,) = shop.table("measurement")
    assert str(measurement["item"]).startswith("hub-play~")


def test_more_values_than_items_are_refused(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"3 values are given for 1 items"):
        draft_job(shop.garage, CAR, ["hub-play@LF"], measured=["1", "2", "3"])


def test_a_refusal_may_stand_in_the_same_entry(shop: Shop) -> None:
    saved = shop.save(
        draft_job(
            shop.garage,
            CAR,
            ["hub-repack@LF"],
            at="61010",
            declined=[Refusal(items=["brake-fluid"], who="owner", why="next year")],
        )
    )

    assert sorted(each.table for each in saved.records) == ["decline", "job"]
    assert {item.state for item in shop.items("brake-fluid")} == {State.DECLINED}


def test_all_faults_of_an_entry_are_told_at_once(shop: Shop) -> None:
    with pytest.raises(BadInput) as raised:
        draft_job(
            shop.garage,
            CAR,
            ["hub-repak"],
            on="2026-12-24",
            at="123456",
            hours="long",
            cost="free",
            measured=[],
        )

    assert [fault.where for fault in raised.value.faults] == ["item", "on", "at", "hours", "cost"]
    assert shop.table("job") == []


def test_a_measurement_keeps_unit_resolution_and_place(shop: Shop) -> None:
    shop.save(draft_measurement(shop.garage, CAR, "hub-play@LF", ".004", at="61005"))

    (values,) = shop.table("measurement")
    left = component_at(shop, "hub-play", "LF")
    assert values == {
        "measure": "bearing_end_play",
        "item": f"hub-play~{left}",
        "place": "LF",
        "value": Decimal("0.004"),
        "unit": "in",
        "resolution": Decimal("0.001"),
        "on": "2026-11-25",
        "at": 61005,
    }


def test_an_estimated_dial_figure_is_marked_in_the_note(shop: Shop) -> None:
    shop.save(draft_measurement(shop.garage, CAR, "hub-play@LF", ".004", on="2026-10-06"))

    assert shop.table("measurement")[0]["note"] == "dial figure estimated"


def test_a_bare_figure_that_may_be_two_measures_is_asked_about(shop: Shop) -> None:
    with pytest.raises(BadInput) as raised:
        draft_measurement(shop.garage, CAR, "brake-fluid", "210")

    assert "may be fluid_" in faults(raised)[0]


def test_the_unit_or_the_name_tells_the_measure(shop: Shop) -> None:
    shop.save(draft_measurement(shop.garage, CAR, "brake-fluid", "210 C"))
    shop.save(draft_measurement(shop.garage, CAR, "brake-fluid", "fluid_copper=150"))

    assert [each["measure"] for each in shop.table("measurement")] == [
        "fluid_boiling",
        "fluid_copper",
    ]


def test_a_measure_the_rule_does_not_have_is_refused(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"hub-play has no measure 'toe'"):
        draft_measurement(shop.garage, CAR, "hub-play@LF", "toe=3")


def test_a_check_is_good_or_not_good(shop: Shop) -> None:
    shop.save(draft_measurement(shop.garage, CAR, "brake-level", "not good"))

    assert shop.table("measurement")[0]["value"] == "not good"
    with pytest.raises(BadInput, match=r"write good or not good"):
        draft_measurement(shop.garage, CAR, "brake-level", "4 mm")


def test_a_declined_item_stays_and_says_until_when(shop: Shop) -> None:
    shop.save(
        draft_decline(
            shop.garage, CAR, ["brake-fluid"], who="owner", why="next year", until="2027-06-01"
        )
    )

    (values,) = shop.table("decline")
    assert (values["who"], values["why"], values["until"]) == ("owner", "next year", "2027-06-01")


def test_asking_again_before_the_refusal_is_refused(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"2020-01-01 is before the day of the refusal"):
        draft_decline(shop.garage, CAR, ["brake-fluid"], until="2020-01-01")


def test_an_event_is_found_by_any_word_of_it(shop: Shop) -> None:
    shop.save(draft_happening(shop.garage, CAR, "pothole", where="LF", at="61005"))

    (values,) = shop.table("happening")
    assert (values["event"], values["place"]) == ("curb-hit", "LF")


def test_an_event_at_two_places_is_two_records(shop: Shop) -> None:
    shop.save(draft_happening(shop.garage, CAR, "curb-hit", where="LF,RF", at="61005"))

    assert [each["place"] for each in shop.table("happening")] == ["LF", "RF"]


@pytest.mark.parametrize(
    ("event", "where", "sentence"),
    [
        ("forde", "trunk", "place: 'trunk' is not a place;"),
        ("fordd", None, "event: no event 'fordd'; did you mean"),
        ("layup", None, "event: layup has its dates kept as an exposure; use layup --from DATE"),
    ],
)
def test_what_did_not_happen_is_refused(
    shop: Shop, event: str, where: str | None, sentence: str
) -> None:
    with pytest.raises(BadInput) as raised:
        draft_happening(shop.garage, CAR, event, where=where)

    assert any(fault.startswith(sentence) for fault in faults(raised))


def test_an_item_of_a_part_that_is_not_fitted_says_which(shop: Shop) -> None:
    with pytest.raises(BadInput) as raised:
        draft_job(shop.garage, CAR, ["timing-belt"])

    assert faults(raised) == [
        "item: timing-belt has no item on this car; record what it is for: timing belt"
    ]


def test_thicker_than_new_is_asked_about(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "brake pad", "LF", {"new": "10mm"}))

    draft = draft_measurement(shop.garage, CAR, "pad-measure@LF", "10.5mm")

    assert draft.told == ("more than when new (10 mm): was the brake pad changed?",)
