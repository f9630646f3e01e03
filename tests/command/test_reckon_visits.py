"""reckon visits, apart and weeks: the examples of their page, and every bad input by its sentence.

All items are invented.
"""

import io
import json
from collections.abc import Callable
from typing import Any

import pytest

from castlenut.command.reckon.kinds import run

Line = dict[str, Any]


def asked(kind: str, line: Line) -> Line:
    out = io.StringIO()
    run(kind, [json.dumps(line)], out)
    answer: Line = json.loads(out.getvalue())
    return answer


def three() -> Line:
    return {
        "id": 1,
        "today": "2031-01-06",
        "until": "2032-01-06",
        "visit_cost": 60,
        "hourly_rate": 50,
        "access": {"lift": {"hours": 0.5}, "wheel LF": {"hours": 0.5, "under": "lift"}},
        "items": [
            {
                "id": "A",
                "hours": 1,
                "parts": 30,
                "access": ["wheel LF"],
                "due": {"on": "2031-04-10"},
                "every": {"months": 24},
                "safety_critical": True,
            },
            {
                "id": "B",
                "hours": 1.5,
                "parts": 25,
                "access": ["wheel LF"],
                "due": {"on": "2031-06-05"},
                "every": {"months": 12},
            },
            {
                "id": "C",
                "hours": 0.8,
                "parts": 20,
                "due": {"on": "2031-12-04"},
                "every": {"months": 24},
            },
        ],
    }


def test_the_example_of_three_items() -> None:
    assert asked("visits", three()) == {
        "id": 1,
        "visits": [
            {
                "on": "2031-04-10",
                "hours": 4.3,
                "work": [["2031-04-10", 4.3]],
                "items": ["A", "B", "C"],
                "access": ["lift", "wheel LF"],
                "cost": {"visit": 60, "access": 50},
                "why": [
                    "10 April 2031 because A closes first, on that day.",
                    (
                        "B is done 56 days early, giving up 15.30 of its life: less than a visit "
                        "and access of its own, 110.00."
                    ),
                    (
                        "C is done 238 days early, giving up 19.53 of its life: less than a visit "
                        "and access of its own, 60.00."
                    ),
                ],
            }
        ],
        "cost": {"visits": 60, "access": 50, "life": 34.84, "late": 0, "total": 144.84},
        "bound": 144.84,
        "proved": True,
        "gap": 0,
        "items": {
            "A": {"done_on": ["2031-04-10"], "closes_on": ["2031-04-10"], "life": 0},
            "B": {"done_on": ["2031-04-10"], "closes_on": ["2031-06-05"], "life": 15.3},
            "C": {"done_on": ["2031-04-10"], "closes_on": ["2031-12-04"], "life": 19.53},
        },
        "cannot": [],
        "later": [],
        "at_risk": [],
    }


def test_the_example_with_a_wheel_off() -> None:
    answer = asked("apart", {**three(), "on": "2031-02-10", "open": ["wheel LF"]})

    assert [(each["item"], each["net"]) for each in answer["ranked"]] == [
        ("A", 13.44),
        ("B", -16.37),
    ]
    assert answer["ranked"][0]["life_given_up"] == -13.44
    assert answer["together"] == {"items": ["A", "B"], "net": 46.71}
    assert answer["proved"] is True


def test_the_example_of_three_visits_in_a_week() -> None:
    answer = asked("weeks", week())

    assert answer["visits"][1] == {
        "id": "Q",
        "work": [["2032-05-04", 2], ["2032-05-05", 8]],
        "unplaced": 2,
    }
    assert answer["over"] == [
        {
            "from_on": "2032-05-03",
            "by_on": "2032-05-05",
            "hours": 26,
            "capacity": 24,
            "short": 2,
            "visits": ["P", "Q", "R"],
        }
    ]


def week() -> Line:
    return {
        "id": 1,
        "today": "2032-05-03",
        "until": "2032-05-05",
        "day_hours": 8,
        "visits": [
            {"id": "P", "hours": 10, "from_on": "2032-05-03", "by_on": "2032-05-04"},
            {"id": "Q", "hours": 12, "from_on": "2032-05-03", "by_on": "2032-05-05"},
            {"id": "R", "hours": 4, "from_on": "2032-05-04", "by_on": "2032-05-04"},
        ],
    }


