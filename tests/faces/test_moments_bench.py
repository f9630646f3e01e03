"""Moments at the bench, through the installed command: one invented car, one evening each.

Miles. Each test says how many words the man types for the moment.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.faces.installed import Answer, Bench, bench

CAR = "kerrow"
DAY = "2026-11-25"
SEAM = "sill seam rusted through"


@pytest.fixture
def run(tmp_path: Path) -> Bench:
    """Give a car of 1968, 41,600 yesterday, its front suspension seen to at 41,500."""
    run = bench(tmp_path)
    for on, *words in (
        (
            "2026-03-01",
            *("add", CAR, "--description", "Dunmarrow Kerrow 1968 (invented)"),
            *("--year", "1968", "--digits", "5", "drive=rear"),
        ),
        ("2026-03-01", "reading", CAR, "41000"),
        ("2026-03-01", "fit", CAR, "engine", "oil", "--at", "41000"),
        ("2026-11-01", "fit", CAR, "alignment", "--on", "-"),
        ("2026-11-01", "fit", CAR, "bushing", "LF,RF", "material=rubber", "--on", "-"),
        ("2026-11-01", "done", CAR, "align", "bush-rubber", "--at", "41500"),
        ("2026-11-24", "reading", CAR, "41600"),
    ):
        answer = run(on, *words)
        assert answer.code == 0, answer.err
    return run


def did(run: Bench, on: str, *words: str) -> Answer:
    answer = run(on, *words)
    assert answer.code == 0, answer.err
    return answer


def items(run: Bench, on: str) -> Mapping[str, Mapping[str, Any]]:
    """Give the items by rule and place; own ones by their titles."""
    found = {}
    for item in run(on, "due", CAR, "--json").json():
        name = item["title"] if item["rule"] == "own" else item["rule"]
        found[f"{name}@{item['position']}" if item["position"] else name] = item
    return found


def test_a_rusted_through_seam_is_found_welded_and_its_other_side_looked_at(run: Bench) -> None:
    """Three lines: found (9 words), mended (5), done (3)."""
    did(run, DAY, "stay", CAR)
    found = did(
        run, DAY, "found", CAR, SEAM, "--where", "L", "--kind", "rust", "--mend", "--at", "41605"
    )
    # what can hurt is told before the work
    assert [line[:15] for line in found.out.splitlines() if "caution" in line] == [
        "caution: Vapor ",
        "caution: Batter",
        "caution: Old pa",
    ]
    before = items(run, DAY)
    assert before[f"mend {SEAM}@L"]["before_it_rolls"]
    assert before[f"look at {SEAM}@R"]["before_it_rolls"]
    assert run(DAY, "ready", CAR, "--check").code == 1

    did(run, DAY, "mended", CAR, "sill seam", "--how", "weld", "--at", "41605")
    welded = items(run, DAY)
    assert f"mend {SEAM}@L" not in welded
    assert (welded["paint-seal@L"]["state"], welded["paint-seal@L"]["due_at"]) == ("due", 41605)
    assert welded["cavity-wax@L"]["state"] == "due"
    # 500 mi after the weld
    assert (welded["repair-look@L"]["state"], welded["repair-look@L"]["due_at"]) == ("ahead", 42105)
    assert run(DAY, "mended", CAR, "sill seam", "--how", "weld").code == 2

    did(run, DAY, "done", CAR, f"look at {SEAM}", "paint-seal", "cavity-wax", "--at", "41605")
    assert f"look at {SEAM}@R" not in items(run, DAY)
    assert did(run, DAY, "ready", CAR, "--check").out.startswith("ready: ")
    did(run, DAY, "stay", CAR, "--over", "--at", "41605")


def test_three_weeks_on_stands_make_no_false_alarm(run: Bench) -> None:
    """One word: `stay`. A bushing renewed on the stands asks for an alignment before it rolls."""
    did(run, "2026-11-25", "stay", CAR)
    did(
        run,
        "2026-11-26",
        *("fit", CAR, "bushing", "LF", "material=rubber", "part=BU-4", "--at", "41600"),
    )

    waiting = items(run, "2026-12-16")

    assert (waiting["align"]["state"], waiting["align"]["before_it_rolls"]) == ("due", True)
    at_0 = [item for item in waiting.values() if item["before_it_rolls"]]
    assert {item["state"] for item in at_0} == {"due"}
    # the engine oil keeps its own reckoning: 3,000 mi or 6 months from 1 March
    assert (waiting["oil"]["state"], waiting["oil"]["due_on"]) == ("overdue", "2026-09-01")

    did(run, "2026-12-16", "stay", CAR, "--over", "--yes", "--at", "41600")
    assert items(run, "2026-12-16")["align"]["state"] == "overdue"


def test_whether_it_may_roll_is_one_word_and_an_exit_code(run: Bench) -> None:
    did(run, DAY, "stay", CAR)
    did(run, DAY, "fit", CAR, "bushing", "LF", "material=polyurethane", "--at", "41600")
    did(run, DAY, "fit", CAR, "brake", "fluid", "fluid=DOT 4", "--on", "-")

    answer = run(DAY, "ready", CAR, "--check", "--json")

    assert answer.code == 1
    told = answer.json()
    assert [(each["cause"], each["rule"]) for each in told["against"]] == [
        ("point at 0", "align"),
        ("no record", "brake-fluid"),
        ("no limit known", "align"),
    ]
    assert told["ready"] is False

    did(run, DAY, "done", CAR, "align", "brake-fluid", "--at", "41600")
    after = did(run, DAY, "ready", CAR, "--check", "--json").json()
    assert [each["rule"] for each in after["against"]] == []


def test_an_alignment_done_elsewhere_counts_and_says_whose_it_was(run: Bench) -> None:
    """One line, the sheet in hand: done, by whom, toe and camber."""
    shop = "Pellmarsh Alignment (invented)"
    did(
        run,
        DAY,
        *("done", CAR, "align", "--at", "41600", "--by", shop),
        *("--measured", "toe=0.06in", "--measured", "camber=0.5 deg"),
    )

    align = items(run, DAY)["align"]

    # 15,000 mi or 12 months
    assert (align["due_on"], align["due_at"]) == ("2027-11-25", 56600)
    assert (align["baseline"]["on"], align["baseline"]["by"]) == (DAY, shop)
    assert any(f"by {shop}" in line for line in align["why"])


def test_the_evenings_work_is_one_change_and_can_be_taken_back_whole(run: Bench) -> None:
    """One line: done, measured and included together; its records are struck one by one."""
    before = items(run, DAY)
    saved = did(
        run,
        DAY,
        *("done", CAR, "align", "oil", "bush-rubber", "--at", "41600", "--hours", "1:30"),
        *("--measured", "toe=0.06in", "--json"),
    ).json()
    assert [each["table"] for each in saved["records"]] == ["job", "measurement"]
    revisions = {
        record["revisions"][0]["rev"].partition(".")[0]
        for line in did(run, DAY, "records", CAR, "--history").out.splitlines()
        for record in [_read(line)]
        if record["id"] in {each["id"] for each in saved["records"]}
    }
    assert revisions == {saved["change"]}

    for each in saved["records"]:
        did(run, DAY, "strike", CAR, each["id"])

    assert _standing(items(run, DAY)) == _standing(before)


def _read(line: str) -> Any:  # noqa: ANN401 - a record has fields of its own
    import json

    return json.loads(line)


def _standing(found: Mapping[str, Mapping[str, Any]]) -> Mapping[str, tuple[object, ...]]:
    return {
        name: (item["state"], item["due_on"], item["due_at"], item["window"])
        for name, item in found.items()
    }
