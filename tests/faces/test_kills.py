"""Killed at any moment, the record holds every reading that was acknowledged, and reads whole."""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

KILLS = 200
FEW = 5
SEED = 20261125


def _castlenut(garage: Path) -> list[str]:
    return [sys.executable, "-m", "castlenut", "--garage", str(garage), "--today", "2026-11-25"]


def _environment(home: Path) -> dict[str, str]:
    return {**os.environ, "CASTLENUT_DEVICE": "dev-00c0de", "HOME": str(home)}


def _killed_while_saving(garage: Path, home: Path, figures: range, seconds: float) -> list[str]:
    """Feed readings to the program, kill it some time after its first save; give what it told."""
    writer = subprocess.Popen(
        [*_castlenut(garage), "reading", "test-car", "--from", "-"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=_environment(home),
        start_new_session=True,
    )
    assert writer.stdin is not None
    assert writer.stdout is not None
    writer.stdin.write("".join(f"{figure}\n" for figure in figures).encode())
    writer.stdin.flush()
    first = writer.stdout.readline()
    time.sleep(seconds)
    os.killpg(writer.pid, signal.SIGKILL)
    said = (first + writer.stdout.read()).decode()
    writer.stdin.close()
    writer.stdout.close()
    writer.wait()
    # a line cut short by the kill was not told
    return [line.split()[0] for line in said.splitlines(keepends=True) if line.endswith("\n")]


def _kept(garage: Path, home: Path) -> set[str]:
    listed = subprocess.run(
        [*_castlenut(garage), "records", "test-car", "--table", "reading", "--ids"],
        capture_output=True,
        text=True,
        env=_environment(home),
        check=False,
    )
    assert listed.returncode == 0, listed.stderr
    assert listed.stderr == ""
    return set(listed.stdout.split())


def _run(garage: Path, home: Path, kills: int) -> int:
    """Kill the writer again and again on fresh cars of one garage; give what was acknowledged."""
    chance = random.Random(SEED)
    acknowledged = 0
    told: set[str] = set()
    for round_ in range(kills):
        car = garage / f"round-{round_ // 20}"
        if not car.exists():
            told = set()
            made = subprocess.run(
                [*_castlenut(car), "add", "test-car", "--digits", "6"],
                capture_output=True,
                env=_environment(home),
                check=False,
            )
            assert made.returncode == 0, made.stderr
        start = 1 + 1000 * (round_ % 20)
        figures = range(start, start + 400)
        told |= set(_killed_while_saving(car, home, figures, chance.uniform(0.0, 0.25)))
        kept = _kept(car, home)
        assert told <= kept, f"round {round_}: lost {told - kept}"
        acknowledged = max(acknowledged, len(told))
    return acknowledged


def test_a_few_kills_lose_nothing(tmp_path: Path) -> None:
    acknowledged = _run(tmp_path / "garages", tmp_path, FEW)

    assert acknowledged > 0


@pytest.mark.long
def test_two_hundred_kills_lose_nothing(tmp_path: Path) -> None:
    acknowledged = _run(tmp_path / "garages", tmp_path, KILLS)

    assert acknowledged > 0
