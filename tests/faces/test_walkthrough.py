"""From nothing, by hand: a car taken on, read, converted, worked on; every figure reckoned here.

The car is invented. Distances in miles; the day and the distance of each figure are worked out in
the comments beside it.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.faces.installed import Bench, bench

INTAKE = """\
engine oil - stated 2024-12-15 41000
wheel LF,RF,LR,RR stated 2024-12-15 41000
brake pad LF,RF stated 2024-12-15 41000
brake fluid - unknown
brake line - inspected 2026-09-01
battery - stated 2024-06-01 -
generator - stated 2020-05-01 30000
lights - unknown
overdrive - n/a never had one
"""

Stages = Mapping[str, Mapping[str, Any]]


def _items(run: Bench, on: str) -> Mapping[str, Any]:
    """Give the items by rule, and by rule and place where a rule has several."""
    found: dict[str, Any] = {}
    for item in run(on, "due", "tansley", "--json").json():
        where = f"@{item['position']}" if item["position"] else ""
        found[f"{item['rule']}{where}"] = item
    return found


@pytest.fixture(scope="module")
def stages(tmp_path_factory: pytest.TempPathFactory) -> Stages:
    """Do it all once, through the installed command, and look at what is due at each stage."""
    run = bench(tmp_path_factory.mktemp("walk"))

    def did(on: str, *words: str, given: str = "") -> str:
        answer = run(on, *words, given=given)
        assert answer.code == 0, answer.err
        return answer.out

    seen: dict[str, Mapping[str, Any]] = {}
    added = did(
        "2025-03-01",
        *("add", "tansley", "--description", "Harrowell Tansley 1972 (invented)"),
        *("--year", "1972", "--digits", "5", "drive=rear"),
    )
    assert added.startswith("tansley added")
    did("2025-03-01", "intake", "tansley", "--from", "-", given=INTAKE)
    did("2025-03-01", "reading", "tansley", "41200")
    did("2026-03-01", "reading", "tansley", "45000")
    seen["before"] = _items(run, "2026-03-02")

    shown = did("2026-03-02", "convert", "tansley", "alternator")
    seen["shown"] = {"text": shown, "items": _items(run, "2026-03-02")}
    did("2026-03-02", "convert", "tansley", "alternator", "--yes")
    seen["converted"] = _items(run, "2026-03-02")
    seen["the day after"] = _items(run, "2026-03-03")

    did("2026-04-01", "reading", "tansley", "45310")
    did("2026-04-01", "done", "tansley", "wheel-nuts", "--at", "45310")
    did("2026-04-01", "done", "tansley", "pad-measure", "--measured", "6mm", "--at", "45310")
    seen["wheels off"] = _items(run, "2026-04-01")

    did("2026-04-06", "reading", "tansley", "45365")
    seen["past the point"] = _items(run, "2026-04-06")
    did("2026-04-06", "done", "tansley", "wheel-nuts", "oil", "--at", "45365", "--hours", "0:45")
    seen["late done"] = _items(run, "2026-04-06")

    did("2026-07-10", "reading", "tansley", "46310")
    did("2026-07-10", "measure", "tansley", "pad-measure@LF", "5.5mm", "--at", "46310")
    seen["worn"] = _items(run, "2026-07-10")
    seen["why worn"] = {"lines": run("2026-07-10", "why", "tansley", "pad-measure@LF").out}

    did("2026-09-25", "reading", "tansley", "47100")
    seen["window open"] = _items(run, "2026-09-25")
    did("2026-09-25", "done", "tansley", "oil", "--at", "47100")
    seen["in time"] = _items(run, "2026-09-25")
    return seen


def test_stated_at_intake_counts_on_both_sides(stages: Stages) -> None:
    """41,000 + 3,000; 15 December 2024 + 6 months; 10 % of 180 days = 18, of 3,000 mi = 300."""
    oil = stages["before"]["oil"]

    assert (oil["due_at"], oil["due_on"]) == (44000, "2025-06-15")
    assert oil["window"] == {
        "opens_on": "2025-05-28",
        "closes_on": "2025-07-03",
        "opens_at": 43700,
        "closes_at": 44300,
    }
    assert oil["state"] == "overdue"
    assert oil["binds"] == "date"  # 44,000 was reached in November 2025
    assert oil["baseline"]["from"] == "stated at intake"


def test_a_distance_item_is_expected_by_the_habit_of_use(stages: Stages) -> None:
    """3,800 mi in 365 days; at that pace 11,000 mi from 1 March 2026 on take until January 2029."""
    balance = stages["before"]["tire-balance@LF"]

    assert (balance["due_at"], balance["due_on"]) == (56000, None)
    assert balance["binds"] == "distance"
    assert balance["state"] == "ahead"
    expected = balance["expected"]
    assert "2028-07-21" < expected["p50"] < "2029-07-21"
    assert expected["p10"] < expected["p50"]
    assert expected["p90"] is None or expected["p90"] > expected["p50"]


def test_a_date_item_has_its_window_in_days(stages: Stages) -> None:
    """60 months; a tenth of 1,800 days is capped at 30."""
    battery = stages["before"]["battery-age"]

    assert (battery["due_on"], battery["due_at"]) == ("2029-06-01", None)
    assert battery["binds"] == "date"
    assert battery["window"]["opens_on"] == "2029-05-02"
    assert battery["window"]["closes_on"] == "2029-07-01"


def test_what_nobody_knows_is_no_record_in_its_rank(stages: Stages) -> None:
    fluid = stages["before"]["brake-fluid"]

    assert fluid["state"] == "no record"
    assert fluid["rank"] == 1
    assert fluid["due_on"] is None
    assert fluid["baseline"] is None


def test_found_good_lasts_until_the_day_given(stages: Stages) -> None:
    lines = stages["before"]["pipe-look"]

    assert (lines["state"], lines["due_on"]) == ("ahead", "2026-09-01")


def test_what_does_not_apply_makes_no_item(stages: Stages) -> None:
    assert "overdrive" not in stages["before"]


def test_a_conversion_is_shown_before_it_is_done(stages: Stages) -> None:
    assert "--yes" in stages["shown"]["text"]
    assert stages["shown"]["items"] == stages["before"]


def test_a_conversion_changes_the_schedule(stages: Stages) -> None:
    """The alternator's charging is tested at once; its wiring after 100 mi, at 45,000 + 100.

    The dial was read at 45,000 the morning before; the car has most likely not been out since.
    """
    before, after = stages["before"]["charging"], stages["converted"]["charging"]
    wiring = stages["converted"]["wiring-look"]

    assert before["item"] != after["item"]
    assert (after["state"], after["due_on"], after["binds"]) == ("due", "2026-03-02", "event")
    assert stages["the day after"]["charging"]["state"] == "overdue"
    assert wiring["state"] == "no record"  # nobody knows, and its point is not reached yet
    assert stages["wheels off"]["wiring-look"]["due_at"] == 45100
    assert stages["wheels off"]["wiring-look"]["state"] == "overdue"


def test_lug_nuts_come_again_after_a_wheel_was_off(stages: Stages) -> None:
    """Front wheels off at 45,310: due at 45,360, from half way, 45,335; no lateness allowed."""
    front, rear = stages["wheels off"]["wheel-nuts@LF"], stages["wheels off"]["wheel-nuts@RR"]

    assert (front["due_at"], front["binds"], front["state"]) == (45360, "event", "ahead")
    assert (front["window"]["opens_at"], front["window"]["closes_at"]) == (45335, 45360)
    assert rear["due_at"] == 51310  # done on 1 April at 45,310, every 6,000 mi
    assert rear["due_on"] == "2027-04-01"
    assert stages["past the point"]["wheel-nuts@LF"]["state"] == "overdue"


def test_done_late_counts_from_the_job(stages: Stages) -> None:
    oil, nuts = stages["late done"]["oil"], stages["late done"]["wheel-nuts@LF"]

    assert (oil["due_at"], oil["due_on"], oil["state"]) == (48365, "2026-10-06", "ahead")
    assert (nuts["due_at"], nuts["due_on"], nuts["state"]) == (51365, "2027-04-06", "ahead")
    assert {name: oil["baseline"][name] for name in ("on", "at", "from", "by")} == {
        "on": "2026-04-06",
        "at": 45365,
        "from": "done",
        "by": "this garage",
    }


def test_done_inside_its_window_counts_from_the_job_too(stages: Stages) -> None:
    """The window opened 18 days before 6 October; 47,100 + 3,000, 25 September + 6 months."""
    before, after = stages["window open"]["oil"], stages["in time"]["oil"]

    assert (before["state"], before["window"]["opens_on"]) == ("due", "2026-09-18")
    assert (after["due_at"], after["due_on"], after["state"]) == (50100, "2027-03-25", "ahead")


def test_wear_between_two_measurements_is_carried_to_the_limit(stages: Stages) -> None:
    """0.5 mm in 1,000 mi; 5.5 - 3.175 (1/8 in) = 2.325 mm are left: 4,650 mi, to 50,960.

    The interval alone would say 46,310 + 5,000 = 51,310.
    """
    left, right = stages["worn"]["pad-measure@LF"], stages["worn"]["pad-measure@RF"]

    assert left["due_at"] == 50960
    assert left["due_on"] == "2027-01-10"
    assert right["due_at"] == 50310  # done at 45,310, not measured again
    assert "5.5 mm" in stages["why worn"]["lines"]


def test_asked_of_the_same_folder_again_the_answer_is_the_same(tmp_path: Path) -> None:
    run = bench(tmp_path)
    run("2025-03-01", "add", "tansley", "--year", "1972")
    run("2025-03-01", "intake", "tansley", "--from", "-", given=INTAKE)

    first = run("2025-03-01", "due", "tansley", "--json").out
    again = run("2025-03-01", "due", "tansley", "--json").out

    assert first == again