def test_no_items_are_no_visits_and_proved() -> None:
    answer = asked("visits", {**three(), "items": []})

    assert (answer["visits"], answer["cost"]["total"], answer["proved"]) == ([], 0, True)


def test_no_time_gives_a_plan_that_says_how_far_off_it_may_be() -> None:
    answer = asked("visits", {**three(), "seconds": 0})

    assert answer["bound"] <= answer["cost"]["total"]


def test_what_cannot_be_kept_says_since_when_and_what_stands_in_the_way() -> None:
    line = three()
    line["items"][1]["due"] = {"on": "2030-12-20"}
    line["closed"] = [["2031-04-01", "2031-04-30"]]
    line["items"][0]["due"] = {"on": "2031-04-10"}
    line["items"][2]["due"] = {"on": "2031-01-05"}

    answer = asked("visits", line)

    assert [(each["item"], each["planned_on"], each["why"]) for each in answer["cannot"]] == [
        (
            "B",
            "2031-01-06",
            (
                "B is past its window since 20 December 2030; it is planned on 6 January 2031, the "
                "first open day after."
            ),
        ),
        (
            "C",
            "2031-01-06",
            (
                "C is past its window since 5 January 2031; it is planned on 6 January 2031, the "
                "first open day after."
            ),
        ),
    ]


def test_a_distance_read_early_is_said_and_what_is_at_risk_is_named() -> None:
    line = three()
    line["use"] = {
        "dates": ["2031-01-06", "2032-01-06"],
        "expected": [50000, 60000],
        "fast": [50000, 70000],
    }
    line["items"] = [{"id": "oil", "hours": 1, "due": {"at": 55000}, "every": {"distance": 20000}}]

    answer = asked("visits", line)

    assert answer["visits"][0]["why"] == [
        (
            "8 July 2031 because oil closes first, on that day, by the expected date of its "
            "distance (P50)."
        )
    ]
    assert answer["at_risk"] == [{"item": "oil", "on": "2031-07-08", "closes_on": "2031-04-08"}]


def with_item(**changed: object) -> Callable[[Line], None]:
    def change(line: Line) -> None:
        line["items"][1].update(changed)

    return change


def with_line(**changed: object) -> Callable[[Line], None]:
    def change(line: Line) -> None:
        line.update(changed)

    return change


