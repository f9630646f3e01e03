import errno
import os
from pathlib import Path

import pytest

from castlenut.store.faults import NotSaved
from castlenut.store.outside import Outside, write_outside


def test_a_new_file_is_for_others_to_read(tmp_path: Path) -> None:
    target = tmp_path / "cars.ics"

    assert write_outside(target, b"one") is Outside.WRITTEN
    assert target.read_bytes() == b"one"
    assert target.stat().st_mode & 0o777 == 0o644
    assert [each.name for each in tmp_path.iterdir()] == ["cars.ics"]


def test_equal_bytes_touch_nothing(tmp_path: Path) -> None:
    target = tmp_path / "cars.ics"
    target.write_bytes(b"one")
    before = target.stat()

    assert write_outside(target, b"one") is Outside.UNCHANGED
    assert (target.stat().st_ino, target.stat().st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


def test_an_old_file_keeps_its_mode(tmp_path: Path) -> None:
    target = tmp_path / "cars.ics"
    target.write_bytes(b"one")
    target.chmod(0o640)

    write_outside(target, b"two")

    assert target.stat().st_mode & 0o777 == 0o640


def test_a_link_is_followed_and_stays(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    target = tmp_path / "real" / "cars.ics"
    target.write_bytes(b"one")
    link = tmp_path / "link.ics"
    link.symlink_to(target)

    write_outside(link, b"two")

    assert link.is_symlink()
    assert target.read_bytes() == b"two"


@pytest.mark.parametrize("call", ["write", "fsync", "replace"])
def test_on_failure_the_old_file_is_whole_and_nothing_else_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    target = tmp_path / "cars.ics"
    target.write_bytes(b"one")

    def failing(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as broken:
        broken.setattr(os, call, failing)
        with pytest.raises(NotSaved, match="the disk is full"):
            write_outside(target, b"two")

    assert target.read_bytes() == b"one"
    assert [each.name for each in tmp_path.iterdir()] == ["cars.ics"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(NotSaved, match="no such file or directory"):
        write_outside(tmp_path / "none" / "cars.ics", b"one")
