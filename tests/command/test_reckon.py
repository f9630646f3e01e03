"""reckon: lines in, lines out, and the kinds of this part."""

import io
import json
from collections.abc import Mapping
from pathlib import Path

import pytest

from castlenut.command.reckon.kinds import KINDS, fields_help, run
from castlenut.domain.errors import BadInput
from castlenut.domain.vin import VinNote

DOCS = Path(__file__).parents[2] / "docs"


class Watched(io.StringIO):
    """Output that remembers what had been written at each flush."""

    def __init__(self) -> None:
        super().__init__()
        self.flushed: list[str] = []

    def flush(self) -> None:
        self.flushed.append(self.getvalue())


def answers(kind: str, *lines: str | bytes) -> list[dict[str, object]]:
    out = io.StringIO()
    run(kind, lines, out)
    return [json.loads(line) for line in out.getvalue().splitlines()]


def answer(kind: str, **fields: object) -> dict[str, object]:
    (only,) = answers(kind, json.dumps({"id": 1, **fields}))
    return only


def error(kind: str, **fields: object) -> str:
    found = answer(kind, **fields)
    assert set(found) == {"id", "error"}
    return str(found["error"])


def test_each_line_is_answered_in_order_with_its_id() -> None:
    found = answers(
        "months",
        '{"id": "b", "from": "2025-01-31", "months": 1}',
        "",
        '{"id": 7, "from": "2025-01-31", "months": 2}',
    )

    assert found == [{"id": "b", "dates": ["2025-02-28"]}, {"id": 7, "dates": ["2025-03-31"]}]


def test_exit_is_0_when_every_line_was_answered() -> None:
    assert run("months", ['{"from": "2025-01-31", "months": 1}'], io.StringIO()) == 0


def test_one_bad_line_makes_exit_2_and_the_rest_goes_on() -> None:
    out = io.StringIO()

    code = run("months", ["nonsense\n", '{"id": 1, "from": "2025-01-31", "months": 1}\n'], out)

    assert code == 2
    first, second = (json.loads(line) for line in out.getvalue().splitlines())
    assert first["id"] is None
    assert second == {"id": 1, "dates": ["2025-02-28"]}


def test_nothing_asked_is_nothing_wrong() -> None:
    assert run("months", ["\n", "  \n"], io.StringIO()) == 0


def test_output_is_flushed_line_by_line() -> None:
    out = Watched()

    run("months", ['{"id": 1, "from": "2025-01-31", "months": 1}', "no"], out)

    assert [text.count("\n") for text in out.flushed] == [1, 2]


def test_line_that_is_not_utf8_spoils_no_other() -> None:
    found = answers("months", b'{"id": "\xff"}', b'{"id": 1, "from": "2025-01-31", "months": 1}')

    assert found[0]["id"] is None
    assert found[1]["dates"] == ["2025-02-28"]


def test_byte_order_mark_is_passed_over() -> None:
    line = b'\xef\xbb\xbf{"id": 1, "from": "2025-01-31", "months": 1}'

    assert answers("months", line) == [{"id": 1, "dates": ["2025-02-28"]}]


@pytest.mark.parametrize(
    "line",
    [
        "nonsense",
        '{"id": 1',
        "{'id': 1}",
        '{"id": 1, "months": ' + "9" * 5000 + "}",
        '{"id": 1, "months": 1e99999999999999999999}',
        '{"id": ' + "[" * 100_000,
    ],
)
def test_line_that_is_not_json_has_no_id(line: str) -> None:
    assert answers("months", line) == [
        {"id": None, "error": "line: is not JSON; write one object a line, in braces"}
    ]


@pytest.mark.parametrize("line", ["[1]", "5", '"text"', "null"])
def test_line_that_is_no_object_is_an_error(line: str) -> None:
    assert answers("months", line) == [
        {"id": None, "error": "line: is not an object; write one object a line, in braces"}
    ]


