"""The pages on visits, the calendar and paper: each command that they show runs on the fleet."""

import shlex
from pathlib import Path

import pytest

from tests.faces.installed import bench
from tests.faces.quoting import DAY, castlenut_of, in_folder

DOCS = Path(__file__).resolve().parents[2] / "docs"
SERVES = "castlenut feed serve"
"""Runs until it is stopped: tested with real clients."""


@pytest.mark.parametrize(
    "name", [pytest.param("visits.md", marks=pytest.mark.long), "feed.md", "paper.md"]
)
def test_every_command_of_a_page_runs(name: str, tmp_path: Path) -> None:
    fleet = bench(tmp_path)
    assert fleet(DAY, "demo", "--no-open", str(fleet.garage)).code == 0
    (tmp_path / "calendars").mkdir()
    lines = [each.command for each in castlenut_of(DOCS / name) if SERVES not in each.command]

    typed = [[in_folder(tmp_path, word) for word in shlex.split(line)[1:]] for line in lines]
    answers = [fleet(DAY, *words) for words in typed]

    assert len(lines) >= 3
    assert [(line, each.err) for line, each in zip(lines, answers, strict=True) if each.code] == []
