"""reckon forecast and reckon distance: lines in, lines out. All cars are invented."""

import io
import json

import pytest

from castlenut.command.reckon.kinds import run

FORECAST: dict[str, object] = {
    "asof": "2026-03-10",
    "first_use_year": 1972,
    "unit": "mi",
    "odometer": {"digits": 5, "tenths": False},
    "usage": "seasonal",
    "readings": [["2025-01-02", 38900], ["2025-06-01", 39500], ["2025-10-01", 40950]],
    "events": [],
    "after_last": 844,
}
DISTANCE: dict[str, object] = {
    "unit": "mi",
    "odometer": {"digits": 5, "tenths": False},
    "readings": [["2025-01-02", 98750], ["2025-03-01", 430]],
}


def answer(kind: str, line: dict[str, object], **changed: object) -> dict[str, object]:
    out = io.StringIO()
    run(kind, [json.dumps({"id": 1, **line, **changed})], out)
    found: dict[str, object] = json.loads(out.getvalue())
    return found


def flags(found: dict[str, object]) -> list[dict[str, object]]:
    listed = found["flags"]
    assert isinstance(listed, list)
    return listed


def test_a_forecast_has_every_field_of_the_contract() -> None:
    found = answer("forecast", FORECAST)

    assert list(found) == [
        "id",
        "p10",
        "p50",
        "p90",
        "chance_due",
        "driven",
        "yearly",
        "why",
        "flags",
    ]
    assert str(found["p10"]) <= str(found["p50"]) <= str(found["p90"])
    assert found["flags"] == []


def test_the_same_line_gives_the_same_bytes() -> None:
    assert json.dumps(answer("forecast", FORECAST)) == json.dumps(answer("forecast", FORECAST))


def test_why_begins_with_the_reading_and_what_is_left() -> None:
    why = answer("forecast", FORECAST)["why"]

    assert isinstance(why, list)
    assert why[0] == "Last reading 40,950 on 1 October 2025; due at 41,794: 844 miles to go."
    assert why[1].startswith("Known from 3 readings over 9 months: about ")
    assert "one chance in ten before " in why[-1].lower() or "may already be due" in why[-1]


def test_one_reading_says_what_it_rests_on() -> None:
    why = answer("forecast", FORECAST, readings=[["2026-03-03", 41020]])["why"]

    assert isinstance(why, list)
    assert why[1] == (
        "Only one reading: this rests on how cars of this age and use are usually driven. A second"
        " reading will sharpen it."
    )


def test_a_long_wait_asks_for_a_reading() -> None:
    why = answer("forecast", FORECAST, asof="2026-09-10")["why"]

    assert isinstance(why, list)
    assert why[-1].startswith("No reading for 11 months: it may already be due (chance ")
    assert why[-1].endswith(" %). Read the odometer.")


def test_far_more_than_ten_years_of_driving_gives_no_date() -> None:
    found = answer("forecast", FORECAST, after_last=500_000)

    assert found["p10"] is found["p50"] is found["p90"] is None
    assert found["chance_due"] == 0


def test_an_open_lay_up_before_it_is_reached_gives_no_date_and_is_said() -> None:
    found = answer("forecast", FORECAST, laid_up=[["2025-10-02", None]])

    assert found["p10"] is None
    why = found["why"]
    assert isinstance(why, list)
    assert "Laid up from 2 October 2025 until further notice: no distance is run in it." in why


def test_a_rollover_is_counted_and_asked_about() -> None:
    """10.01: 98,750 then 00,430 is 1,680."""
    found = answer("distance", DISTANCE)

    assert found["distance"] == [0, 1680]
    (flag,) = flags(found)
    assert (flag["index"], flag["cause"], flag["held"]) == (1, "rolled over", False)
    assert flag["would_fit"] is None
    assert "passes 99,999 and starts again: 1,680 mi in 58 days" in str(flag["reason"])


def test_a_changed_factor_counts_from_its_day() -> None:
    """10.12: 10,000 at 1.00, then 5,000 shown at 1.04."""
    found = answer(
        "distance",
        DISTANCE,
        readings=[["2022-01-01", 30000], ["2023-01-01", 40000], ["2024-01-01", 45000]],
        events=[{"date": "2023-01-01", "kind": "tire_factor", "factor": 1.04}],
    )

    assert found["distance"] == [0, 10000, 15200]
    assert found["notes"] == []


