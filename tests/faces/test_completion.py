"""A shell completes commands and options by the script that the program prints."""

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.faces.installed import bench

TODAY = "2026-11-25"


def script(folder: Path, shell: str) -> Path:
    answer = bench(folder)(TODAY, "completion", shell)
    assert answer.code == 0
    place = folder / shell
    place.write_text(answer.out)
    return place


@pytest.mark.parametrize(
    ("typed", "completed"),
    [
        (["du"], ["due"]),
        (["--garage", "x", "readi"], ["reading"]),
        (["due", "--js"], ["--json"]),
        (["--today", "2026-11-25", "why", "--pl"], ["--plain"]),
    ],
)
def test_bash_completes_what_is_typed(
    tmp_path: Path, typed: list[str], completed: list[str]
) -> None:
    words = " ".join(f"'{word}'" for word in ["castlenut", *typed])
    asked = (
        f"source {script(tmp_path, 'bash')}; COMP_WORDS=({words}); COMP_CWORD={len(typed)};"
        ' _castlenut; echo "${COMPREPLY[@]}"'
    )

    told = subprocess.run(["bash", "-c", asked], capture_output=True, text=True, check=True)

    assert (told.stdout.split(), told.stderr) == (completed, "")


@pytest.mark.parametrize("shell", ["zsh", "fish"])
def test_the_other_shells_read_their_script(tmp_path: Path, shell: str) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} is not on this machine")
    place = script(tmp_path, shell)

    read = subprocess.run([shell, "-n", str(place)], capture_output=True, text=True, check=False)

    assert (read.returncode, read.stderr) == (0, "")


def test_another_shell_is_refused_with_those_there_are(tmp_path: Path) -> None:
    answer = bench(tmp_path)(TODAY, "completion", "csh")

    assert answer.code == 2
    assert "choose from 'bash', 'zsh', 'fish'" in answer.err
