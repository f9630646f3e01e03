"""Sheet, book and card of every car of the sample fleet, printed and written."""

import json
from pathlib import Path

import pytest

from tests.faces.in_process import ran
from tests.faces.installed import Answer, bench

Y = "2026-11-25"
PAPERS = ("sheet", "handover", "card")
CARS = (
    "brantholm-cobblegate",
    "carrowby-hartsedge",
    "dunnard-quayside",
    "kestrin-fellside",
    "mossburn-stackyard",
    "pellworth-fallowmere",
    "tessarin-pim",
    "wendlecot-millrace",
)


@pytest.fixture(scope="module")
def garage(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("fleet") / "demo"
    assert ran("demo", "--no-open", str(path), garage=None, today=Y).code == 0
    return path


def told(garage: Path, *words: str) -> Answer:
    return ran(*words, garage=garage, today=Y)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("car", CARS)
def test_every_paper_of_every_car_begins_with_what_ready_says(
    garage: Path, car: str, paper: str
) -> None:
    ready = told(garage, "ready", car).out.splitlines()[0]

    answer = told(garage, paper, car)

    assert (answer.code, answer.err) == (0, "")
    first = answer.out.splitlines()
    assert next(line for line in first if line.startswith("**")) == f"** {ready} **"
    assert "\n".join(first).endswith("first; this program plans, it does not certify.")
    assert max(map(len, first)) <= 76


@pytest.mark.parametrize("paper", PAPERS)
def test_a_page_and_a_text_are_written_whole_and_again(
    garage: Path, paper: str, tmp_path: Path
) -> None:
    for name in ("paper.html", "paper.txt"):
        file = tmp_path / name
        file.write_text("something older")

        answer = told(garage, paper, "tessarin-pim", "--out", str(file))

        assert (answer.code, answer.out) == (0, f"written: {file}\n")
        assert "Tessarin Pim" in file.read_text(encoding="utf-8")
        assert "something older" not in file.read_text(encoding="utf-8")
    assert (tmp_path / "paper.txt").read_text() == told(garage, paper, "tessarin-pim").out
    assert (tmp_path / "paper.html").read_text().startswith("<!DOCTYPE html>")


def test_where_it_cannot_be_written_one_sentence_says_so(garage: Path, tmp_path: Path) -> None:
    folder = tmp_path / "folder.html"
    folder.mkdir()

    for where in (
        folder,
        tmp_path / "none" / "a.html",
        tmp_path / "a.pdf",
        garage / "vehicles" / "a.html",
    ):
        answer = told(garage, "sheet", "tessarin-pim", "--out", str(where))
        assert answer.code in (2, 3)
        assert answer.out == ""
        assert len(answer.err.splitlines()) == 1

    assert told(garage, "sheet", "tessarin-pim", "--out", str(folder)).code == 2
    assert told(garage, "sheet", "tessarin-pim", "--out", str(tmp_path / "a.pdf")).code == 2
    assert told(garage, "sheet", "tessarin-pim", "--out", str(tmp_path / "none/a.html")).code == 3
    assert list(folder.iterdir()) == []


def test_a_card_of_named_items_has_them_alone_in_access_order(garage: Path) -> None:
    """Of the belt and the fluid the wheel comes off first, the timing cover last."""
    answer = told(garage, "card", "brantholm-cobblegate", "timing-belt", "brake-fluid", "--json")

    points = next(
        each["lines"] for each in json.loads(answer.out)["sections"] if each["title"] == "Points"
    )
    assert [(each["number"], each["what"]) for each in points] == [
        (1, "brake fluid, renew"),
        (2, "timing belt, renew"),
    ]


def test_an_item_the_car_does_not_have_is_refused(garage: Path) -> None:
    answer = told(garage, "card", "tessarin-pim", "no-such-thing")

    assert (answer.code, answer.out) == (2, "")


def test_what_the_owner_declined_stands_on_the_sheet(garage: Path) -> None:
    out = told(garage, "sheet", "brantholm-cobblegate").out

    assert "DECLINED: YOU SAID NO\n  - door and sill drains, clear, LF RF LR RR\n" in out
    assert "said no on 2026-10-16 by Tobin Wrackett; it stays counted" in out


def test_only_under_a_public_base_the_book_has_an_address(tmp_path: Path) -> None:
    run = bench(tmp_path)
    assert run(Y, "demo", "--no-open", str(run.garage)).code == 0

    without = run(Y, "handover", "tessarin-pim", "--json").json()
    assert run(Y, "feed", "base", "https://dates.invalid/yard").code == 0
    under = run(Y, "handover", "tessarin-pim", "--json").json()

    assert without["feed"] is None
    assert under["feed"].startswith("webcal://dates.invalid/yard/")