def test_a_replaced_dial_goes_on_where_the_old_one_ended() -> None:
    """45,120, ended at 45,300; the new one from 0, now 210."""
    found = answer(
        "distance",
        DISTANCE,
        readings=[["2024-03-01", 45120], ["2024-05-01", 210]],
        events=[{"date": "2024-04-01", "kind": "odometer_replaced", "start": 0, "last": 45300}],
    )

    assert found["distance"] == [0, 390]


def test_a_replaced_dial_whose_end_is_unknown_says_how_much_is_estimate() -> None:
    """1,330 in the 50 days read: 266 in the ten not read, or a little more, as spring comes."""
    found = answer(
        "distance",
        DISTANCE,
        readings=[["2024-01-01", 44000], ["2024-02-01", 45120], ["2024-03-01", 210]],
        events=[{"date": "2024-02-11", "kind": "odometer_replaced", "start": 0}],
    )

    distances = found["distance"]
    assert isinstance(distances, list)
    assert distances[:2] == [0, 1120]
    assert distances[2] == pytest.approx(1120 + 266 + 210, abs=8)
    notes = found["notes"]
    assert isinstance(notes, list)
    assert len(notes) == 1
    assert str(notes[0]).endswith(f"is taken for {distances[2] - 1330:.0f} mi.")


def test_a_factor_changed_between_two_readings_is_noted() -> None:
    found = answer(
        "distance",
        DISTANCE,
        readings=[["2024-01-01", 40000], ["2024-07-01", 43000]],
        events=[{"date": "2024-04-01", "kind": "tire_factor", "factor": 1.1}],
    )

    assert found["notes"] == [
        (
            "The factor changed between two readings, on 2024-04-01: split by how the car is used,"
            " its season counted in."
        )
    ]


def test_a_factor_changed_in_winter_counts_hardly_before_a_fair_weather_car_is_driven() -> None:
    """1,000 shown from 1 July to 1 April, other tires on 1 January: nearly all was run before.

    By days a third of it would count 1.1, which is 33 miles more.
    """
    found = answer(
        "distance",
        DISTANCE,
        usage="seasonal",
        readings=[["2023-07-01", 39000], ["2024-07-01", 40000], ["2025-04-01", 41000]],
        events=[{"date": "2025-01-01", "kind": "tire_factor", "factor": 1.1}],
    )

    distances = found["distance"]
    assert isinstance(distances, list)
    assert distances[:2] == [0, 1000]
    assert 2000 < distances[2] < 2012


def test_a_lay_up_takes_no_part_when_a_stretch_is_split() -> None:
    """Laid up since the tires were changed: none of the distance counts by the new factor."""
    found = answer(
        "distance",
        DISTANCE,
        readings=[["2024-04-01", 40000], ["2025-04-01", 41000]],
        events=[{"date": "2024-10-01", "kind": "tire_factor", "factor": 1.1}],
        laid_up=[["2024-10-01", "2025-04-30"]],
    )

    assert found["distance"] == [0, 1000]


def test_an_untold_new_dial_holds_back_what_was_read_on_it() -> None:
    found = answer(
        "distance",
        DISTANCE,
        readings=[
            ["2024-01-01", 43000],
            ["2024-02-01", 44120],
            ["2024-02-21", 310],
            ["2024-04-01", 700],
        ],
    )

    assert found["distance"] == [0, 1120, None, None]
    (flag,) = flags(found)
    assert (flag["index"], flag["cause"], flag["held"]) == (2, "replaced or set back", True)


def test_a_figure_beyond_the_dial_is_a_finding_and_no_error() -> None:
    found = answer(
        "distance",
        DISTANCE,
        odometer={"digits": 5, "tenths": True},
        readings=[["2024-01-01", 58200.4], ["2024-02-01", 583316]],
    )

    (flag,) = flags(found)
    assert (flag["cause"], flag["would_fit"], flag["held"]) == ("tenths", 58331.6, True)


def test_the_last_reading_is_the_starting_point_even_if_held_back() -> None:
    found = answer(
        "forecast",
        FORECAST,
        asof="2026-01-10",
        readings=[["2025-01-02", 38900], ["2025-06-01", 39500], ["2025-11-01", 31950]],
    )

    why = found["why"]
    assert isinstance(why, list)
    assert why[0].startswith("Last reading 31,950 on 1 November 2025; due at 32,794:")
    assert str(found["p10"]) > "2025-11-01"