@pytest.mark.parametrize(
    ("given", "expected"),
    [("1.5", 1.5), ("null", None), ("true", True), ('"é"', "é"), ("1e400", "1E+400")],
)
def test_id_comes_back_as_it_was(given: str, expected: object) -> None:
    line = '{"id": ' + given + ', "from": "2025-01-31", "months": 1}'

    assert answers("months", line) == [{"id": expected, "dates": ["2025-02-28"]}]


def test_id_must_be_a_text_or_a_number() -> None:
    (found,) = answers("months", '{"id": [1], "from": "2025-01-31", "months": 1}')

    assert found == {
        "id": None,
        "error": "id: is a list or an object; give a text or a number",
    }


def test_field_named_twice_is_an_error() -> None:
    (found,) = answers("months", '{"id": 1, "from": "2025-01-31", "months": 1, "months": 2}')

    assert found == {"id": 1, "error": "line: names a field twice; name each field once"}


def test_misspelled_field_is_told_with_what_was_meant() -> None:
    assert error("months", form="2025-01-31", months=1) == (
        "form: is not a field here; from is probably meant."
        " from: is missing; give the anchor, a day"
    )


def test_misspelled_field_inside_an_object_is_told_with_its_place() -> None:
    found = error("interval", every={"month": 6}, last={"on": "2025-01-31"})

    assert found.startswith("every.month: is not a field here; months is probably meant")


def test_field_that_resembles_none_is_told_with_all_of_them() -> None:
    found = error("months", **{"from": "2025-01-31", "months": 1, "xyz": 1})

    assert found == "xyz: is not a field here; it may be from, months, times"


def test_every_fault_of_a_line_is_told() -> None:
    found = error("interval", every={"months": 0}, last={"on": "2023-02-30"}, factor=2)

    assert found == (
        "every.months: 0 is out of range; give a number from 1 to 1200."
        " last.on: there is no day 2023-02-30; give a day of the calendar."
        " factor: 2 is out of range; give a number from 0.01 to 1"
    )


def test_null_counts_as_left_out() -> None:
    found = answer("months", **{"from": "2025-01-31", "months": 1, "times": None})

    assert found == {"id": 1, "dates": ["2025-02-28"]}


@pytest.mark.parametrize("value", ["6", True, [6], {"months": 6}])
def test_what_is_no_number_is_an_error(value: object) -> None:
    assert "months" in error("months", **{"from": "2025-01-31", "months": value})


@pytest.mark.parametrize("text", ["NaN", "Infinity", "-Infinity", "1e300", "-1201", "1201", "1.5"])
def test_number_that_cannot_be_is_an_error(text: str) -> None:
    (found,) = answers("months", '{"id": 1, "from": "2025-01-31", "months": ' + text + "}")

    assert found["id"] == 1
    assert str(found["error"]).startswith("months: ")


@pytest.mark.parametrize("day", ["2023-02-29", "20230131", "2023-W05-2", "23-01-31", "", 20230131])
def test_day_that_is_none_is_an_error(day: object) -> None:
    assert "from: " in error("months", **{"from": day, "months": 1})


def test_kind_that_is_none_names_the_near_one() -> None:
    with pytest.raises(BadInput, match="interval is probably meant"):
        run("intervall", [], io.StringIO())


def test_kind_that_resembles_none_names_them_all() -> None:
    with pytest.raises(BadInput, match="the kinds are interval, months, points"):
        fields_help("zzz")


def test_every_kind_has_help_that_names_its_fields() -> None:
    for kind, summary in KINDS.items():
        text = fields_help(kind)
        assert text.startswith(f"{kind}: {summary}\n")
        assert max(map(len, text.splitlines())) < 400
    assert "[tolerance]" in fields_help("interval")
    assert "  every " in fields_help("interval")


