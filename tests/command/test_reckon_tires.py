"""reckon size, change, load, rotate and rotation: lines in, lines out."""

from collections.abc import Mapping

import pytest

from tests.command.test_reckon import _examples, answer, error

GIVEN = {
    "size": "205/60R15",
    "construction": "radial",
    "rim_width_in": 6.0,
    "rim_diameter_in": 15,
    "offset_mm": 10,
    "tread": "symmetric",
    "load_index": 91,
    "speed_symbol": "H",
}
RATES = {"LF": 0.2, "RF": 0.2, "LR": 0.3, "RR": 0.3}


def tire(name: str, at: str, *depths: float, **changed: object) -> dict[str, object]:
    return {"id": name, "at": at, **GIVEN, "depth_mm": list(depths), **changed}


FOUR = [
    tire("A", "LF", 7.0, 6.6, 6.8),
    tire("B", "RF", 6.6),
    tire("C", "LR", 5.6),
    tire("D", "RR", 5.6),
]


def line(**changed: object) -> dict[str, object]:
    fields: dict[str, object] = {
        "unit": "mi",
        "drive": "rear",
        "interval": 5000,
        "assemblies": FOUR,
        "rates_mm_per_1000": RATES,
    }
    return {name: value for name, value in {**fields, **changed}.items() if value is not None}


def rotation(**changed: object) -> dict[str, object]:
    return answer("rotation", **line(**changed))


def part(found: Mapping[str, object], name: str) -> dict[str, object]:
    value = found[name]
    assert isinstance(value, dict)
    return value


def rows(found: Mapping[str, object], name: str) -> list[dict[str, object]]:
    value = found[name]
    assert isinstance(value, list)
    return value


def test_size_on_its_measuring_rim() -> None:
    """205/60R15 as in table 3.B."""
    assert answer("size", size="205/60 r 15 91h") == {
        "id": 1,
        "size": "205/60R15",
        "type": "metric",
        "width_mm": 205.0,
        "aspect": 60,
        "construction": "radial",
        "rim_in": 15.0,
        "section_height_mm": 123.0,
        "diameter_mm": 627.0,
        "diameter_in": 24.69,
        "revs_per_mile": 817.0,
        "load_class": None,
        "load_index": 91,
        "speed_symbol": "H",
        "temporary": False,
        "measuring_rim_in": 6.0,
        "section_width_mm": 208.56,
        "notes": [],
    }


def test_rim_outside_the_range_is_noted() -> None:
    found = answer("size", size="205/60R15", rim_width_in=8)

    assert found["notes"] == [
        "A rim of 8 in is outside the 5.5 to 7.5 in for this size (published)."
    ]


def test_letter_size_has_no_diameter() -> None:
    found = answer("size", size="FR70-14")

    assert (found["diameter_mm"], found["width_mm"], found["load_class"]) == (None, None, "F")
    assert found["notes"]


def test_size_that_cannot_be_read() -> None:
    assert error("size", size="205/6OR15") == (
        "size: '205/6OR15' cannot be read at character 6, 'O'; expected there: an aspect ratio,"
        " 20 to 100"
    )


def test_change_of_size_makes_the_dial_read_high() -> None:
    """10.11: 100 shown are 93.7 true."""
    found = answer("change", **{"from": "185/70R14", "to": "195/50R15", "shown_speed": 100})

    assert found["true_speed"] == pytest.approx(93.7, abs=0.05)
    assert found["percent"] == pytest.approx(-6.28, abs=0.005)
    assert found["true_distance"] is None
    assert "notes" not in found


def test_change_to_an_assumed_aspect_says_so() -> None:
    found = answer("change", **{"from": "165R13", "to": "175/70R13", "shown": 1000})

    assert found["notes"] == ["165R13: No aspect ratio is marked: the usual 82 is taken."]


def test_change_of_letter_sizes_is_not_known() -> None:
    found = error("change", **{"from": "FR70-14", "to": "ER70-14"})

    assert "from: FR70-14 has no diameter" in found
    assert "to: ER70-14 has no diameter" in found


