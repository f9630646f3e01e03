"""The example of docs/how-due-is-computed.md, run as printed."""

import re
import shlex
from pathlib import Path

from tests.faces.installed import bench

PAGE = Path(__file__).parents[2] / "docs" / "how-due-is-computed.md"


def _block(text: str, kind: str) -> list[str]:
    found = re.search(rf"```{kind}\n(.*?)```", text, re.DOTALL)
    assert found is not None
    return found.group(1).splitlines()


def test_the_page_prints_what_the_program_prints(tmp_path: Path) -> None:
    text = PAGE.read_text(encoding="utf-8")
    run = bench(tmp_path)
    answered = ""

    for line in _block(text, "sh"):
        command, _, given = line.partition(" < ")
        words = shlex.split(command)
        answer = run(words[2], *words[3:], given="\n".join(_block(text, "text")) if given else "")
        assert answer.code == 0, answer.err
        answered = answer.out

    printed = answered.splitlines()
    for start in _block(text, "output"):
        assert any(line.startswith(start) for line in printed), start