def test_interval_of_the_contract() -> None:
    """Ten percent of 6 x 30 days about 31 January 1999 (7.04)."""
    found = answer(
        "interval",
        every={"months": 6},
        due={"on": "1999-01-31"},
        tolerance={"percent": 10, "cap_days": 30},
        next_from="schedule",
        done={"on": "1999-02-15"},
    )

    assert found == {
        "id": 1,
        "due": {"on": "1999-01-31", "at": None},
        "window": {
            "opens_on": "1999-01-13",
            "closes_on": "1999-02-18",
            "opens_at": None,
            "closes_at": None,
        },
        "inside": {"on": True, "at": None},
        "next": {"on": "1999-07-31", "at": None},
    }


def test_interval_with_two_sides_and_today() -> None:
    """7.07, and the day it is due on."""
    found = answer(
        "interval",
        every={"days": 14, "distance": 10},
        last={"on": "1997-05-22", "at": 1709},
        tolerance={"percent": 10},
        today="1997-06-05",
        at_today=1712,
    )

    assert found["due"] == {"on": "1997-06-05", "at": 1719}
    assert found["window"] == {
        "opens_on": "1997-06-04",
        "closes_on": "1997-06-06",
        "opens_at": 1718,
        "closes_at": 1720,
    }
    assert (found["state"], found["binds"]) == ("due", "date")
    assert found["left"] == {"days": 0, "distance": 7}


def test_without_tolerance_the_window_is_the_due_point() -> None:
    found = answer("interval", every={"months": 12}, last={"on": "2025-03-31"})

    assert found["window"] == {
        "opens_on": "2026-03-31",
        "closes_on": "2026-03-31",
        "opens_at": None,
        "closes_at": None,
    }


def test_lead_opens_the_window_apart_from_the_tolerance() -> None:
    found = answer(
        "interval",
        every={"distance": 6000},
        last={"at": 44000},
        lead={"percent": 10, "cap_distance": 500},
    )

    assert found["window"] == {
        "opens_on": None,
        "closes_on": None,
        "opens_at": 49500,
        "closes_at": 50000,
    }


def test_factor_acts_before_the_tolerance() -> None:
    """6 months x 0.7 = 4 months 6 days = 126 days, of which 12 are allowed."""
    found = answer(
        "interval",
        every={"months": 6, "distance": 3000},
        last={"on": "2025-01-31", "at": 10000},
        factor=0.7,
        tolerance={"percent": 10},
    )

    assert found["due"] == {"on": "2025-06-06", "at": 12100}
    assert found["window"] == {
        "opens_on": "2025-05-25",
        "closes_on": "2025-06-18",
        "opens_at": 11890,
        "closes_at": 12310,
    }


def test_whole_months_say_which_reading_was_used() -> None:
    """7.25: 12 months run from 11 to 13."""
    found = answer(
        "interval",
        every={"months": 12},
        last={"on": "2025-05-20"},
        tolerance={"percent": 10, "whole_months": True},
    )

    window = found["window"]
    assert isinstance(window, dict)
    assert (window["opens_on"], window["closes_on"]) == ("2026-04-20", "2026-06-20")
    assert found["notes"] == [
        "tolerance: counted in whole calendar months, a part of a month dropped"
    ]


def test_end_of_month_holds_for_due_and_next() -> None:
    """7.26."""
    found = answer(
        "interval",
        every={"months": 24},
        last={"on": "2020-07-22"},
        next_from="end of month",
        done={"on": "2022-06-06"},
    )

    assert found["due"] == {"on": "2022-07-31", "at": None}
    assert found["next"] == {"on": "2024-06-30", "at": None}


def test_early_outside_the_window_counts_from_the_job() -> None:
    """7.03."""
    found = answer(
        "interval",
        every={"distance": 50},
        due={"at": 1306.4},
        tolerance={"percent": 10, "cap_distance": 5},
        next_from="schedule",
        done={"at": 1299.9},
    )

    assert found["inside"] == {"on": None, "at": False}
    assert found["next"] == {"on": None, "at": 1349.9}