def test_distance_takes_the_line_of_a_forecast() -> None:
    assert answer("distance", FORECAST)["distance"] == [0, 600, 2050]


def test_miles_and_kilometers_of_one_car_get_the_same_dates() -> None:
    miles = answer("forecast", FORECAST)
    kilometers = answer(
        "forecast",
        FORECAST,
        unit="km",
        odometer={"digits": 6, "tenths": True},
        readings=[["2025-01-02", 62603.5], ["2025-06-01", 63569.1], ["2025-10-01", 65902.6]],
        after_last=844 * 1.609344,
    )

    assert [miles[name] for name in ("p10", "p50", "p90")] == [
        kilometers[name] for name in ("p10", "p50", "p90")
    ]


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"asof": "2025-09-30"}, "asof: is before the last reading; give that day or a later one"),
        ({"asof": None}, "asof: is missing; give the day of the question"),
        ({"first_use_year": 2027}, "first_use_year: 2027 is after asof;"),
        ({"first_use_year": 1884}, "first_use_year: 1884 is out of range;"),
        ({"unit": "miles"}, "unit: 'miles' is not one of its words;"),
        ({"odometer": {"digits": 3, "tenths": True}}, "odometer.digits: 3 is out of range;"),
        ({"odometer": {"digits": 8, "tenths": True}}, "odometer.digits: 8 is out of range;"),
        ({"usage": "rarely"}, "usage: 'rarely' is not one of its words;"),
        ({"readings": []}, "readings: is empty; give at least one reading"),
        (
            {"readings": [["2025-06-01", 39500], ["2025-01-02", 38900]]},
            "readings[2]: is out of order; give the readings in order of date",
        ),
        ({"readings": [["2025-06-01", -1]]}, "readings[1]: -1 is out of range;"),
        ({"readings": [["2025-06-01", "12"]]}, "readings[1]: '12' is not a number;"),
        ({"readings": [["2025-02-30", 12]]}, "readings[1]: there is no day 2025-02-30;"),
        ({"readings": [[12, 12]]}, "readings[1]: 12 is not a date;"),
        ({"readings": [12]}, "readings[1]: 12 is not a reading; give [date, shown]"),
        (
            {"events": [{"date": "2025-05-01", "kind": "tire_factor", "factor": 2.5}]},
            "events[1].factor: 2.5 is out of range; give a number from 0.5 to 2",
        ),
        (
            {"events": [{"date": "2025-05-01", "kind": "tire_factor"}]},
            "events[1].factor: is missing;",
        ),
        (
            {"events": [{"date": "2025-05-01", "kind": "odometer_replaced", "start": 100000}]},
            "events[1].start: 100000 is out of range;",
        ),
        (
            {"events": [{"date": "2025-05-01", "kind": "odometer_replaced"}]},
            "events[1].start: is missing;",
        ),
        (
            {"events": [{"date": "2025-05-01", "kind": "painted"}]},
            "events[1].kind: 'painted' is not one of its words;",
        ),
        (
            {"events": [{"date": "2026-05-01", "kind": "tire_factor", "factor": 1}]},
            "events[1].date: is after asof;",
        ),
        ({"events": [7]}, "events[1]: 7 is not an object; write it in braces"),
        (
            {"laid_up": [["2025-05-01", "2025-04-01"]]},
            "laid_up[1]: ends before it begins; give the first day first",
        ),
        (
            {"laid_up": [["2025-05-01", None], ["2025-06-01", "2025-07-01"]]},
            "laid_up: overlaps itself; give spans that lie apart",
        ),
        ({"laid_up": ["2025-05-01"]}, "laid_up[1]: '2025-05-01' is not a span;"),
        ({"after_last": 0}, "after_last: is not above 0; give the distance that is left"),
        ({"after_last": None}, "after_last: is missing;"),
        ({"afterlast": 3}, "afterlast: is not a field here; after_last is probably meant"),
    ],
)
def test_bad_input_is_refused_in_one_sentence(changed: dict[str, object], sentence: str) -> None:
    found = answer("forecast", FORECAST, **changed)

    assert set(found) == {"id", "error"}
    assert sentence in str(found["error"])
