"""Tires through the installed command: what cannot be, and two questions of a working day.

All cars, people and figures are invented.
"""

import json
from pathlib import Path

import pytest

from tests.faces.installed import Bench, bench

TODAY = "2026-11-25"
CAR = "millrace"


@pytest.fixture
def shop(tmp_path: Path) -> Bench:
    """Give a garage with one rear-drive car on wheels of 6 x 15, offset 10, without tires."""
    shop = bench(tmp_path)
    must(shop, "add", CAR, "--description", "Wendlecot Millrace", "--year", "1986", "drive=rear")
    must(shop, "reading", CAR, "61000")
    must(shop, "fit", CAR, "wheel", "all", "rim_width=6", "rim_diameter=15", "offset=10")
    return shop


@pytest.fixture
def shod(shop: Bench) -> Bench:
    """Give the same car on 205/60R15 all round, 8 mm when new, measured today."""
    must(
        *(shop, "fit", CAR, "tire", "all", "size=205/60R15", "service=91H", "tread=symmetric"),
        "new_depth=8mm",
    )
    must(shop, "tread", CAR, "LF", "7mm", "RF", "7mm", "LR", "6mm", "RR", "6mm")
    return shop


def must(shop: Bench, *words: str) -> str:
    answer = shop(TODAY, *words)
    assert answer.code == 0, answer.err
    return answer.out


def records(shop: Bench) -> list[str]:
    return must(shop, "records", CAR).splitlines()


def refused(shop: Bench, *words: str) -> list[str]:
    """Do what is refused, see that nothing is kept, and give the sentences."""
    before = records(shop)
    answer = shop(TODAY, *words)
    assert (answer.code, answer.out) == (2, "")
    assert records(shop) == before
    return [line.removeprefix("castlenut: ") for line in answer.err.splitlines()]


def told(shop: Bench, *words: str) -> list[str]:
    """Do what is kept and flagged, and give what is said of it."""
    before = records(shop)
    answer = shop(TODAY, *words)
    assert answer.code == 0, answer.err
    assert len(records(shop)) > len(before)
    return [line.removeprefix("castlenut: ") for line in answer.err.splitlines()]


def test_a_size_that_cannot_be_read_says_where_and_what_was_expected(shop: Bench) -> None:
    sentence = (
        "size: '205/6R15' cannot be read at character 6, 'R';"
        " expected there: an aspect ratio, 20 to 100"
    )

    assert refused(shop, "fit", CAR, "tire", "LF", "size=205/6R15") == [sentence]
    assert refused(shop, "size", "205/6R15") == [sentence]
    assert refused(shop, "fitment", "205/6R15") == [sentence]
    assert refused(shop, "correct", CAR, "vehicle", "calibrated_size=205/6R15") == [
        sentence.replace("size:", "calibrated_size:", 1)
    ]


@pytest.mark.parametrize("tin", ["XX YY ABC 0023", "XX YY ABC 5423"])
def test_a_number_with_a_week_that_there_is_not_is_kept_and_told(shop: Bench, tin: str) -> None:
    (sentence,) = told(shop, "fit", CAR, "tire", "LF", "size=205/60R15", f"tin={tin}")

    assert sentence.startswith("tin: There is no such week.")
    (here, *_) = json.loads(must(shop, "tires", CAR, "--json"))["assemblies"]
    assert (here["tin"], here["made"], here["age_years"]) == (tin, [], None)


def test_a_depth_larger_than_new_is_kept_and_told(shod: Bench) -> None:
    assert told(shod, "tread", CAR, "LF", "9mm") == [
        "LF: deeper than new (8 mm): tire changed? Kept as typed"
    ]
    assert "LF measured 11.3/32, deeper than new (10.1/32): tire changed?" in must(
        shod, "tires", CAR
    )


def test_a_depth_that_grew_is_kept_and_told(shod: Bench) -> None:
    assert told(shod, "tread", CAR, "LR", "7mm") == [
        "LR: deeper than last time (6 mm): tire changed? Kept as typed"
    ]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            ("tread", CAR, "LRI", "7"),
            "place: 'LRI' is no place of a wheel on this car; use LF, RF, LR, RR, SP",
        ),
        (
            ("fit", CAR, "tire", "LRI", "size=205/60R15"),
            (
                "place: the car has no LRI: its rear wheels are single;"
                " give LR or RR, or correct the vehicle: dual=yes"
            ),
        ),
        (
            ("room", CAR, "RRO", "--inner", "5", "--outer", "5"),
            (
                "place: the car has no RRO: its rear wheels are single;"
                " give LR or RR, or correct the vehicle: dual=yes"
            ),
        ),
        (
            ("rotate", CAR, "LF=LRI,LRI=LF"),
            "moves: 'LRI' is no place of a wheel on this car; use LF, RF, LR, RR, SP",
        ),
    ],
)
def test_a_place_the_car_does_not_have_is_refused(
    shod: Bench, words: tuple[str, ...], sentence: str
) -> None:
    assert sentence in refused(shod, *words)


def test_two_wheels_at_one_place_are_refused(shod: Bench) -> None:
    sentences = refused(shod, "rotate", CAR, "LF=RR,LR=RR")

    assert any(line.startswith("moves: two wheels would stand at RR: ") for line in sentences)


