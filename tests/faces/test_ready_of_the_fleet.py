"""`ready` on every car of the sample fleet, the answers written down by hand from its description.

Danger is 1 for brakes, steering and suspension, wheels and tires, bearings, and for a timing belt:
only what is overdue of these blocks. An automatic's fluid, a battery or drains do not.
"""

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.faces.in_process import ran

Y = "2026-11-25"
MILLRACE = "wendlecot-millrace"
Blocking = Sequence[tuple[str, str, str]]

READY: dict[str, Blocking] = {
    # the 300-mile point of the spring U-bolts was forgotten
    "pellworth-fallowmere": [("overdue", "u-bolts", "LR RR")],
    # 60 months since the timing belt; the drains it declined are danger 2 and not even told
    "brantholm-cobblegate": [("overdue", "timing-belt", "")],
    # laid up: the battery's monthly test is overdue, danger 2
    "carrowby-hartsedge": [],
    # linings under 1/16 in over 10,000 lb, duals 0.6 in apart; atf overdue, danger 2
    "mossburn-stackyard": [
        ("overdue", "shoe-measure", "LR RR"),
        ("overdue", "dual-match", ""),
    ],
    # circumference 0.39 in apart on all-wheel drive
    "kestrin-fellside": [("overdue", "awd-spread", "")],
    # 9,200 km since the tires were rotated
    "tessarin-pim": [("overdue", "tire-rotate", "")],
    # 2.3 in of lash; kingpins six months and 330 miles ago
    "dunnard-quayside": [("overdue", "steering-lash", ""), ("overdue", "kingpin", "L R")],
}


@pytest.fixture(scope="module")
def garage(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("fleet") / "demo"
    assert ran("demo", "--no-open", str(path), garage=None, today=Y).code == 0
    return path


def blocking(garage: Path, car: str) -> Blocking:
    told = ran("ready", car, "--json", garage=garage, today=Y).json()
    return [
        (each["cause"], each["rule"], " ".join(each["positions"]))
        for each in told["against"]
        if each["blocks"]
    ]


@pytest.mark.parametrize("car", READY)
def test_a_car_is_held_back_by_what_is_dangerous_and_by_nothing_else(
    garage: Path, car: str
) -> None:
    assert blocking(garage, car) == READY[car]

    code = ran("ready", car, "--check", garage=garage, today=Y).code
    assert code == (1 if READY[car] else 0)


def test_of_the_car_from_the_barn_the_weld_comes_first_then_all_that_nobody_knows(
    garage: Path,
) -> None:
    """Its sill was welded two days ago; 46 things of rank 1 and 2 nobody knows; its old tires."""
    found = blocking(garage, MILLRACE)

    assert found[:4] == [
        ("point at 0", "own", "R"),
        ("point at 0", "paint-seal", "L"),
        ("point at 0", "wiring-look", ""),
        ("point at 0", "cavity-wax", "L"),
    ]
    assert {cause for cause, _, _ in found[4:-2]} == {"no record"}
    assert found[-2:] == [
        ("overdue", "tire-age-look", "LF RF LR RR"),
        ("overdue", "tire-age", "LF RF LR RR"),
    ]
    # as many as the board counts
    (row,) = [
        each
        for each in ran("vehicles", "--json", garage=garage, today=Y).json()
        if each["vehicle"] == MILLRACE
    ]
    assert row["first"] == f"{len(found)} before it rolls" == "52 before it rolls"
