"""The program as its user has it: in a process of its own, on a folder on disk."""

import json
import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.faces.forked import forked


def script() -> str:
    """Give the installed command that belongs to this interpreter."""
    found = Path(sys.executable).with_name("castlenut")
    assert found.exists(), "install the package into this environment first"
    return str(found)


@dataclass(frozen=True, slots=True)
class Answer:
    """What the command answered: exit code, standard output, standard error."""

    code: int
    out: str
    err: str

    def json(self) -> Any:  # noqa: ANN401 - each command has a structure of its own
        """Give the answer as JSON."""
        return json.loads(self.out)


@dataclass(frozen=True, slots=True)
class Bench:
    """A garage folder, and a home of its own for everything else the program might touch."""

    garage: Path
    home: Path

    def environment(self) -> Mapping[str, str]:
        """Give the environment the command runs in."""
        kept = {name: os.environ[name] for name in ("PATH", "LANG") if name in os.environ}
        return {
            **kept,
            "HOME": str(self.home),
            "CASTLENUT_DEVICE": "dev-00c0de",
            "PYTHONHASHSEED": "0",
        }

    def __call__(self, on: str, *words: str, given: str = "") -> Answer:
        """Run a command on a day, in a process that need not load the program anew."""
        return _sound(*forked(self._arguments(on, *words), self.environment(), given))

    def script(self, on: str, *words: str) -> Answer:
        """Run a command on a day by the installed script."""
        done = subprocess.run(
            [script(), *self._arguments(on, *words)],
            capture_output=True,
            text=True,
            env=dict(self.environment()),
            check=False,
        )
        return _sound(done.returncode, done.stdout, done.stderr)

    def _arguments(self, on: str, *words: str) -> Sequence[str]:
        return ("--garage", str(self.garage), "--today", on, *words)


def _sound(code: int, out: str, err: str) -> Answer:
    assert "Traceback" not in err
    return Answer(code, out, err)


def bench(folder: Path) -> Bench:
    """Give a bench in a temporary folder; the garage does not exist yet."""
    home = folder / "home"
    home.mkdir()
    return Bench(folder / "garage", home)