def test_today_without_a_side_to_hold_it_against_is_not_known() -> None:
    found = answer("interval", every={"distance": 50}, last={"at": 100}, today="2026-01-01")

    assert (found["state"], found["binds"]) == (None, None)
    assert found["left"] == {"days": None, "distance": None}


def test_side_that_every_does_not_count_is_not_known() -> None:
    found = answer("interval", every={"months": 6}, due={"on": "2026-01-31", "at": 500})

    assert found["due"] == {"on": "2026-01-31", "at": None}


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({"last": {"on": "2026-01-31"}}, "every: is missing"),
        ({"every": {"months": 6}}, "last: is missing; give last or due"),
        (
            {"every": {"months": 6}, "last": {"on": "2026-01-31"}, "due": {"on": "2026-01-31"}},
            "last: stands beside due",
        ),
        ({"every": {}, "last": {"on": "2026-01-31"}}, "every: has no side"),
        ({"every": 6, "last": {"on": "2026-01-31"}}, "every: 6 is not an object"),
        (
            {"every": {"months": 6, "days": 3}, "last": {"on": "2026-01-31"}},
            "every.days: stands beside months",
        ),
        ({"every": {"months": 6}, "last": {}}, "last: has no side"),
        ({"every": {"months": 6}, "last": {"at": 5}}, "last: gives no side that every counts"),
        ({"every": {"distance": -5}, "last": {"at": 5}}, "every.distance: -5 is out of range"),
        ({"every": {"distance": 5}, "last": {"at": -5}}, "last.at: -5 is out of range"),
        (
            {"every": {"months": 6}, "last": {"on": "2026-01-31"}, "tolerance": {"cap_days": 3}},
            "tolerance.percent: is missing",
        ),
        (
            {"every": {"months": 6}, "last": {"on": "2026-01-31"}, "lead": {"percent": 101}},
            "lead.percent: 101 is out of range",
        ),
        (
            {
                "every": {"months": 6},
                "last": {"on": "2026-01-31"},
                "lead": {"percent": 10, "whole_months": 1},
            },
            "lead.whole_months: 1 is neither true nor false",
        ),
        (
            {"every": {"months": 6}, "last": {"on": "2026-01-31"}, "next_from": "scedule"},
            "next_from: 'scedule' is not one of its words; schedule is probably meant",
        ),
        ({"every": {"months": 1200}, "last": {"on": "9950-01-31"}}, "leave the calendar"),
        (
            {"every": {"months": 6}, "due": {"on": "0001-01-03"}, "lead": {"percent": 10}},
            "leave the calendar",
        ),
    ],
)
def test_interval_that_cannot_be_answered(fields: Mapping[str, object], where: str) -> None:
    assert where in error("interval", **fields)


def test_months_are_each_counted_from_the_anchor() -> None:
    """7.31."""
    found = answer("months", **{"from": "2025-01-31", "months": 1, "times": 3})

    assert found["dates"] == ["2025-02-28", "2025-03-31", "2025-04-30"]


def test_months_below_0_count_back() -> None:
    """7.28."""
    assert answer("months", **{"from": "2020-02-29", "months": -1})["dates"] == ["2020-01-29"]


def test_0_months_count_nothing() -> None:
    assert "months: 0 counts nothing" in error("months", **{"from": "2020-02-29", "months": 0})


def test_points_of_a_wheel_change() -> None:
    """4.24."""
    found = answer(
        "points", **{"from": 41250, "first": [100, 500, 1000], "every": 1000, "count": 4}
    )

    assert found == {"id": 1, "at": [41350, 41750, 42250, 43250], "shown": None}


def test_dial_starts_again_after_its_last_figure() -> None:
    """10.01: 98,750 and 1,680 on."""
    found = answer("points", **{"from": 98750, "first": [1680], "digits": 5, "count": 1})

    assert found == {"id": 1, "at": [100430], "shown": [430]}


