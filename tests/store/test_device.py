import os
from pathlib import Path

import pytest

from castlenut.domain.errors import BadInput
from castlenut.store.device import device_id


def test_a_device_is_made_once_and_kept_out_of_the_garage(tmp_path: Path) -> None:
    first = device_id(None, fresh=lambda: "1a2b3c", state=tmp_path / "state")
    second = device_id(None, fresh=lambda: "ffffff", state=tmp_path / "state")

    assert (first, second) == ("dev-1a2b3c", "dev-1a2b3c")


def test_a_given_device_is_taken_and_nothing_is_kept(tmp_path: Path) -> None:
    assert device_id("bench", fresh=lambda: "1a2b3c", state=tmp_path / "state") == "bench"
    assert list(tmp_path.iterdir()) == []


def test_an_empty_one_is_none_given(tmp_path: Path) -> None:
    assert device_id("", fresh=lambda: "1a2b3c", state=tmp_path) == "dev-1a2b3c"


@pytest.mark.parametrize("text", ["two words", "x" * 65, "a\x1b"])
def test_a_device_that_cannot_be_is_refused(text: str, tmp_path: Path) -> None:
    with pytest.raises(BadInput):
        device_id(text, fresh=lambda: "1a2b3c", state=tmp_path)


def test_where_it_cannot_be_kept_the_new_one_serves(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.open

    def refusing(path: object, flags: int, mode: int = 0o777) -> int:
        if flags & os.O_CREAT:
            raise PermissionError(13, "Permission denied")
        return real(str(path), flags, mode)

    monkeypatch.setattr(os, "open", refusing)

    assert device_id(None, fresh=lambda: "1a2b3c", state=tmp_path) == "dev-1a2b3c"
