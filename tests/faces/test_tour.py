"""The tour and the README: each of their commands runs, and says what is quoted below it."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.faces.installed import Answer
from tests.faces.quoting import assert_said, castlenut_of, gone_through, shown

ROOT = Path(__file__).resolve().parents[2]
TOUR, README = ROOT / "docs" / "tour.md", ROOT / "README.md"
COMMANDS, OF_README = castlenut_of(TOUR), castlenut_of(README)


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> Sequence[Answer]:
    """Go through the tour once, in its order."""
    return gone_through(COMMANDS, tmp_path_factory.mktemp("tour"))


@pytest.mark.parametrize("number", range(len(COMMANDS)), ids=lambda n: COMMANDS[n].command)
def test_a_command_of_the_tour_says_what_the_tour_quotes(
    answers: Sequence[Answer], number: int
) -> None:
    assert_said(answers[number], COMMANDS[number].lines)


@pytest.fixture(scope="module")
def readme(tmp_path_factory: pytest.TempPathFactory) -> Sequence[Answer]:
    """Go through the README's day once, in its order."""
    folder = tmp_path_factory.mktemp("readme")
    (folder / "calendar").mkdir()
    return gone_through(OF_README, folder)


@pytest.mark.parametrize("number", range(len(OF_README)), ids=lambda n: OF_README[n].command)
def test_a_command_of_the_readme_says_what_it_quotes(readme: Sequence[Answer], number: int) -> None:
    assert_said(readme[number], OF_README[number].lines)


def test_the_readme_makes_the_fleet_before_it_asks_it() -> None:
    """As printed once, without these lines, a stranger's first command found no garage."""
    commands = [each.command for each in shown(README)]

    assert commands[:3] == [
        ". .venv/bin/activate",
        "castlenut demo --no-open fleet",
        "export CASTLENUT_GARAGE=fleet",
    ]


def test_the_tour_makes_the_fleet_first_and_names_it_once() -> None:
    commands = [each.command for each in shown(TOUR)]

    assert commands[:2] == [
        "castlenut demo --no-open fleet",
        "export CASTLENUT_GARAGE=fleet",
    ]


def test_the_tour_says_that_all_is_invented() -> None:
    assert "invented" in TOUR.read_text(encoding="utf-8").split("##")[0]


def test_the_tour_visits_every_car() -> None:
    text = TOUR.read_text(encoding="utf-8")
    names = (
        "Pellworth Fallowmere",
        "Brantholm Cobblegate",
        "Carrowby Hartsedge",
        "Mossburn Stackyard",
        "Kestrin Fellside",
        "Wendlecot Millrace",
        "Tessarin Pim",
        "Dunnard Quayside",
    )

    assert [name for name in names if f"## {name}:" not in text] == []