def test_dial_shows_whole_units() -> None:
    found = answer("points", **{"from": 99.6, "first": [0.3, 0.5], "digits": 6, "count": 2})

    assert found == {"id": 1, "at": [99.9, 100.1], "shown": [99, 100]}


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({"from": 0, "first": [], "count": 2}, "first: holds no point"),
        ({"from": 0, "first": [5, 5], "count": 2}, "first: does not rise"),
        ({"from": 0, "first": 5, "count": 2}, "first: 5 is not a list"),
        ({"from": 0, "first": [5, "x"], "count": 2}, "first[2]: 'x' is not a number"),
        ({"from": 0, "first": [5], "count": 0}, "count: 0 is out of range"),
        ({"from": 0, "first": [5], "count": 1, "digits": 2.5}, "digits: 2.5 is not whole"),
        ({"first": [5], "count": 1}, "from: is missing"),
    ],
)
def test_points_that_cannot_be_answered(fields: Mapping[str, object], where: str) -> None:
    assert where in error("points", **fields)


def test_wear_of_a_pad() -> None:
    """2 mm in 20,000, 6 mm to the limit."""
    found = answer("wear", points=[[0, 10], [20000, 8]], limit=2)

    assert found == {
        "id": 1,
        "rate_per_1000": 0.1,
        "left": 60000,
        "left_low": None,
        "left_high": None,
        "reached": False,
    }


def test_wear_of_a_drum_that_grows() -> None:
    found = answer("wear", points=[[0, 9.50], [20000, 9.53]], limit=9.56)

    assert (found["rate_per_1000"], found["left"], found["reached"]) == (0.0015, 20000, False)


def test_drum_past_its_limit_has_reached_it() -> None:
    assert answer("wear", points=[[0, 9.50], [20000, 9.57]], limit=9.56)["reached"] is True


def test_measure_below_its_limit_that_has_not_grown_has_reached_it() -> None:
    assert answer("wear", points=[[0, 1.5]], limit=2)["reached"] is True


def test_new_tread_read_a_hair_deeper_is_no_drum() -> None:
    found = answer("wear", points=[[0, 8.0], [5000, 8.1]], limit=2)

    assert (found["rate_per_1000"], found["reached"]) == (None, False)


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({"points": [], "limit": 2}, "points: holds no measurement"),
        ({"points": [[1]], "limit": 2}, "points[1]: a list is not a pair"),
        ({"points": [[1, "a"]], "limit": 2}, "points[1]: 'a' is not a number"),
        ({"points": [[5, 9], [4, 8]], "limit": 2}, "points: has distances that fall"),
        ({"points": [[0, 9]], "limit": 2, "resolution": 0}, "resolution: 0 is out of range"),
        ({"points": [[0, 9]]}, "limit: is missing"),
    ],
)
def test_wear_that_cannot_be_answered(fields: Mapping[str, object], where: str) -> None:
    assert where in error("wear", **fields)