def test_load_of_an_axle() -> None:
    assert answer("load", tires=["88H", "91T"], need_kg=540) == {
        "id": 1,
        "each_kg": [560, 615],
        "axle_kg": 1120,
        "speed_kmh": 190,
        "margin_kg": 20,
        "enough": True,
    }


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({"tires": []}, "tires: holds 0"),
        ({"tires": ["88H"] * 5}, "tires: holds 5"),
        ({"tires": ["88"]}, "tires[1]: '88' is no service description"),
        ({"tires": ["91H", 88]}, "tires[2]: 88 is not a text"),
        ({"tires": "91H"}, "tires: '91H' is not a list"),
        ({"tires": ["140H"]}, "tires[1]: load index 140 has no figure here"),
    ],
)
def test_load_that_cannot_be_answered(fields: Mapping[str, object], where: str) -> None:
    assert where in error("load", **fields)


def test_rotate_twice() -> None:
    """4.02 twice: every tire is at the other side of its axle."""
    found = answer(
        "rotate",
        positions={"LF": "A", "RF": "B", "LR": "C", "RR": "D", "SP": "S"},
        pattern="rearward cross",
        times=2,
    )

    assert found["positions"] == {"LF": "B", "RF": "A", "LR": "D", "RR": "C", "SP": "S"}


def test_rotate_once_by_five() -> None:
    found = answer(
        "rotate",
        positions={"LF": "A", "RF": "B", "LR": "C", "RR": "D", "SP": "S"},
        pattern="five-tire forward cross",
    )

    assert found["positions"] == {"LF": "D", "RF": "C", "LR": "A", "RR": "S", "SP": "B"}


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        (
            {"positions": {"LF": "A", "RF": "B", "LR": "C"}, "pattern": "X"},
            "there is no wheel at RR",
        ),
        ({"positions": {"LX": "A"}, "pattern": "X"}, "positions.LX: is not a place of a wheel"),
        ({"positions": {"LF": "A", "RF": "A"}, "pattern": "X"}, "'A' stands at two places"),
        ({"positions": {"LF": None}, "pattern": "X"}, "positions.LF: names no wheel"),
        ({"positions": {}, "pattern": "Y"}, "pattern: 'Y' is not one of its words"),
        ({"pattern": "X"}, "positions: is missing"),
        ({"positions": [], "pattern": "X"}, "positions: a list is not an object"),
    ],
)
def test_rotate_that_cannot_be_answered(fields: Mapping[str, object], where: str) -> None:
    assert where in error("rotate", **fields)


def test_worked_rotation() -> None:
    found = rotation()

    life, plan = part(found, "life"), part(found, "plan")
    assert life["none"] == pytest.approx(13_333.3, abs=0.1)
    assert life["usual"] == pytest.approx(16_666.7, abs=0.1)
    assert life["plan"] == pytest.approx(17_500)
    assert life["bound"] == pytest.approx(18_000)
    assert (plan["moves"], plan["ends_with"]) == (4, ["C", "D"])
    assert (plan["proved"], plan["moves_proved"]) == (True, True)
    assert plan["gap_percent"] == pytest.approx(2.78, abs=0.005)
    assert rows(plan, "schedule")[1] == {
        "from": 5000.0,
        "to": 10_000.0,
        "places": {"LF": "C", "RF": "D", "LR": "A", "RR": "B"},
        "moves": 4,
        "pattern": "front to rear",
    }
    assert (found["rates_sd"], found["set_aside"], found["cost"]) == (None, [], None)
    assert len(rows(found, "verdicts")) == 12
    assert [each["answer"] for each in rows(found, "patterns")] == ["yes"] * 5 + ["no"] * 2


def test_reasons_are_sentences_with_what_lifts_them() -> None:
    wider = [
        tire(name, at, 6.0, size="225/60R15", offset_mm=-6)
        for name, at in (("C", "LR"), ("D", "RR"))
    ]

    found = rotation(assemblies=[*FOUR[:2], *wider])

    forward = rows(found, "patterns")[0]
    told = [each for each in rows(forward, "reasons") if each["tire"] == "D"]
    assert told == [
        {
            "code": "size",
            "answer": "no",
            "sentence": "RR carries 225/60R15; the front axle takes 205/60R15.",
            "lift": "one size all round",
            "tire": "D",
            "from": "RR",
            "to": "LF",
        },
        {
            "code": "offset",
            "answer": "no",
            "sentence": "Wheel D has offset -6 mm; the front takes 10 mm.",
            "lift": "same wheels, or the tire mounted on this axle's wheels (off the rim)",
            "tire": "D",
            "from": "RR",
            "to": "LF",
        },
    ]


