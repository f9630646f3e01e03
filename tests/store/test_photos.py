"""Photos named with a finding: copied whole, under a name of their own."""

import stat
from pathlib import Path

import pytest

from castlenut.domain.errors import BadInput
from castlenut.store.photos import Photo, keep_photo, photo

RECORD = "01a20000-0000-7000-8000-00000000beef"


def test_the_name_begins_with_the_finding_and_keeps_what_the_file_was_called(
    tmp_path: Path,
) -> None:
    file = tmp_path / "Sill, links (2).JPG"
    file.write_bytes(b"picture")

    assert photo(str(file), record=RECORD).name == "0000beef-sill-links-2.jpg"


@pytest.mark.parametrize("name", ["missing.jpg", "."])
def test_what_is_no_file_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(BadInput):
        photo(str(tmp_path / name), record=RECORD)


def test_the_copy_holds_the_same_bytes_and_is_its_owners_alone(tmp_path: Path) -> None:
    file = tmp_path / "sill.jpg"
    file.write_bytes(b"picture" * 1000)

    keep_photo(tmp_path, photo(str(file), record=RECORD))

    kept = tmp_path / "photos" / "0000beef-sill.jpg"
    assert kept.read_bytes() == file.read_bytes()
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600


def test_a_file_that_is_gone_by_the_time_of_saving_is_told(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="is gone"):
        keep_photo(tmp_path, Photo(source=tmp_path / "gone.jpg", name="x-gone.jpg"))

    assert not (tmp_path / "photos").exists()