@pytest.mark.parametrize(
    ("fields", "passes", "allowed"),
    [
        ({"limit": "steering lash", "wheel_diameter_in": 18, "measured_in": 2.3}, False, 2.25),
        ({"limit": "steering lash", "wheel_diameter_in": 20, "measured_in": 2.5}, True, 2.5),
        ({"limit": "steering linkage", "gvwr_lb": 4000, "measured_in": 0.3125}, False, 0.25),
        (
            {"limit": "steering linkage", "gvwr_lb": 14000, "rim_in": 17.5, "measured_in": 0.375},
            True,
            0.375,
        ),
        ({"limit": "toe", "spec_in": 0.125, "measured_in": -0.1875}, True, 0.1875),
        ({"limit": "toe", "spec_in": 0.125, "measured_mm": 4.8}, False, 4.7625),
        ({"limit": "lining", "gvwr_lb": 4000, "measured_in": 0.015625}, False, 0.03125),
        (
            {"limit": "lining", "gvwr_lb": 14000, "lining": "bonded", "measured_in": 0.03125},
            False,
            0.0625,
        ),
        (
            {"limit": "lining", "gvwr_lb": 14000, "lining": "riveted", "measured_in": 0.03125},
            True,
            0.03125,
        ),
        ({"limit": "rim runout", "measured_in": 0.125}, True, 0.125),
        ({"limit": "tread", "measured_mm": 1.6}, True, 1.5875),
        (
            {"limit": "tread", "gvwr_lb": 14000, "axle": "front", "measured_in": 0.09375},
            False,
            0.125,
        ),
        ({"limit": "tread", "gvwr_lb": 14000, "axle": "other"}, None, 0.0625),
        ({"limit": "duals", "measured_in": 27.4, "other_in": 28.0}, False, 0.5),
        ({"limit": "duals", "measured_in": 27.4}, None, 0.5),
        ({"limit": "wet boiling point", "fluid": "DOT 4", "measured_c": 155}, True, 155),
        ({"limit": "rotor runout", "measured_mm": 0.1}, True, 0.1016),
        ({"limit": "rotor runout", "spec_in": 0.002, "measured_in": 0.003}, False, 0.002),
        ({"limit": "rotor variation", "measured_in": 0.0007}, False, 0.0006),
        ({"limit": "rotor thickness", "spec_in": 0.965, "measured_in": 0.965}, True, 0.965),
        ({"limit": "drum", "spec_in": 9.56, "measured_in": 9.561}, False, 9.56),
        ({"limit": "drum machining", "spec_in": 9.56, "measured_in": 9.53}, True, 9.53),
        ({"limit": "compression", "measured": [150, 140, 112, 145]}, False, 112.5),
    ],
)
def test_limit_is_kept_or_not(
    fields: Mapping[str, object], *, passes: bool | None, allowed: float
) -> None:
    found = answer("limit", **fields)

    assert (found["passes"], found["allowed"]) == (passes, allowed)
    assert found["source"]
    assert "corrected" not in found


def test_battery_gravity_is_corrected_to_80_f() -> None:
    """13.07: 1.230 at 50 F is 1.218."""
    found = answer("limit", limit="battery gravity", measured=1.230, temperature_f=50)

    assert (found["passes"], found["allowed"], found["corrected"]) == (False, 1.23, 1.218)


def test_battery_gravity_without_a_temperature_is_taken_as_read() -> None:
    found = answer("limit", limit="battery gravity", measured=1.230)

    assert found["passes"] is True
    assert "corrected" not in found


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({"limit": "stering lash"}, "steering lash is probably meant"),
        ({}, "limit: is missing; give steering lash"),
        ({"limit": "steering lash", "measured_in": 2}, "wheel_diameter_in: is missing"),
        ({"limit": "steering linkage", "gvwr_lb": 14000}, "rim_in: is missing"),
        ({"limit": "lining", "gvwr_lb": 14000}, "lining: is missing"),
        ({"limit": "drum", "measured_in": 9}, "spec_in: is missing for drum"),
        ({"limit": "wet boiling point", "measured_c": 150}, "fluid: is missing"),
        ({"limit": "wet boiling point", "fluid": "LHM"}, "fluid: 'LHM' has no published minimum"),
        ({"limit": "compression"}, "measured: is missing for compression"),
        ({"limit": "compression", "measured": [150]}, "measured: compares no cylinders"),
        ({"limit": "tread", "measured_c": 3}, "measured_c: is not how tread is measured"),
        (
            {"limit": "tread", "measured_mm": 3, "measured_in": 0.1},
            "measured_mm: stands beside measured_in",
        ),
        ({"limit": "tread", "measured_in": -0.1}, "measured_in: -0.1 is out of range"),
        ({"limit": "battery gravity", "measured": 1230}, "measured: 1230 is out of range"),
    ],
)
def test_limit_that_cannot_be_answered(fields: Mapping[str, object], where: str) -> None:
    assert where in error("limit", **fields)