def test_set_with_no_pattern_left_says_why() -> None:
    turning = [
        tire(each, at, 6.0, tread="directional", turns=side, size=size)
        for each, at, side, size in (
            ("A", "LF", "left", "205/60R15"),
            ("B", "RF", "right", "205/60R15"),
            ("C", "LR", "left", "225/60R15"),
            ("D", "RR", "right", "225/60R15"),
        )
    ]

    found = rotation(assemblies=turning)

    (note,) = (str(each) for each in found["notes"] if "none possible" in str(each))  # type: ignore[attr-defined] # a list
    assert note.startswith("rotation: none possible, because LF carries 205/60R15;")
    assert rows(found, "patterns")[4]["off_rim"] == ["A", "B", "C", "D"]


def test_history_gives_rates_and_sets_aside_what_cannot_be() -> None:
    places = {"LF": "A", "RF": "B", "LR": "C", "RR": "D"}
    history = [
        {"at": 0, "places": places, "depth_mm": {"A": [8.0], "B": [8.0], "C": [8.0], "D": [5.0]}},
        {
            "at": 5000,
            "places": places,
            "depth_mm": {"A": [7.2], "B": [7.1], "C": [6.6], "D": [6.0]},
        },
    ]

    found = rotation(rates_mm_per_1000=None, history=history)

    rates, sd = part(found, "rates_mm_per_1000"), part(found, "rates_sd")
    assert 0.15 < float(str(rates["LF"])) < float(str(rates["LR"])) < 0.3
    assert all(0 < float(str(each)) < 0.1 for each in sd.values())
    (aside,) = rows(found, "set_aside")
    assert (aside["tire"], aside["from"], aside["to"]) == ("D", 0, 5000)
    assert "The tread grew by 1 mm" in str(aside["reason"])


def test_history_without_a_pair_is_said_not_to_be_measured() -> None:
    places = {"LF": "A", "RF": "B", "LR": "C", "RR": "D"}
    history = [{"at": 0, "places": places, "depth_mm": {"A": [8.0]}}]

    found = rotation(rates_mm_per_1000=None, history=history)

    assert part(found, "rates_mm_per_1000")["LF"] == pytest.approx(0.152)
    assert "Wear by place is the usual one: not measured on this car." in str(found["notes"])


def test_staggered_cost() -> None:
    """6.4 mm: one size 25,600; front 32,000, rear 21,333; both 15.6 tires over 100,000."""
    found = rotation(
        staggered={
            "new_depth_front_mm": 8.0,
            "new_depth_rear_mm": 8.0,
            "new_depth_one_size_mm": 8.0,
        }
    )

    cost = part(found, "cost")
    assert cost["life_one_size"] == pytest.approx(25_600)
    assert cost["life_front"] == pytest.approx(32_000)
    assert cost["life_rear"] == pytest.approx(21_333.3, abs=0.1)
    assert cost["tires_staggered"] == pytest.approx(15.625)


def test_dual_wheels_take_the_rate_of_their_side() -> None:
    six = [
        *(tire(at, at, 6.0) for at in ("LF", "RF", "LRO", "LRI", "RRI", "RRO")),
    ]

    found = rotation(assemblies=six)

    assert part(found, "rates_mm_per_1000")["LRI"] == 0.3
    assert len(rows(found, "verdicts")) == 30


