"""Moments at the bench and on the telephone, through the installed command; all cars invented.

Each begins from what a man in a workshop knows at that moment, and ends with what he has to be
told. W is the Wednesday on which all of it happens, 2026-11-25.
"""

import re
import shutil
from pathlib import Path

import pytest

from tests.faces.installed import Answer, Bench, bench

W = "2026-11-25"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build a garage with one invented car of 1976: front discs, 10 mi a day, 61,600 yesterday."""
    made = bench(tmp_path_factory.mktemp("built"))
    for words in (
        ("add", "tansley", "--description", "Harrowell Tansley 1976", "--year", "1976"),
        ("correct", "tansley", "vehicle", "owner=Bram Ostlund", "phone=555-0160", "digits=5"),
        ("settings", "hourly_rate=50", "name=Wexholt Yard (invented)", "telephone=555-0100"),
        ("reading", "tansley", "61400", "--on", "2026-11-04"),
        ("reading", "tansley", "61600", "--on", "2026-11-24"),
        ("fit", "tansley", "loaded caliper", "front", "--on", "2026-06-01", "--at", "59000"),
        ("fit", "tansley", "engine", "oil", "--on", "2026-06-20", "--at", "59500"),
        ("fit", "tansley", "steering", "box", "--on", "2026-06-01", "--at", "59000"),
    ):
        did(made, *words)
    return made.garage


@pytest.fixture
def run(built: Path, tmp_path: Path) -> Bench:
    """Give a copy of that garage."""
    made = bench(tmp_path)
    shutil.copytree(built, made.garage)
    return made


def did(run: Bench, *words: str, on: str = W) -> Answer:
    answer = run(on, *words)
    assert answer.code == 0, answer.err
    return answer


def titles(answer: Answer) -> list[str]:
    """Give the second part of each line told: title and places."""
    return [line.split("  ")[1] for line in answer.out.splitlines() if "  [" in line]


def test_due_with_the_owner_beside_you(run: Bench) -> None:
    """Two words typed; worst first, each with what is left and what to type for it."""
    told = did(run, "due", "tansley").out.splitlines()

    assert told[0].startswith("!! overdue  caliper slides, clean and grease, LF RF")
    assert told[0].endswith("[caliper-slides]")
    assert any(line.startswith(". ahead  ") for line in told)
    assert told[-1].startswith("The vehicle's own service manual")


def test_one_wheel_off_what_else(run: Bench) -> None:
    """Pads measured each 5,000 mi or 6 months, first at 1,000: fitted at 59,000, due at 60,000."""
    told = did(run, "apart", "tansley", "--open", "wheel LF").out.splitlines()
    as_json = did(run, "apart", "tansley", "--open", "wheel LF", "--json").json()

    assert told[0] == "open: wheel LF, lift  0.3 h"
    pads = next(line for line in told if "brake pads, measure, LF" in line)
    assert "it is due anyway; saves taking the wheel off again" in pads
    assert "RF has the same, its wheel is on" in pads
    found = {(each["rule"], each["position"]): each for each in as_json["items"]}
    assert ("pad-measure", "RF") not in found
    assert found["pad-measure", "LF"]["hours_saved"] == 0.3
    assert found["pad-measure", "LF"]["life_given_up"] == 0
    # 0.3 h of wheel and lift at 50 an hour, and nothing given up
    assert found["pad-measure", "LF"]["net"] == 15


def test_a_kit_arrives_and_is_fitted_ten_days_later_on_both_sides(run: Bench) -> None:
    """Two commands: one when it comes, one when it is fitted; age counts from its make."""
    kit = ("brake hose", "LF,RF", "part=BH-204", "made=2026-03", "material=rubber")
    did(run, "fit", "tansley", *kit, "--shelf", on="2026-11-15")
    on_shelf = did(run, "components", "tansley", "--json").json()
    ids = [each["id"][-8:] for each in on_shelf if each["state"] == "shelf"]
    before = did(run, "due", "tansley", "--json").json()

    saved = did(run, "fit", "tansley", *ids, "--json").json()

    assert len(ids) == 2
    assert not [item for item in before if item["rule"].startswith("hose")]
    assert {each["table"] for each in saved["records"]} == {"job", "component"}
    after = did(run, "due", "tansley", "--json").json()
    renewals = [item for item in after if item["rule"] == "hose-renew"]
    assert [(item["position"], item["due_on"]) for item in renewals] == [
        ("LF", "2031-03-01"),
        ("RF", "2031-03-01"),
    ]
    carried = did(run, "components", "--part", "bh-204", "--json").json()
    assert [each["position"] for each in carried] == ["LF", "RF"]


def test_may_i_do_a_trip_of_1500_miles_first(run: Bench) -> None:
    """Oil is due on 2026-12-20: a trip to mid-December leaves it, 1,500 miles reach others."""
    at_home = did(run, "due", "tansley", "--by", "2026-12-15", "--miles", "0")
    away = did(run, "due", "tansley", "--by", "2026-12-15", "--miles", "1500")

    assert "engine oil, renew" not in titles(at_home)
    # 61,610 today and 1,500: oil falls due at 62,500
    assert "engine oil, renew" in titles(away)


def test_in_spring_whom_to_ring(run: Bench) -> None:
    answer = did(run, "ring")
    as_json = did(run, "ring", "--json").json()

    assert answer.out.startswith("Bram Ostlund  tel. 555-0160  Harrowell Tansley 1976  overdue,")
    assert as_json[0]["vehicle"] == "tansley"
    assert as_json[0]["why"][0]["reason"] == "window"


def test_what_to_have_on_hand_for_wednesday(run: Bench) -> None:
    """The pads last fitted had a number; a pair lies on the shelf."""
    did(run, "fit", "tansley", "brake pad", "front", "part=BP-7", "--on", "2026-06-02")
    did(run, "fit", "tansley", "brake pad", "front", "part=BP-7", "--shelf")

    told = did(run, "parts", "--week", W).out.splitlines()
    as_json = did(run, "parts", "tansley", "--json").json()

    (pads,) = (line for line in told if "  brake pad, " in line)
    assert pads.startswith("due  tansley  brake pad, LF RF  number BP-7, fitted 2026-06-02")
    assert "on the shelf: 2 (" in pads
    (found,) = (each for each in as_json if each["part"] == "brake pad")
    assert (found["number"], len(found["shelf"])) == ("BP-7", 2)


def test_sold(run: Bench, tmp_path: Path) -> None:
    """One command: board, ring list and feeds no longer have it; the record stays."""
    feed = tmp_path / "garage.ics"
    did(run, "feed", "write", str(feed))
    before = feed.read_text(encoding="utf-8")

    did(run, "sold", "tansley", "--on", "2026-11-24", "--to", "Odo Pellgrave")

    did(run, "feed", "write", str(feed))
    assert "Tansley" in before
    assert "Tansley" not in feed.read_text(encoding="utf-8")
    assert did(run, "vehicles", "--json").json() == []
    assert did(run, "ring", "--json").json() == []
    assert did(run, "due", "--json").json() == []
    assert did(run, "parts", "--week", "--json").json() == []
    assert did(run, "due", "tansley", "--json").json() != []
    assert did(run, "vehicles", "--all", "--json").json()[0]["sold_on"] == "2026-11-24"

    did(run, "sold", "tansley", "--back")

    assert [each["vehicle"] for each in did(run, "ring", "--json").json()] == ["tansley"]


def test_five_lines_for_a_message(run: Bench) -> None:
    told = did(run, "sheet", "tansley", "--short").out.splitlines()

    assert len(told) == 5
    assert re.fullmatch(r"Harrowell Tansley 1976, November 25, 2026, about 61,6\d\d mi\.", told[0])
    assert told[1].startswith("Overdue: ")
    assert told[4] == "No visit is agreed yet. Wexholt Yard (invented) 555-0100."
    assert not [line for line in told if "!" in line or "[" in line]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            ("fit", "tansley", "tire", "LRO", "size=185/70R14"),
            (
                "place: the car has no LRO: its rear wheels are single;"
                " give LR or RR, or correct the vehicle: dual=yes"
            ),
        ),
        (
            ("apart", "tansley", "--open", "wheel RRI"),
            (
                "place: the car has no RRI: its rear wheels are single;"
                " give LR or RR, or correct the vehicle: dual=yes"
            ),
        ),
        (
            ("figures", "tansley", "lug nut torque", "75", "psi"),
            "unit: lug nut torque cannot be in psi; give it in ft-lb, in-lb or Nm",
        ),
        (
            (
                *("fit", "tansley", "bushing", "LF inner,LF outer"),
                *("material@LF inner=rubber", "material@LF outer=polyurethane"),
            ),
            "parts: rubber and polyurethane bushings exclude each other at LF; fit one of them",
        ),
        (
            ("rule", "tansley", "oil", "--every", "5k/12m"),
            'why: no reason is given; say where it stands: "its book, p. 31"',
        ),
        (("parts",), "VEHICLE: no car is named; name one, or give --week"),
        (("sold", "tansley", "--back"), "--back: tansley is not sold; leave it so"),
    ],
)
def test_bad_input_is_one_clear_sentence_and_nothing_is_stored(
    run: Bench, words: tuple[str, ...], sentence: str
) -> None:
    before = did(run, "records", "tansley", "--history").out

    answer = run(W, *words)

    assert answer.code == 2
    assert answer.err == f"castlenut: {sentence}\n"
    assert did(run, "records", "tansley", "--history").out == before