def test_tin_keeps_its_decades_open() -> None:
    """2.07."""
    found = answer("tin", tin="439", looked_at="1990-10-22")

    assert found["made"] == [
        {"first": "1979-10-28", "last": "1979-11-03"},
        {"first": "1989-10-22", "last": "1989-10-28"},
    ]
    assert found["ages_years"] == [11.0, 1.0]


def test_tin_without_a_day_has_no_ages() -> None:
    found = answer("tin", tin="DOT U2LL LMLR 2501", vehicle_years=[1995, 2010])

    assert found == {
        "id": 1,
        "made": [{"first": "2001-06-24", "last": "2001-06-30"}],
        "ages_years": None,
        "notes": [],
    }


def test_tin_without_a_date_is_empty() -> None:
    found = answer("tin", tin="DOT U2LL LMLR", looked_at="2020-01-01")

    assert (found["made"], found["ages_years"]) == ([], [])


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({"tin": "é"}, "is no tire identification number"),
        ({"tin": 439}, "tin: 439 is not a text"),
        ({"tin": "439", "vehicle_years": [1990]}, "vehicle_years: is not two years"),
        ({"tin": "439", "vehicle_years": [1990, 1980]}, "vehicle_years: runs backward"),
        ({"tin": "439", "vehicle_years": [1990.5, 2000]}, "vehicle_years[1]: 1990.5 is not whole"),
        ({"tin": "439", "vehicle_years": [1990, 19]}, "vehicle_years[2]: 19 is out of range"),
    ],
)
def test_tin_that_cannot_be_answered(fields: Mapping[str, object], where: str) -> None:
    assert where in error("tin", **fields)


def test_vin_that_holds() -> None:
    """8.04; a letter at position 7 is the later cycle (8.09)."""
    assert answer("vin", vin="1J9RP1A36A1644345") == {
        "id": 1,
        "form": "vin",
        "check": "holds",
        "expected": "6",
        "found": "6",
        "model_years": [2010],
        "notes": [VinNote.SMALL_MAKER.value],
    }


def test_vin_of_a_trailer_leaves_the_cycle_open() -> None:
    found = answer("vin", vin="1J9RP1A36A1644345", vehicle="trailer")

    assert found["model_years"] == [1980, 2010]


def test_vin_from_elsewhere_says_nothing_by_its_check_digit() -> None:
    found = answer("vin", vin="1J9RP1A36A1644346", market="other")

    assert (found["check"], found["expected"], found["found"]) == (None, "8", "6")


def test_vin_class_that_is_none_is_an_error() -> None:
    assert "truck over 4536 kg is probably meant" in error(
        "vin", vin="1", vehicle="truck over 4536"
    )


def _examples() -> list[tuple[str, str, str]]:
    """Every pair of blocks `json in` and `json out` under a heading that names a kind."""
    found: list[tuple[str, str, str]] = []
    for page in sorted(DOCS.glob("json*.md")):
        kind, block, lines, given = "", "", list[str](), ""
        for line in page.read_text(encoding="utf-8").splitlines():
            if line.startswith("#"):
                kind = line.partition("reckon ")[2].strip()
            elif line.startswith("```json "):
                block, lines = line.removeprefix("```json "), []
            elif line == "```" and block == "in":
                given, block = " ".join(lines), ""
            elif line == "```" and block == "out":
                if kind in KINDS:
                    found.append((kind, given, " ".join(lines)))
                block = ""
            else:
                lines.append(line)
    return found


@pytest.mark.parametrize(("kind", "given", "expected"), _examples())
def test_documented_example_is_what_it_answers(kind: str, given: str, expected: str) -> None:
    assert answers(kind, given) == [json.loads(expected)]


def test_every_kind_here_has_a_documented_example() -> None:
    documented = {kind for kind, _, _ in _examples()}

    assert {"interval", "months", "points", "wear", "limit", "tin", "vin"} <= documented
