"""docs/odometer.md: each command it quotes runs on the sample fleet, and says the lines quoted."""

import re
import shlex
from pathlib import Path

from tests.faces.in_process import ran

PAGE = Path(__file__).resolve().parents[2] / "docs" / "odometer.md"
DAY = "2026-11-25"
LEFT_OUT = "..."


def test_the_page_quotes_what_the_program_says(tmp_path: Path) -> None:
    """In the order quoted; a line that ends in `...` is quoted up to there."""
    ran("demo", str(tmp_path / "fleet"), "--no-open", garage=None, today=DAY)
    blocks = re.findall(r"(?:^    .*\n)+", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(blocks) == 2

    for block in blocks:
        first, *quoted = [line.removeprefix("    ") for line in block.splitlines()]
        _, *words = shlex.split(first.removeprefix("$ "))
        answer = ran(*words, garage=tmp_path / "fleet", today=DAY)
        assert answer.code == 0, answer.err
        said = iter(answer.out.splitlines())
        for line in quoted:
            if line != LEFT_OUT:
                start = line.removesuffix(LEFT_OUT).rstrip()
                assert any(each.startswith(start) for each in said), line