@pytest.mark.parametrize(
    ("changed", "where"),
    [
        ({"drive": "four"}, "drive: 'four' is not one of its words"),
        ({"unit": "miles"}, "unit: 'miles' is not one of its words"),
        ({"moves": "all"}, "moves: 'all' is not one of its words"),
        ({"interval": 0}, "interval: 0 is out of range"),
        ({"interval": 0.5}, "rotations in the life of the set"),
        ({"tires": 4}, "tires: is not a field here"),
        ({"assemblies": FOUR[:3]}, "assemblies: RR is missing"),
        ({"assemblies": [*FOUR, tire("E", "RR", 6.0)]}, "assemblies[5].at: RR has two wheels"),
        ({"assemblies": [*FOUR, tire("D", "SP", 6.0)]}, "assemblies[5].id: 'D' is there twice"),
        ({"assemblies": [*FOUR, tire("E", "XX", 6.0)]}, "assemblies[5].at: 'XX' is no place"),
        ({"assemblies": [*FOUR, tire("E", "LRO", 6.0)]}, "assemblies: LRI is missing"),
        (
            {"assemblies": [*FOUR[:3], tire("D", "RR", 1.6)]},
            "D at RR: has 1.6 mm: at the limit; renew it first",
        ),
        ({"assemblies": [*FOUR[:3], tire("D", "RR")]}, "D at RR: is not measured"),
        (
            {"assemblies": [*FOUR[:3], tire("D", "RR", 6, 6, 6, 6)]},
            "assemblies[4].depth_mm: holds 4 depths",
        ),
        (
            {"assemblies": [*FOUR[:3], tire("D", "RR", 6.0, depth_mm=["deep"])]},
            "assemblies[4].depth_mm[1]: 'deep' is not a number",
        ),
        (
            {"assemblies": [*FOUR[:3], tire("D", "RR", 6.0, size="205/6OR15")]},
            "assemblies[4].size: '205/6OR15' cannot be read at character 6",
        ),
        (
            {"assemblies": [*FOUR[:3], tire("D", "RR", 6.0, speed_symbol="I")]},
            "assemblies[4].speed_symbol: 'I' is no speed symbol here",
        ),
        (
            {"assemblies": [*FOUR[:3], tire("D", "RR", 6.0, load_index=140)]},
            "assemblies[4].load_index: 140 is out of range",
        ),
        ({"assemblies": [*FOUR[:3], "D"]}, "assemblies[4]: 'D' is not an object"),
        ({"rates_mm_per_1000": None}, "rates_mm_per_1000: must be given, or history"),
        ({"history": []}, "rates_mm_per_1000: must be given, or history"),
        ({"rates_mm_per_1000": {**RATES, "LR": 0}}, "rates_mm_per_1000.LR: 0 is out of range"),
        ({"rates_mm_per_1000": {"LF": 0.2}}, "rates_mm_per_1000.RF: is missing"),
        ({"fitment": {"front": {"siez": "205/60R15"}}}, "fitment.front.siez: is not a field here"),
        (
            {
                "rates_mm_per_1000": None,
                "history": [
                    {"at": 500, "places": {"LF": "A"}, "depth_mm": {"A": [8]}},
                    {"at": 500, "places": {"LF": "A"}, "depth_mm": {"A": []}},
                ],
            },
            "history[2].depth_mm.A: holds no depth",
        ),
        (
            {
                "rates_mm_per_1000": None,
                "history": [
                    {"at": 500, "places": {"LF": "A"}, "depth_mm": {"A": [8]}},
                    {"at": 400, "places": {"LF": "A"}, "depth_mm": {"A": [7]}},
                ],
            },
            "history: does not rise in at",
        ),
        (
            {
                "staggered": {
                    "new_depth_front_mm": 1.6,
                    "new_depth_rear_mm": 8,
                    "new_depth_one_size_mm": 8,
                }
            },
            "staggered.new_depth_front_mm: 1.6 is not over the limit",
        ),
    ],
)
def test_rotation_that_cannot_be_answered(changed: Mapping[str, object], where: str) -> None:
    assert where in error("rotation", **line(**changed))


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        (
            {"assemblies": [*FOUR[:3], tire("D", "XX", 6.0)]},
            "assemblies[4].at: 'XX' is no place; it may be LF, RF, LR, RR, SP, LRO, LRI, RRI, RRO",
        ),
        ({"assemblies": [*FOUR[:3], tire(" ", "RR", 6.0)]}, "assemblies[4].id: is blank; name it"),
        ({"assemblies": [*FOUR[:3], 5]}, "assemblies[4]: 5 is not an object; write it in braces"),
        (
            {
                "staggered": {
                    "new_depth_front_mm": "8",
                    "new_depth_rear_mm": 8,
                    "new_depth_one_size_mm": 8,
                }
            },
            "staggered.new_depth_front_mm: '8' is not a number; give a number from 0 to 40",
        ),
    ],
)
def test_what_is_wrong_with_a_rotation_is_said_once(
    changed: Mapping[str, object], sentence: str
) -> None:
    """What follows from it, such as that a place is missing then, is not said beside it."""
    assert error("rotation", **line(**changed)) == sentence


def test_wheel_without_a_name_is_said_once() -> None:
    positions = {"LF": " ", "RF": "B", "LR": "C", "RR": 4}

    assert error("rotate", positions=positions, pattern="X") == (
        "positions.LF: names no wheel; name what stands there, or leave the place out."
        " positions.RR: 4 is not a text; give the name in quotes"
    )


def test_every_kind_of_tires_has_a_documented_example() -> None:
    documented = {kind for kind, _, _ in _examples()}

    assert {"size", "change", "load", "rotate", "rotation"} <= documented
