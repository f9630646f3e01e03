"""What a page quotes: commands, with the lines of their answers below; held against the program."""

import re
import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from tests.faces.in_process import ran
from tests.faces.installed import Answer

DAY = "2026-11-25"
LEFT_OUT = "..."
_REMARK = re.compile(r" {2,}")


@dataclass(frozen=True, slots=True)
class Shown:
    """A command of a page with the lines quoted below it."""

    command: str
    lines: Sequence[str]


def shown(page: Path) -> Sequence[Shown]:
    """Give the commands of a page, each after a `$`; what stands beside it is a remark."""
    found: list[Shown] = []
    for block in re.findall(r"(?:^    .*\n)+", page.read_text(encoding="utf-8"), re.MULTILINE):
        lines = [line.removeprefix("    ") for line in block.splitlines()]
        begins = [number for number, line in enumerate(lines) if line.startswith("$ ")]
        for begin, end in pairwise([*begins, len(lines)]):
            command = _REMARK.split(lines[begin].removeprefix("$ "))[0]
            found.append(Shown(command, lines[begin + 1 : end]))
    return found


def castlenut_of(page: Path) -> Sequence[Shown]:
    """Give those that run the program itself."""
    return [each for each in shown(page) if each.command.startswith("castlenut ")]


def gone_through(commands: Sequence[Shown], folder: Path) -> Sequence[Answer]:
    """Run commands in their order: what one records stays recorded. Files go into `folder`."""
    found: list[Answer] = []
    for each in commands:
        _, *words = shlex.split(each.command)
        typed = [in_folder(folder, word) for word in words]
        garage = None if words[0] == "demo" else folder / "fleet"
        found.append(ran(*typed, garage=garage, today=DAY))
    return found


def in_folder(folder: Path, word: str) -> str:
    """Give a word of a command, with a path in it put into a folder."""
    plain = word.removeprefix("~/").removeprefix("/srv/www/")
    is_path = word == "fleet" or plain != word or word.endswith((".html", ".txt"))
    return str(folder / plain) if is_path else word


def assert_said(answer: Answer, quoted: Sequence[str]) -> None:
    """Hold quoted lines against an answer, in the order quoted; `...` leaves something out."""
    said = answer.out.splitlines()
    assert answer.code == 0, answer.err
    for line in quoted:
        if line.strip() == LEFT_OUT:
            continue
        pieces = [piece.strip() for piece in line.split(LEFT_OUT)]
        place = next(
            (n for n, found in enumerate(said) if all(piece in found for piece in pieces)), None
        )
        assert place is not None, line
        said = said[place + 1 :]
