"""Every example of docs/json.md that a command answers, run as it stands there."""

import json
import os
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

from tests.faces.forked import as_a_command

PAGE = Path(__file__).parents[2] / "docs" / "json.md"
SHOWN = re.compile(r"```sh\n(?P<commands>.*?)```\n\n```json\n(?P<answer>.*?)```", re.DOTALL)
ID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}")
END_OF_ID = re.compile(r"(?:(?<=~)|(?<=own@)|(?<=\()|(?<=, )|(?<=; )|(?<=reading ))[0-9a-f]{8}\b")
TOKEN = re.compile(r"\b[0-9a-f]{32}\b")
INSTANT = re.compile(r"\d{4}-\d\d-\d\dT[\d:.]+Z")


def masked(text: str) -> str:
    """Take out what differs from run to run: ids, their ends, and instants."""
    text = TOKEN.sub("TOKEN", text)
    return INSTANT.sub("INSTANT", END_OF_ID.sub("END", ID.sub("ID", text)))


def values(text: str) -> Iterator[object]:
    """Read one JSON value after the other."""
    decoder = json.JSONDecoder()
    rest = masked(text).strip()
    while rest:
        value, end = decoder.raw_decode(rest)
        yield value
        rest = rest[end:].lstrip()


def examples() -> list[tuple[str, str]]:
    return [(each["commands"], each["answer"]) for each in SHOWN.finditer(PAGE.read_text())]


def test_every_example_of_a_command_is_what_it_answers(tmp_path: Path) -> None:
    """The examples build on one another, from the top of the page."""
    environment = {
        **os.environ,
        "CASTLENUT_GARAGE": str(tmp_path / "garage"),
        "CASTLENUT_DEVICE": "dev-example",
        "PATH": f"{as_a_command(tmp_path).parent}{os.pathsep}{os.environ['PATH']}",
    }
    assert len(examples()) > 10
    for commands, answer in examples():
        ended = subprocess.run(
            ["sh", "-e", "-c", commands],
            cwd=tmp_path,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )

        assert ended.returncode == 0, (commands, ended.stderr)
        told = ended.stdout.replace(str(tmp_path), "/srv")
        assert list(values(told)) == list(values(answer)), commands
