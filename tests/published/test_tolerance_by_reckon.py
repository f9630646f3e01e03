"""Published interval arithmetic by `reckon`: a line in, a line out, as any program may ask it."""

import io
import json
from collections.abc import Mapping

import pytest

from castlenut.command.reckon.kinds import run
from tests.published.cited import CHEVROLET_1970, DEFENDER, LO_273, SPECIAL, said

Line = Mapping[str, object]

AVIATION = {"percent": 10, "cap_days": 30, "cap_distance": 5}
TEN = {"percent": 10}
ARMY = "PS Magazine 18 Dec 2019"


def answer(kind: str, line: Line) -> dict[str, object]:
    out = io.StringIO()
    code = run(kind, [json.dumps({"id": 1, **line})], out)
    found = json.loads(out.getvalue())
    assert isinstance(found, dict)
    assert code == 0, found
    return found


def hours(every: float, due: float, done: float | None = None, **more: object) -> Line:
    line: dict[str, object] = {"every": {"distance": every}, "due": {"at": due}, **more}
    return line if done is None else {**line, "done": {"at": done}}


def months(every: int, due: str, done: str | None = None, **more: object) -> Line:
    line: dict[str, object] = {"every": {"months": every}, "due": {"on": due}, **more}
    return line if done is None else {**line, "done": {"on": done}}


BY_SCHEDULE = {"tolerance": TEN, "next_from": "schedule"}
IN_MONTHS = {"percent": 10, "cap_days": 180, "whole_months": True}


@pytest.mark.parametrize(
    ("line", "opens", "closes"),
    [
        said("7.01", "R", SPECIAL, hours(25, 1472.7, tolerance=AVIATION), 1470.2, 1475.2),
        said("7.02", "R", SPECIAL, hours(75, 1609.4, tolerance=AVIATION), 1604.4, 1614.4),
        said("7.08", "R", "TM 1-1500-328-23", hours(300, 300, tolerance=TEN), 270, 330),
        said(
            "7.08", "R", "TM 1-1500-328-23",
            hours(1000, 1000, tolerance={"percent": 7.5}), 925, 1075,
        ),
        said(
            "7.25", "R", "Pilatus PC-12/47E ch. 5",
            hours(300, 300, tolerance={"percent": 10, "cap_distance": 500}), 270, 330,
        ),
    ],
)  # fmt: skip
def test_the_window_of_hours_is_the_published_one(line: Line, opens: float, closes: float) -> None:
    window = answer("interval", line)["window"]

    assert window == {"opens_on": None, "closes_on": None, "opens_at": opens, "closes_at": closes}


@pytest.mark.parametrize(
    ("line", "opens", "closes"),
    [
        said(
            "7.04", "R", SPECIAL,
            months(6, "1999-01-31", tolerance=AVIATION), "1999-01-13", "1999-02-18",
        ),
        said(
            "7.05", "R", SPECIAL,
            months(12, "1999-02-06", tolerance=AVIATION), "1999-01-07", "1999-03-08",
        ),
        said(
            "7.12", "C", "PS 569 (2000) p.32, whose 10 April is a slip",
            months(12, "2000-05-15", tolerance=TEN), "2000-04-09", "2000-06-20",
        ),
        said(
            "7.25", "R", "Pilatus PC-12/47E ch. 5, 12 months: 11 to 13",
            months(12, "2026-05-20", tolerance=IN_MONTHS), "2026-04-20", "2026-06-20",
        ),
    ],
)  # fmt: skip
def test_the_window_of_months_is_the_published_one(line: Line, opens: str, closes: str) -> None:
    window = answer("interval", line)["window"]

    assert window == {
        "opens_on": opens,
        "closes_on": closes,
        "opens_at": None,
        "closes_at": None,
    }


