"""docs/tires.md: each command it quotes says what stands there, in that order."""

import re
import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.faces.in_process import ran

PAGE = Path(__file__).resolve().parents[2] / "docs" / "tires.md"
LEFT_OUT = "..."


@dataclass(frozen=True, slots=True)
class Shown:
    """A command of the page with the lines quoted below it."""

    command: str
    lines: Sequence[str]


def shown() -> Sequence[Shown]:
    found: list[Shown] = []
    text = PAGE.read_text(encoding="utf-8")
    for block in re.findall(r"^    \$ .*\n(?:(?:    .*)?\n)*", text, re.MULTILINE):
        first, *rest = [line.removeprefix("    ") for line in block.rstrip("\n").splitlines()]
        found.append(Shown(first.removeprefix("$ "), rest))
    return found


QUOTED = shown()


def test_the_first_example_is_the_staggered_set_against_one_size_all_round() -> None:
    assert QUOTED[0].command.startswith("castlenut fitment 205/60R15 205/60R15/225/60R15 ")


@pytest.mark.parametrize("quoted", QUOTED, ids=lambda each: each.command[:40])
def test_a_command_of_the_page_says_what_the_page_quotes(quoted: Shown) -> None:
    """Quoted whole but for a line of `...`, beyond which more is said."""
    program, *words = shlex.split(quoted.command)

    answer = ran(*words, garage=None, today="2026-11-25")
    said = answer.out.splitlines()

    assert program == "castlenut"
    assert (answer.code, answer.err) == (0, "")
    wanted = [line for line in quoted.lines if line.strip() not in {"", LEFT_OUT}]
    assert len(wanted) > 5
    at = -1
    for line in wanted:
        assert line in said[at + 1 :], line
        at = said.index(line, at + 1)
