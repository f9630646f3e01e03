"""What leaves the program: nothing raw, and no exception without words."""

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest

from castlenut.command import output
from castlenut.command.world import World
from castlenut.domain.errors import BadInput, Fault
from castlenut.store.faults import NotSaved
from tests.command.conftest import NOW, Shop


def guarded(error: BaseException) -> int:
    def work() -> int:
        raise error

    world = World(
        environment={},
        today=NOW.date,
        now=lambda: NOW,
        new_id=lambda: "none is made",
        draw=bytes,
        stdin=io.TextIOWrapper(io.BytesIO()),
    )
    return output.guarded(work, world)


def test_every_fault_of_bad_input_is_a_line(capsys: pytest.CaptureFixture[str]) -> None:
    code = guarded(
        BadInput(
            Fault("is no day", "on", "write it out"), Fault("is no number", "at", "use digits")
        )
    )

    assert code == 2
    assert capsys.readouterr().err.splitlines() == [
        "castlenut: on: is no day; write it out",
        "castlenut: at: is no number; use digits",
    ]


def test_what_could_not_be_saved_ends_with_3(capsys: pytest.CaptureFixture[str]) -> None:
    code = guarded(NotSaved("vehicles/pim.json", "not saved: the disk is full"))

    assert code == 3
    assert capsys.readouterr().err == "castlenut: vehicles/pim.json: not saved: the disk is full\n"


def test_ctrl_c_ends_quietly(capsys: pytest.CaptureFixture[str]) -> None:
    assert guarded(KeyboardInterrupt()) == 130
    assert capsys.readouterr().err == ""


def test_an_unforeseen_fault_is_one_line_and_a_report(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))

    code = guarded(ZeroDivisionError("one over none"))

    err = capsys.readouterr().err
    assert code == 3
    assert err.count("\n") == 1
    assert err.startswith("castlenut: something went wrong (ZeroDivisionError)")
    assert "Traceback" not in err
    report = Path(err.strip().rsplit(" in ", 1)[1])
    assert "ZeroDivisionError: one over none" in report.read_text()


def test_a_report_that_cannot_be_kept_is_told(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    monkeypatch.setenv("XDG_STATE_HOME", str(blocked))
    monkeypatch.setenv("HOME", str(blocked))

    assert guarded(ZeroDivisionError()) == 3
    assert "details in no file: " in capsys.readouterr().err


def test_nothing_of_a_record_reaches_the_terminal_raw(yard: Shop) -> None:
    path = yard.path / "vehicles" / "fallowmere.json"
    path.write_text(path.read_text().replace("Pellworth Fallowmere", "red\\u001b[31m\\u202eend"))

    told = yard("vehicles")

    assert "\x1b" not in told.out + told.err
    assert "red\\x1b[31m\\u202eend" in told.out


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes with names")
def test_a_fifo_in_place_of_a_car_never_hangs(yard: Shop) -> None:
    os.mkfifo(yard.path / "vehicles" / "pipe.json")

    told = yard("due", "--json")

    assert told.code == 0
    assert told.faults[0].startswith("castlenut: vehicles/pipe.json: is a ")


def test_stdout_that_nobody_reads_ends_without_a_word() -> None:
    """As in `castlenut --help | true`."""
    read_end, write_end = os.pipe()
    os.close(read_end)

    ended = subprocess.run(
        [sys.executable, "-m", "castlenut", "--help"],
        stdout=write_end,
        stderr=subprocess.PIPE,
        text=True,
        check=False,
    )
    os.close(write_end)

    assert (ended.returncode, ended.stderr) == (141, "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_stdout_on_a_full_disk_is_told_in_a_sentence() -> None:
    with Path("/dev/full").open("w") as full:
        ended = subprocess.run(
            [sys.executable, "-m", "castlenut", "--help"],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )

    told = "castlenut: the answer could not be written: the disk is full\n"
    assert (ended.returncode, ended.stderr) == (3, told)


def test_a_day_before_any_car_is_refused(yard: Shop) -> None:
    told = yard("--today", "0001-01-01", "due")

    assert told.code == 2
    assert told.faults == ["castlenut: --today: 0001-01-01 is no day of a car; 1900 to 9000"]


def test_a_line_too_wide_for_the_terminal_is_folded_between_words() -> None:
    line = "    not known either: the tread or direction of SP; the load index of SP"

    assert output.folded(line, 50) == [
        "    not known either: the tread or direction of",
        "      SP; the load index of SP",
    ]


@pytest.mark.parametrize("line", ["short", "x" * 60, "", " ".join(["word"] * 40), "  a" + "b" * 70])
def test_folding_loses_no_word_and_adds_none(line: str) -> None:
    parts = output.folded(line, 48)

    assert " ".join(parts).split() == line.split()
    assert all(len(part) <= 48 or " " not in part.strip() for part in parts)


def test_a_pipe_gets_lines_whole(capsys: pytest.CaptureFixture[str]) -> None:
    output.write("word " * 40 + "end")

    assert capsys.readouterr().out == "word " * 40 + "end\n"