def test_two_tires_at_one_place_from_two_copies_are_shown_and_none_is_lost(shod: Bench) -> None:
    """A second tire at LF, as a merge of two copies of the file can bring it."""
    car = shod.garage / "vehicles" / f"{CAR}.json"
    lines = car.read_text().splitlines(keepends=True)
    begun = next(n for n, line in enumerate(lines) if line.startswith('"placement": {'))
    at = next(n for n in range(begun, len(lines)) if lines[n].startswith("}")) - 1
    tire = json.loads(must(shod, "records", CAR, "--table", "tire").splitlines()[1])["id"]
    record, _, revisions = lines[at].rstrip().partition(": ")
    twin = json.loads(revisions)
    (revision,) = twin["revs"]
    revision["set"] = {"on": TODAY, "place": "LF", "tire": tire}
    other = record.strip('"')[:-8] + "ffffffff"
    revision["rev"] = f"{other}.0"
    lines.insert(at, f'"{other}": {json.dumps(twin)},\n')
    car.write_text("".join(lines))

    answer = shod(TODAY, "tires", CAR)

    assert answer.code == 0
    assert "Two tires stand at LF (" in answer.out


def test_a_pattern_with_a_wheel_missing_is_refused(shod: Bench) -> None:
    assert refused(shod, "rotate", CAR, "five-tire rearward cross") == [
        "rotate: there is no spare; fit one first, or leave that place out"
    ]


def test_a_wheel_without_a_tire_is_refused_and_shown(shop: Bench) -> None:
    must(shop, "fit", CAR, "tire", "LF,RF,LR", "size=205/60R15", "tread=symmetric")

    assert refused(shop, "rotate", CAR, "LR=RR,RR=LR") == [
        "rotate: the wheel at RR has no tire on it; fit its tire first, or leave that place out"
    ]
    assert "The wheel at RR has no tire on record: fit one." in must(shop, "tires", CAR)


def test_a_failed_vehicle_number_warns_and_blocks_nothing(shop: Bench) -> None:
    """1M8GDM9AXKP042788 with its check digit X (8.05) altered to 1."""
    answer = shop(TODAY, "add", "pim", "--description", "Tessarin Pim", "vin=1M8GDM9A1KP042788")
    corrected = shop(TODAY, "correct", CAR, "vehicle", "vin=1M8GDM9A1KP042788")

    assert (answer.code, corrected.code) == (0, 0)
    assert "vin: The check digit does not hold" in answer.err
    assert "vin: The check digit does not hold" in corrected.err


def test_would_a_wider_rim_clear(shod: Bench) -> None:
    """The gaps measured once, then asked: 225/60R15 on 7 in, offset 4.

    208.56 and 233.12 mm wide: inside 12.28 - 6 = 6.28 mm nearer, outside 18.28.
    """
    for place, inner, outer in (("front", "14", "24"), ("rear", "12", "20")):
        must(shod, "room", CAR, place, "--inner", inner, "--outer", outer)
    must(shod, "room", CAR, "front", "--inner", "10", "--outer", "22", "--when", "full lock")

    answer = must(shod, "fitment", CAR, "225/60R15", "--rim", "7", "--offset", "4").splitlines()

    assert "room inside, front    10.0 mm left      3.7 mm left" in answer
    assert "room outside, front   22.0 mm left      3.7 mm left" in answer
    assert "room inside, rear     12.0 mm left      5.7 mm left" in answer
    assert "room outside, rear    20.0 mm left      1.7 mm left !" in answer
    assert "A: LR, straight, outside: 1.7 mm left, less than 3 mm." in answer
    assert any(line.startswith("widest that fits: ") for line in answer)


def test_two_sizes_at_the_tire_counter_with_no_car(tmp_path: Path) -> None:
    """No garage is made and none is needed."""
    counter = bench(tmp_path)

    compared = counter(TODAY, "fitment", "205/60R15", "195/65R15", "--drive", "rear")
    mixed = counter(TODAY, "rotation", "--front", "205/60R15", "--rear", "195/65R15")

    assert (compared.code, mixed.code) == (0, 0)
    assert "speedometer at 60     60.0 (0.0 %)      60.7 (+1.2 %)" in compared.out
    assert mixed.out.splitlines()[0] == (
        "205/60R15 in front, 195/65R15 at the rear: patterns left 1 of 7: side to side"
    )
    assert not counter.garage.exists()


def test_wider_rears_tell_what_falls_and_why(shod: Bench) -> None:
    out = must(
        *(shod, "fit", CAR, "tire", "rear", "size=225/60R15", "service=91H", "tread=symmetric"),
        "new_depth=8mm",
    )

    assert (
        "patterns left 5 -> 1, because LF carries 205/60R15; the rear axle takes 225/60R15"
        in out.splitlines()
    )
    assert shod(TODAY, "rotation", CAR, "--check").code == 1


def test_eight_depths_and_the_plan(shod: Bench) -> None:
    """Three grooves in front, one figure at the rear, from a sheet read in walking order."""
    answer = shod(TODAY, "tread", CAR, "--from", "-", given="6.9 7 6.8mm\n7 7 6.9mm\n5.9mm\n6mm\n")

    assert answer.code == 0
    plan = must(shod, "rotation", CAR, "--plan").splitlines()
    assert plan[0].startswith("next, ")
    assert any(line.startswith("bound ") for line in plan)
    rotated = must(shod, "rotate", CAR, "rearward cross")
    assert "saved: rotated rearward cross on 2026-11-25" in rotated