@pytest.mark.parametrize(
    ("line", "following"),
    [
        said(
            "7.02", "R", SPECIAL,
            hours(75, 1609.4, 1612.0, tolerance=AVIATION, next_from="schedule"), 1684.4,
        ),
        said(
            "7.03", "R", SPECIAL,
            hours(50, 1306.4, 1299.9, tolerance=AVIATION, next_from="schedule"), 1349.9,
        ),
        said("7.18", "R2", "14 CFR 91.409(b) as quoted", hours(100, 100, 102, **BY_SCHEDULE), 200),
        said(
            "7.19", "R2", "aviation legal column 2015, example four: 85 left",
            hours(100, 100, 115, tolerance={"percent": 15}, next_from="schedule"), 200,
        ),
        said(
            "7.20", "R2", "operator technical note 2021: 70 left",
            hours(100, 100, 130, tolerance={"percent": 30}, next_from="schedule"), 200,
        ),
        said(
            "7.21", "R2", "Part-ML, ML.A.302(d)(1)(a)", hours(100, 2000, 2010, tolerance=TEN), 2110,
        ),
        said("7.22", "R2", "ED 2015/024/R Annex I", hours(100, 2000, 2010, **BY_SCHEDULE), 2100),
        said("7.24", "R2", "Rotax 912 style, late", hours(100, 100, 110, **BY_SCHEDULE), 200),
        said("7.24", "R2", "Rotax 912 style, early", hours(100, 100, 87, **BY_SCHEDULE), 187),
        said("7.25", "R", "Pilatus PC-12/47E ch. 5", hours(300, 300, 325, **BY_SCHEDULE), 600),
    ],
)  # fmt: skip
def test_the_next_hours_are_the_published_ones(line: Line, following: float) -> None:
    assert answer("interval", line)["next"] == {"on": None, "at": following}


@pytest.mark.parametrize(
    ("line", "following"),
    [
        said(
            "7.04", "R", SPECIAL,
            months(6, "1999-01-31", "1999-02-15", tolerance=AVIATION, next_from="schedule"),
            "1999-07-31",
        ),
        said(
            "7.10", "R", ARMY, months(12, "2019-06-01", "2019-07-07", **BY_SCHEDULE), "2020-06-01",
        ),
        said(
            "7.10", "R", ARMY, months(12, "2019-06-01", "2019-07-08", **BY_SCHEDULE), "2020-07-08",
        ),
        said(
            "7.25", "R", "Pilatus PC-12/47E ch. 5, next 24",
            months(12, "2026-05-20", "2026-06-20", tolerance=IN_MONTHS, next_from="schedule"),
            "2027-05-20",
        ),
        said(
            "7.26", "R2", "FAA practice, restated",
            months(12, "2020-06-30", "2020-06-06", next_from="end of month"), "2021-06-30",
        ),
        said(
            "7.26", "R2", "FAA practice, restated",
            months(24, "2020-07-31", "2020-07-22", next_from="end of month"), "2022-07-31",
        ),
    ],
)  # fmt: skip
def test_the_next_day_is_the_published_one(line: Line, following: str) -> None:
    assert answer("interval", line)["next"] == {"on": following, "at": None}


@pytest.mark.published("7.07", basis="R", source=SPECIAL)
def test_two_sides_are_each_reckoned_alone() -> None:
    """Every 14 days or 10 hours; 1.4 days are cut to 1."""
    line = {
        "every": {"days": 14, "distance": 10},
        "last": {"on": "1997-05-22", "at": 1709},
        "tolerance": AVIATION,
    }

    found = answer("interval", line)

    assert found["due"] == {"on": "1997-06-05", "at": 1719}
    assert found["window"] == {
        "opens_on": "1997-06-04",
        "closes_on": "1997-06-06",
        "opens_at": 1718,
        "closes_at": 1720,
    }


