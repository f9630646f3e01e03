"""The tour: each of its commands runs, and each line it quotes is in what the command says."""

import re
import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.faces.in_process import ran
from tests.faces.installed import Answer

TOUR = Path(__file__).resolve().parents[2] / "docs" / "tour.md"
DAY = "2026-11-25"
LEFT_OUT = "..."


@dataclass(frozen=True, slots=True)
class Shown:
    """A command of the tour with the lines quoted below it."""

    command: str
    lines: Sequence[str]


def shown() -> Sequence[Shown]:
    found: list[Shown] = []
    for block in re.findall(r"(?:^    .*\n)+", TOUR.read_text(encoding="utf-8"), re.MULTILINE):
        first, *rest = [line.removeprefix("    ") for line in block.splitlines()]
        assert first.startswith("$ "), first
        found.append(Shown(first.removeprefix("$ "), rest))
    return found


COMMANDS = [each for each in shown() if each.command.startswith("castlenut ")]


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> Sequence[Answer]:
    """Go through the tour once, in its order: what it records stays recorded."""
    folder = tmp_path_factory.mktemp("tour")
    found: list[Answer] = []
    for each in COMMANDS:
        program, *words = shlex.split(each.command)
        assert program == "castlenut"
        is_first = words[0] == "demo"
        typed = [str(folder / word) if word == "fleet" else word for word in words]
        found.append(ran(*typed, garage=None if is_first else folder / "fleet", today=DAY))
    return found


@pytest.mark.parametrize("number", range(len(COMMANDS)), ids=lambda n: COMMANDS[n].command)
def test_a_command_of_the_tour_says_what_the_tour_quotes(
    answers: Sequence[Answer], number: int
) -> None:
    """In the order quoted; a line that ends in `...` is quoted up to there."""
    answer = answers[number]
    said = answer.out.splitlines()

    assert answer.code == 0, answer.err
    for quoted in COMMANDS[number].lines:
        if quoted.strip() == LEFT_OUT:
            continue
        pieces = [piece.strip() for piece in quoted.split(LEFT_OUT)]
        place = next(
            (n for n, line in enumerate(said) if all(piece in line for piece in pieces)), None
        )
        assert place is not None, quoted
        said = said[place + 1 :]


def test_the_tour_makes_the_fleet_first_and_names_it_once() -> None:
    commands = [each.command for each in shown()]

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