BAD: list[tuple[Callable[[Line], None], str]] = [
    (with_line(colour="red"), "colour: is not a field here"),
    (with_line(visit_cost=None), "visit_cost: is missing"),
    (with_line(visit_cost=True), "visit_cost: true is not a number"),
    (with_line(hourly_rate=-1), "hourly_rate: -1 is out of range"),
    (with_line(until="2030-01-01"), "until: is before today"),
    (with_line(until="2031-02-30"), "until: there is no day 2031-02-30"),
    (with_line(until="2036-01-01"), "until: makes 1,822 days; plan 1,200 days at the most"),
    (with_line(day_hours=0), "day_hours: 0 is out of range"),
    (with_line(closed_weekdays=["sat", "sunday"]), "closed_weekdays[2]: 'sunday' is no weekday"),
    (
        with_line(closed_weekdays=["mon", "tue", "wed", "thu", "fri", "sat", "sun"]),
        "closed_weekdays: leaves no open day",
    ),
    (with_line(closed=[["2031-01-01", "2032-12-31"]]), "closed: leaves no open day"),
    (with_line(laid_up=[["2031-01-01", "2032-12-31"]]), "laid_up: leaves no open day"),
    (with_item(id=" "), "items[ ].id: is empty"),
    (with_line(closed=[["2031-05-02", "2031-05-01"]]), "closed[1]: ends before it begins"),
    (with_line(laid_up=["2031-05-02"]), "laid_up[1]: '2031-05-02' is no range"),
    (with_line(access={"lift": {"hours": -1}}), "access.lift.hours: -1 is out of range"),
    (
        with_line(
            access={"lift": {"hours": 1}, "wheel LF": {"hours": 1, "under": ["lift", "jack"]}}
        ),
        "access.wheel LF.under: 'jack' is no access",
    ),
    (
        with_line(
            access={
                "lift": {"hours": 1, "under": "wheel LF"},
                "wheel LF": {"hours": 1, "under": "lift"},
            }
        ),
        "access.lift.under: leads back to itself",
    ),
    (with_item(id="A"), "items[A].id: 'A' is there twice"),
    (with_item(access=["hub LF"]), "items[B].access: 'hub LF' is no access"),
    (with_item(due={}), "items[B].due: has no side"),
    (with_item(due={"on": "soon"}), "items[B].due.on: 'soon' is not a date"),
    (with_item(due={"at": 5000}), "items[B].due.at: is a distance without use"),
    (with_item(every={}), "items[B].every: has no side"),
    (with_item(every={"months": 0}), "items[B].every.months: 0 is out of range"),
    (with_item(every={"months": 1, "days": 3}), "items[B].every: has both months and days"),
    (with_item(every={"distance": 5000}), "items[B].every.distance: is a distance without use"),
    (with_item(hours="1"), "items[B].hours: '1' is not a number"),
    (with_item(parts=-5), "items[B].parts: -5 is out of range"),
    (with_item(next_from="later"), "items[B].next_from: 'later' is not one of its words"),
    (with_item(colour="red"), "items[B].colour: is not a field here"),
    (
        with_item(window={"before_distance": 5}),
        "items[B].window.before_distance: is a distance without use",
    ),
    (
        with_item(safety_critical=True, window={"after_days": 3}),
        "items[B].window.after_days: is above 0 on a safety-critical item",
    ),
    (
        with_item(safety_critical=True, late={"price_per_day": 1, "most_days": 3}),
        "items[B].late: is given for a safety-critical item",
    ),
    (
        with_item(next_from="schedule", late={"price_per_day": 1, "most_days": 3}),
        "items[B].late: is given with next_from schedule",
    ),
    (
        with_line(use={"dates": ["2031-01-06"], "expected": [1, 2], "fast": [1]}),
        "use.expected: holds 2 distances",
    ),
    (
        with_line(use={"dates": ["2031-01-06", "2032-01-06"], "expected": [2, 1], "fast": [1, 2]}),
        "use.expected: falls",
    ),
    (
        with_line(use={"dates": ["2032-01-06", "2031-01-06"], "expected": [1, 2], "fast": [1, 2]}),
        "use.dates: do not rise",
    ),
    (
        with_line(use={"dates": ["2031-01-06", "2031-06-06"], "expected": [1, 2], "fast": [1, 2]}),
        "use.dates: end before until",
    ),
]


@pytest.mark.parametrize(("change", "sentence"), BAD, ids=[each[1] for each in BAD])
def test_bad_input_is_said_in_a_sentence(change: Callable[[Line], None], sentence: str) -> None:
    line = three()
    change(line)

    answer = asked("visits", line)

    assert answer["id"] == 1
    assert sentence in answer["error"]


def test_every_is_null_for_once_and_never_left_out() -> None:
    line = three()
    del line["items"][1]["every"]

    assert "items[B].every: is missing" in asked("visits", line)["error"]
    assert "error" not in asked(
        "visits", {**three(), "items": [{**line["items"][0], "every": None}]}
    )


def test_more_than_eighty_items_are_too_many() -> None:
    line = three()
    line["items"] = [{**line["items"][2], "id": str(number)} for number in range(81)]

    assert "items: holds 81 items; plan 80 at the most" in asked("visits", line)["error"]


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"on": "2031-02-09"}, "on: is closed; give an open day"),
        ({"on": "2033-02-09"}, "on: is not from today to until"),
        ({"open": ["hub LF"]}, "open[1]: 'hub LF' is no access"),
        ({"doing": ["D"]}, "doing[1]: 'D' is no item"),
    ],
)
def test_what_is_open_must_be_known(changed: Line, sentence: str) -> None:
    line = {**three(), "on": "2031-02-10", "open": ["wheel LF"], **changed}

    assert sentence in asked("apart", line)["error"]


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"day_hours": 0}, "day_hours: is 0"),
        ({"days": {"2032-02-30": 3}}, "days.2032-02-30: there is no day 2032-02-30"),
        ({"days": {"2032-05-04": -1}}, "days.2032-05-04: -1 is out of range"),
        (
            {"visits": [{"id": "P", "hours": 1, "from_on": "2032-05-04", "by_on": "2032-05-03"}]},
            "visits[P].by_on: is before from_on",
        ),
    ],
)
def test_weeks_say_what_is_wrong(changed: Line, sentence: str) -> None:
    assert sentence in asked("weeks", {**week(), **changed})["error"]
