"""The 52 worked cases of legality through `reckon rotation`, as another program would ask them.

Letters: y yes, n no, ? not known, in the order forward cross, rearward cross, X, front to rear,
side to side, five-tire rearward cross, five-tire forward cross. All figures invented.
"""

import io
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

import pytest

from castlenut.command.reckon.kinds import run

Fields: TypeAlias = Mapping[str, object]

LETTERS = {"yes": "y", "no": "n", "not known": "?"}
SIDES = {"LF": "left", "LR": "left", "RF": "right", "RR": "right", "SP": "left"}
ROAD = ("LF", "RF", "LR", "RR")
DUALS = ("LF", "RF", "LRO", "LRI", "RRI", "RRO")
WIDE = {"size": "225/60R15"}
TEMPORARY = {"size": "T125/80D15", "construction": "bias", "rim_width_in": 4, "temporary": True}


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A car of the table, by what is changed of the base car at each place."""

    number: int
    left: str
    codes: set[str] = field(default_factory=set)
    at: Mapping[str, Fields] = field(default_factory=dict)
    places: Sequence[str] = ROAD
    line: Fields = field(default_factory=dict)
    says: str = ""


def turning(*places: str) -> dict[str, Fields]:
    return {at: {"tread": "directional", "turns": SIDES[at]} for at in places}


def together(*changes: Mapping[str, Fields]) -> dict[str, Fields]:
    """Put changes of places together."""
    return {
        at: {name: value for change in changes for name, value in change.get(at, {}).items()}
        for at in (*ROAD, "SP")
    }


def each_of(places: Sequence[str], **fields: object) -> dict[str, Fields]:
    return {at: dict(fields) for at in places}


def rear(**fields: object) -> dict[str, Fields]:
    return each_of(("LR", "RR"), **fields)


def road(**fields: object) -> dict[str, Fields]:
    return each_of(ROAD, **fields)


def fitment(front: Fields, back: Fields) -> Fields:
    return {"fitment": {"front": front, "rear": back}}


FIVE = (*ROAD, "SP")
ALL = {"drive": "all"}
AGE = {"max_age_years": 7}
SIZE = {"size": "205/60R15"}
LOW = {"RR": {"load_index": 86}}

CASES = [
    Case(number=1, left="yyyyynn", codes={"place"}, says="There is no spare."),
    Case(number=2, left="yyyyyyy", places=FIVE),
    Case(number=3, left="nnnnynn", codes={"size"}, at=rear(**WIDE)),
    Case(
        number=4,
        left="nnnnnnn",
        codes={"size", "direction"},
        at=together(rear(**WIDE), turning(*ROAD)),
    ),
    Case(number=5, left="nnnynnn", codes={"direction"}, at=turning(*ROAD)),
    Case(number=6, left="nnnynnn", codes={"direction"}, at=turning(*FIVE), places=FIVE),
    Case(number=7, left="yyyyynn", at=road(tread="asymmetric")),
    Case(number=8, left="nnnnynn", codes={"offset"}, at=rear(offset_mm=-6)),
    Case(
        number=9,
        left="nnnnnnn",
        codes={"offset", "direction"},
        at=together(rear(offset_mm=-6), turning(*ROAD)),
    ),
    Case(number=10, left="nnnnynn", codes={"rim width"}, at=rear(rim_width_in=7.0)),
    Case(
        number=11,
        left="nnnnynn",
        codes={"size", "rim width", "offset"},
        at=rear(**WIDE, rim_width_in=7.0, offset_mm=-6),
    ),
    Case(
        number=12,
        left="nnnnynn",
        codes={"size", "rim diameter"},
        at=each_of(("LF", "RF"), size="205/60R14", rim_diameter_in=14),
    ),
    Case(number=13, left="nnnnynn", codes={"construction"}, at=rear(construction="bias")),
    Case(number=14, left="yyyyynn", at=road(construction="bias")),
    Case(number=15, left="nnnnynn", codes={"construction"}, at=rear(construction="bias belted")),
    Case(number=16, left="nynynnn", codes={"direction"}, at=turning("RR")),
    Case(number=17, left="?????nn", codes={"direction"}, at={"RR": {"tread": "directional"}}),
    Case(number=18, left="?????nn", codes={"direction"}, at={"LF": {"tread": None}}),
    Case(number=19, left="?????nn", codes={"size"}, at={"LF": {"size": None}}),
    Case(
        number=20,
        left="?????nn",
        codes={"size"},
        at={"LF": {"size": None}},
        line=fitment(SIZE, SIZE),
    ),
    Case(number=21, left="?????nn", codes={"offset"}, at={"LR": {"offset_mm": None}}),
    Case(
        number=22,
        left="nnnn?nn",
        codes={"size", "offset"},
        at=together(rear(**WIDE), {"LR": {"offset_mm": None}}),
    ),
    Case(number=23, left="????ynn", codes={"load"}, at=LOW, says="530 kg (86), less than the 615"),
    Case(
        number=24,
        left="nnnnynn",
        codes={"load"},
        at=LOW,
        line=fitment({"need_kg": 540}, {"need_kg": 480}),
        says="RR carries 530 kg (86); a front tire needs 540 kg.",
    ),
    Case(number=25, left="yyyyynn", at=LOW, line=fitment({"need_kg": 500}, {"need_kg": 500})),
    Case(
        number=26,
        left="yyyyynn",
        at={"RR": {"speed_symbol": "S"}},
        line=fitment({"need_kmh": 180}, {"need_kmh": 180}),
    ),
    Case(
        number=27,
        left="nnnnnnn",
        codes={"speed"},
        at={"RR": {"speed_symbol": "S"}},
        line=fitment({"need_kmh": 190}, {"need_kmh": 190}),
        says="RR is good to 180 km/h (S); the car needs 190.",
    ),
    Case(number=28, left="????ynn", codes={"speed"}, at={"RR": {"speed_symbol": "U"}}),
    Case(
        number=29,
        left="?????nn",
        codes={"load"},
        at={"RR": {"load_index": None}},
        line=fitment({"need_kg": 500}, {"need_kg": 500}),
    ),
    Case(
        number=30,
        left="yyyyynn",
        codes={"temporary", "size", "construction", "rim width", "spare"},
        at={"SP": TEMPORARY},
        places=FIVE,
        says="The spare at SP is a temporary one and may not join the rotation.",
    ),
    Case(
        number=31,
        left="yyyyynn",
        codes={"offset", "spare"},
        at={"SP": {"offset_mm": 20}},
        places=FIVE,
    ),
    Case(
        number=32,
        left="yyyyynn",
        codes={"age", "spare"},
        at={"SP": {"age_years": 9.5}},
        places=FIVE,
        line=AGE,
        says="The spare is 9.5 years old, limit 7.",
    ),
    Case(
        number=33,
        left="yyyyy??",
        codes={"age", "spare"},
        at={"SP": {"age_years": None}},
        places=FIVE,
        line=AGE,
    ),
    Case(number=34, left="yyyyyyy", at={"SP": {"age_years": None}}, places=FIVE),
    Case(
        number=35,
        left="yyyyy??",
        codes={"worn", "spare"},
        at={"SP": {"depth_mm": None}},
        places=FIVE,
    ),
    Case(
        number=36,
        left="yyyyynn",
        codes={"worn", "spare"},
        at={"SP": {"depth_mm": [1.5]}},
        places=FIVE,
        says="The spare has 1.5 mm, limit 1.6.",
    ),
    Case(
        number=37,
        left="yyyyynn",
        codes={"tread difference", "spare"},
        at={"SP": {"depth_mm": [8.5]}},
        places=FIVE,
        line=ALL,
        says="The spare is 2.5 mm deeper than LF; all-wheel drive allows 2.4.",
    ),
    Case(number=38, left="yyyyyyy", at={"SP": {"depth_mm": [8.4]}}, places=FIVE, line=ALL),
    Case(number=39, left="yyyyyyy", at={"SP": {"depth_mm": [8.5]}}, places=FIVE),
    Case(
        number=40,
        left="yyyyynn",
        codes={"place"},
        at=together(road(depth_mm=[8]), {"RR": {"depth_mm": [5]}}),
        line=ALL,
        says="The road tires differ by 3 mm of tread; all-wheel drive allows 2.4.",
    ),
    Case(number=41, left="nnnynnn", codes={"worn-in direction"}, at=road(studded=True)),
    Case(number=42, left="nynynnn", codes={"worn-in direction"}, at={"LR": {"studded": True}}),
    Case(number=43, left="nnnn?nn", codes={"rim width"}, at={"RR": {"rim_width_in": 5.5}}),
    Case(
        number=44,
        left="nnnnnnn",
        codes={"rim width"},
        at={"RR": {"rim_width_in": 5.5}},
        line=fitment({}, {"rim_width_in": 6.0}),
    ),
    Case(
        number=45,
        left="nnnnynn",
        codes={"size"},
        at=together(rear(**WIDE), {"SP": WIDE}),
        places=FIVE,
    ),
    Case(number=46, left="nnnnynn", codes={"size"}, at=rear(**WIDE), places=FIVE),
    Case(
        number=47,
        left="nnnnnnn",
        codes={"size"},
        line=fitment(SIZE, {"size": "215/60R15"}),
        says="The car carries another size than stated: 205/60R15 on the rear axle",
    ),
    Case(number=48, left="nnnnnnn", codes={"place"}, places=DUALS),
    Case(
        number=49,
        left="nnnnnnn",
        codes={"front tread", "place"},
        at=each_of(("LF", "RF"), tread="asymmetric"),
        places=DUALS,
    ),
    Case(
        number=50,
        left="nnnnnnn",
        codes={"pair", "place"},
        at={
            **each_of(("LF", "RF", "LRO", "RRI", "RRO"), depth_mm=[10]),
            "LRI": {"depth_mm": [3]},
        },
        places=DUALS,
        says="would differ by 14 mm of diameter; a pair may by 12.7.",
    ),
    Case(
        number=52,
        left="nnnnnnn",
        codes={"direction"},
        at=together(turning(*ROAD), {"RF": {"turns": "left"}}),
    ),
]
# 51, a dual wheel that is not measured, has no plan: a road tire must be measured for one. Its
# verdicts are tested beside the function itself.


def asked(case: Case) -> dict[str, object]:
    tires = [
        {
            "id": at,
            "at": at,
            "size": "205/60R15",
            "construction": "radial",
            "rim_width_in": 6.0,
            "rim_diameter_in": 15,
            "offset_mm": 10,
            "tread": "symmetric",
            "turns": None,
            "load_index": 91,
            "speed_symbol": "H",
            "temporary": False,
            "studded": False,
            "age_years": 3,
            "depth_mm": [6.0],
            **case.at.get(at, {}),
        }
        for at in case.places
    ]
    line = {
        "unit": "mi",
        "drive": "rear",
        "interval": 4000,
        "assemblies": tires,
        "rates_mm_per_1000": {"LF": 0.2, "RF": 0.2, "LR": 0.3, "RR": 0.3},
        **case.line,
    }
    out = io.StringIO()
    run("rotation", [json.dumps(line)], out)
    found: dict[str, object] = json.loads(out.getvalue())
    assert "error" not in found, found["error"]
    return found


def rows(found: Fields, name: str) -> list[dict[str, object]]:
    value = found[name]
    assert isinstance(value, list)
    return value


def case(number: int) -> Case:
    return next(each for each in CASES if each.number == number)


def yes(found: Fields, tire: str) -> set[object]:
    """Give the places a tire may go to."""
    return {
        each["to"]
        for each in rows(found, "verdicts")
        if each["tire"] == tire and each["answer"] == "yes"
    }


@pytest.mark.parametrize("given", [pytest.param(each, id=f"case {each.number}") for each in CASES])
def test_patterns_left_and_every_reason(given: Case) -> None:
    found = asked(given)

    patterns = rows(found, "patterns")
    reasons = [
        reason for each in (*patterns, *rows(found, "verdicts")) for reason in rows(each, "reasons")
    ]
    without_spare = {"place"} if "SP" not in given.places else set()
    assert "".join(LETTERS[str(each["answer"])] for each in patterns) == given.left
    assert {reason["code"] for reason in reasons} == given.codes | without_spare
    told = [str(reason["sentence"]) for reason in reasons] + [str(n) for n in rows(found, "notes")]
    assert any(given.says in each for each in told) or not told


@pytest.mark.parametrize("given", [pytest.param(each, id=f"case {each.number}") for each in CASES])
def test_plan_stays_within_the_verdicts(given: Case) -> None:
    """A tire stands where it stood, or where it may go; not known never passes."""
    found = asked(given)

    plan = found["plan"]
    assert isinstance(plan, dict)
    for stint in rows(plan, "schedule"):
        places = stint["places"]
        assert isinstance(places, dict)
        for at, tire in places.items():
            assert at == tire or at in yes(found, tire)


@pytest.mark.parametrize(
    ("number", "places"), [(6, {"LF", "LR"}), (45, {"LR", "RR"}), (46, {"LF", "RF"})]
)
def test_spare_that_no_pattern_takes_joins_the_plan_of_any_moves(
    number: int, places: set[str]
) -> None:
    found = asked(case(number))

    plan = found["plan"]
    assert isinstance(plan, dict)
    assert found["spare_joins"] is True
    assert yes(found, "SP") == places
    stood = {
        at
        for stint in rows(plan, "schedule")
        for at, tire in dict(stint["places"]).items()  # type: ignore[call-overload] # an object
        if tire == "SP"
    }
    assert stood - {"SP"} != set()
    assert stood - {"SP"} <= places


def test_pattern_allowed_now_and_blocked_the_next_time_has_no_usual_life() -> None:
    """Case 16: rearward cross takes RR straight to RF, and from there it would cross."""
    found = asked(case(16))

    life = found["life"]
    assert isinstance(life, dict)
    assert life["usual"] is None


def test_duals_alike_go_anywhere() -> None:
    """Case 48."""
    answers = [each["answer"] for each in rows(asked(case(48)), "verdicts")]

    assert answers == ["yes"] * 30


def test_duals_of_another_tread_than_the_front_stay_apart_from_it() -> None:
    """Case 49."""
    found = asked(case(49))

    assert [yes(found, at) for at in ("LF", "RF")] == [{"RF"}, {"LF"}]
    assert yes(found, "LRO") == {"LRI", "RRI", "RRO"}
    assert yes(found, "RRI") == {"LRO", "LRI", "RRO"}


def test_pair_that_differs_by_14_mm_is_left_by_one_of_the_two_only() -> None:
    """Case 50: no move leaves LRI beside a deeper one."""
    found = asked(case(50))

    assert yes(found, "LRI") == {"LF", "RF"}
    assert "LRO" not in yes(found, "RRO") | yes(found, "RRI") | yes(found, "LF")
    assert "LRI" not in yes(found, "LRO")


def test_tire_turned_round_on_its_rim_is_the_only_one_to_come_off_it() -> None:
    """Case 52."""
    patterns = rows(asked(case(52)), "patterns")

    assert patterns[3]["pattern"] == "front to rear"
    assert patterns[3]["off_rim"] == ["RF"]