@pytest.mark.parametrize(
    ("line", "due"),
    [
        said(
            "7.34", "R", f"{DEFENDER}: at least halved",
            {"every": {"months": 18, "distance": 15000}, "factor": 0.5}, ("2026-10-15", 57500),
        ),
        said(
            "7.35", "R", "Mercedes-Benz 300 TD 1983 owner's manual p.63",
            {"every": {"months": 12, "distance": 5000}, "factor": 0.5}, ("2026-07-15", 52500),
        ),
        said(
            "7.33", "R", "TM 9-2320-365-20-5 app. H, 6K",
            {"every": {"distance": 6000}}, (None, 56000),
        ),
        said(
            "7.32", "R", f"{LO_273} note 1, 24,000 mi or annually",
            {"every": {"months": 12, "distance": 24000}}, ("2027-01-15", 74000),
        ),
    ],
)  # fmt: skip
def test_the_due_point_is_the_published_one(line: Line, due: tuple[str | None, float]) -> None:
    """Counted from 15 January 2026 at 50,000."""
    found = answer("interval", {**line, "last": {"on": "2026-01-15", "at": 50000}})

    assert found["due"] == {"on": due[0], "at": due[1]}


@pytest.mark.parametrize(
    ("anchor", "by", "days"),
    [
        said("7.27", "R", "java.time documentation", "2011-01-31", 1, ["2011-02-28"]),
        said("7.27", "R", "java.time documentation", "2012-01-31", 1, ["2012-02-29"]),
        said("7.27", "R", "java.time documentation", "2013-10-31", 4, ["2014-02-28"]),
        said("7.27", "R", "java.time documentation", "2012-02-29", 12, ["2013-02-28"]),
        said("7.29", "R", "Oracle ADD_MONTHS would give 31 Aug", "2025-02-28", 6, ["2025-08-28"]),
        said("7.30", "C", "dateutil relativedelta 2.9.0", "2026-08-31", 6, ["2027-02-28"]),
        said(
            "7.31", "C", "dateutil relativedelta, anchored",
            "2025-01-31", 1, ["2025-02-28", "2025-03-31", "2025-04-30"],
        ),
    ],
)  # fmt: skip
def test_months_are_counted_as_published(anchor: str, by: int, days: list[str]) -> None:
    line = {"from": anchor, "months": by, "times": len(days)}

    assert answer("months", line)["dates"] == days


@pytest.mark.parametrize(
    ("first", "every", "start", "at"),
    [
        said(
            "4.24", "R", CHEVROLET_1970,
            [100, 500, 1000], 1000, 41250, [41350, 41750, 42250, 43250, 44250],
        ),
        said(
            "9.17", "R", "LO 9-2320-363-12, Army axle oil M915A2",
            [5000], 75000, 0, [5000, 80000, 155000],
        ),
        said("9.20", "R", "Pontiac 1957 owner's manual p.30", [1000], 2000, 0, [1000, 3000, 5000]),
        said(
            "9.21", "R", "Studebaker President Eight owner's manual p.19",
            [500, 1000], 2500, 0, [500, 1000, 3500, 6000],
        ),
        said("9.22", "R", "Chrysler 1956 service manual supplement p.79", [1000], None, 0, [1000]),
        said("9.23", "R", "Hudson 1948-52 service manual p.1-9", [500], 2000, 0, [500, 2500, 4500]),
        said("9.26", "R", "Sabra workshop text", [300], 5000, 0, [300, 5300, 10300]),
        said("9.42", "R", "Isuzu Rodeo 2004", [15000, 30000], 30000, 0, [15000, 30000, 60000]),
    ],
)  # fmt: skip
def test_points_and_their_repeat_are_the_published_ones(
    first: list[int], every: int | None, start: int, at: list[int]
) -> None:
    line: dict[str, object] = {"from": start, "first": first, "count": len(at)}
    if every is not None:
        line["every"] = every

    assert answer("points", line)["at"] == at


@pytest.mark.published(
    "10.01", basis="R", source="Maryland COMAR 11.12.01.19 A(2): designed mechanical odometer limit"
)
def test_points_past_the_end_of_a_five_digit_dial_are_shown_from_0() -> None:
    """From 98,750, 1,680 mi later the dial shows 00,430."""
    line = {"from": 98750, "first": [1680], "digits": 5, "count": 1}

    found = answer("points", line)

    assert (found["at"], found["shown"]) == ([100430], [430])
