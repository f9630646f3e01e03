"""A full disk, a read-only one, another user's lock: the sentence, the record as it was, exit 3."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.faces.installed import Answer, Bench

TODAY = "2026-11-25"
CAR = "vehicles/tollgate.json"


@pytest.fixture
def small(tmp_path: Path) -> Iterator[Bench]:
    """Give a garage on a file system of its own, of 200 kB; only root may mount one."""
    disk, home = tmp_path / "disk", tmp_path / "home"
    disk.mkdir()
    home.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=200k,mode=700", "none", str(disk)],
        capture_output=True,
        check=False,
    )
    if mounted.returncode != 0:
        pytest.skip("no file system may be mounted here")
    found = Bench(disk / "garage", home)
    try:
        assert found(TODAY, "add", "tollgate").code == 0
        assert found(TODAY, "reading", "tollgate", "41200").code == 0
        yield found
    finally:
        subprocess.run(["umount", "-l", str(disk)], check=True)


def record(at: Bench) -> bytes:
    return (at.garage / CAR).read_bytes()


def temporary(at: Bench) -> list[Path]:
    return list((at.garage / ".castlenut" / "tmp").iterdir())


def refused(at: Bench, sentence: str, *words: str) -> Answer:
    """Prove that a command is refused with exit 3 and leaves the record as it was."""
    before = record(at)
    answer = at(TODAY, *words)
    assert answer.code == 3, answer
    assert answer.out == ""
    assert answer.err == f"castlenut: {sentence}\n"
    assert record(at) == before
    assert temporary(at) == []
    return answer


def _fill(handle: int) -> None:
    for _ in range(10_000):
        os.write(handle, b"x" * 512)


@pytest.mark.skipif(sys.platform != "linux", reason="mounts a file system")
def test_a_full_disk_is_told_and_the_record_is_as_it_was(small: Bench) -> None:
    filler = small.garage.parent / "filler"
    handle = os.open(filler, os.O_WRONLY | os.O_CREAT)
    with pytest.raises(OSError, match="No space left"):
        _fill(handle)
    os.close(handle)

    refused(
        small,
        f"{CAR}: not saved: the disk is full; the record is as it was",
        *("reading", "tollgate", "41300"),
    )

    assert small(TODAY, "due").code == 0
    filler.unlink()
    assert small(TODAY, "reading", "tollgate", "41300").code == 0


@pytest.mark.skipif(sys.platform != "linux", reason="mounts a file system")
def test_a_read_only_disk_is_read_and_not_written(small: Bench) -> None:
    disk = small.garage.parent
    subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)

    for words in (("due",), ("records",), ("check",), ("vehicles", "--json")):
        assert small(TODAY, *words).code == 0
    refused(
        small,
        "garage: cannot be written here (read-only): nothing was saved",
        *("reading", "tollgate", "41300"),
    )
    refused(small, "garage: cannot be written here (read-only): nothing was saved", "undo")


@pytest.mark.skipif(os.name != "posix", reason="stops a process")
@pytest.mark.long
def test_a_holder_of_the_lock_that_was_stopped_is_named(tmp_path: Path) -> None:
    (tmp_path / "home").mkdir()
    here = Bench(tmp_path / "garage", tmp_path / "home")
    assert here(TODAY, "add", "tollgate").code == 0
    code = (
        "import sys, time\n"
        "from datetime import datetime, UTC\n"
        "from pathlib import Path\n"
        "from castlenut.store.folder import open_folder\n"
        "from castlenut.store.revisions import Change\n"
        "change = Change(id='c', at=datetime.now(UTC), by='dev-9f00', doing='reading')\n"
        "with open_folder(Path(sys.argv[1])).writing(change):\n"
        "    print('held', flush=True)\n"
        "    time.sleep(60)\n"
    )
    holder = subprocess.Popen(
        [sys.executable, "-c", code, str(here.garage)], stdout=subprocess.PIPE, text=True
    )
    assert holder.stdout is not None
    assert holder.stdout.readline() == "held\n"
    os.kill(holder.pid, signal.SIGSTOP)
    try:
        begun = time.monotonic()
        answer = here(TODAY, "reading", "tollgate", "41300")
        waited = time.monotonic() - begun
        assert here(TODAY, "due").code == 0
    finally:
        holder.kill()
        holder.wait()
        holder.stdout.close()

    assert answer.code == 3
    assert answer.err.startswith(
        f"castlenut: garage: another Castlenut (pid {holder.pid}, reading, since "
    )
    assert answer.err.endswith(") is writing: try again\n")
    assert waited >= 10
    # The lock ended with its holder: there is nothing to clear away.
    assert here(TODAY, "reading", "tollgate", "41300").code == 0


def test_a_garage_of_another_user_is_told_plainly(tmp_path: Path) -> None:
    """As root every file may be read, so the program is run as nobody."""
    if os.name != "posix" or os.geteuid() != 0:
        pytest.skip("only root may run a program as another user")
    (tmp_path / "home").mkdir()
    here = Bench(tmp_path / "garage", tmp_path / "home")
    assert here(TODAY, "add", "tollgate").code == 0
    assert here(TODAY, "add", "pim").code == 0
    for path in (tmp_path, *tmp_path.parents):
        if path.is_relative_to("/tmp/pytest-of-root"):
            path.chmod(0o755)
    here.garage.chmod(0o755)
    (here.garage / "vehicles").chmod(0o755)
    (here.garage / "garage.json").chmod(0o644)
    (here.garage / "vehicles" / "pim.json").chmod(0o644)

    code = (
        "import os, sys\n"
        "from tests.faces.in_process import ran\n"
        "from pathlib import Path\n"
        "def all_of(garage):\n"
        "    for words in (['vehicles'], ['due', 'tollgate'], ['reading', 'pim', '100']):\n"
        "        yield ran(*words, garage=Path(garage), today='2026-11-25')\n"
        "list(all_of(sys.argv[2]))\n"  # loads all that another user might not read
        "os.setgroups([])\n"
        "os.setgid(65534)\n"
        "os.setuid(65534)\n"
        "for answer in all_of(sys.argv[1]):\n"
        "    print(answer.code, (answer.out + answer.err).replace('\\n', ' '))\n"
    )
    scratch = Bench(tmp_path / "scratch", tmp_path / "home")
    assert scratch(TODAY, "add", "tollgate").code == 0
    assert scratch(TODAY, "add", "pim").code == 0
    done = subprocess.run(
        [sys.executable, "-c", code, str(here.garage), str(scratch.garage)],
        capture_output=True,
        text=True,
        cwd=Path(__file__).parents[2],
        check=True,
    )

    vehicles, due, reading = done.stdout.splitlines()
    assert vehicles.startswith("0 ?? cannot be read  vehicles/tollgate.json  may not be read by")
    assert due == (
        "2 castlenut: vehicles/tollgate.json: may not be read by this user: check its permissions "
    )
    assert reading == "3 castlenut: garage: cannot be written here (read-only): nothing was saved "
