"""A garage as one zip file: packed so that the same records give the same bytes, and read back."""

import contextlib
import io
import stat
import tempfile
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath

from castlenut.domain.errors import BadInput, Fault
from castlenut.store.files import MOST_BYTES, Unread, make_folder, read_plain, write_new
from castlenut.store.folder import GARAGE, LEDGER, PHOTOS, RULES, VEHICLES, Folder, open_folder

_FIXED_TIME = (1980, 1, 1, 0, 0, 0)
_MODE = 0o600
_UNIX = 3
_ALONE = frozenset({GARAGE, RULES, LEDGER})
_WITHIN = frozenset({VEHICLES, PHOTOS})
_REMEDY = "give a zip that export made, or one of a garage's folder"


def packed(files: Mapping[str, bytes]) -> bytes:
    """Give files by name as the bytes of a zip: in the order of their names, with fixed times.

    They are stored as they are: how well bytes are pressed together differs between systems.
    """
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_STORED) as archive:
        for name in sorted(files):
            info = zipfile.ZipInfo(name, date_time=_FIXED_TIME)
            info.create_system = _UNIX
            info.external_attr = (stat.S_IFREG | _MODE) << 16
            archive.writestr(info, files[name])
    return buffer.getvalue()


@contextlib.contextmanager
def opened(path: Path) -> Iterator[Folder]:
    """Open another garage to be read: a folder, or a zip of one, unpacked while the body runs.

    Raises:
        BadInput: it is no garage, or a zip that reaches outside, holds links or is too large.
        OSError: there is no room to unpack it.
    """
    if path.is_file() and (path.suffix.lower() == ".zip" or zipfile.is_zipfile(path)):
        with tempfile.TemporaryDirectory(prefix="castlenut-") as name:
            _unpack(path, Path(name))
            yield open_folder(Path(name))
        return
    if not (path / GARAGE).exists():
        raise BadInput(
            Fault(
                "is not a garage",
                str(path),
                "name a folder with garage.json in it, or a zip of one",
            )
        )
    yield open_folder(path)


def _unpack(path: Path, target: Path) -> None:
    data = read_plain(path)
    if not isinstance(data, bytes):
        what = data.value if isinstance(data, Unread) else "is not there"
        raise BadInput(Fault(what, str(path), _REMEDY))
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            for name, info in _members(path, archive).items():
                with archive.open(info) as member:
                    found = member.read(MOST_BYTES + 1)
                if len(found) > MOST_BYTES:
                    raise _refused(path, f"holds {info.filename!a}, which is larger than 64 MiB")
                to = target / name
                make_folder(to.parent)
                write_new(to, found)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as bad:
        raise _refused(path, "cannot be read as a zip") from bad


def _members(path: Path, archive: zipfile.ZipFile) -> Mapping[str, zipfile.ZipInfo]:
    """Give the files of the garage by their names in it; what else lies in the zip is left alone.

    Raises:
        BadInput: a path reaches outside or is a link, or there is no garage.
    """
    found: dict[str, zipfile.ZipInfo] = {}
    for info in archive.infolist():
        parts = PurePosixPath(info.filename.replace("\\", "/"))
        if parts.is_absolute() or ".." in parts.parts or ":" in info.filename.split("/")[0]:
            raise _refused(path, f"holds the path {info.filename!a}, which reaches outside")
        if stat.S_ISLNK(info.external_attr >> 16):
            raise _refused(path, f"holds {info.filename!a}, which is a link")
        if not info.is_dir():
            found[str(parts)] = info
    roots = [name for name in found if PurePosixPath(name).name == GARAGE]
    root = PurePosixPath(min(roots, key=lambda name: name.count("/"), default=GARAGE)).parent
    inside: dict[str, zipfile.ZipInfo] = {}
    for name, info in found.items():
        if not PurePosixPath(name).is_relative_to(root):
            continue
        parts_ = PurePosixPath(name).relative_to(root).parts
        is_ours = (len(parts_) == 1 and parts_[0] in _ALONE) or (
            len(parts_) == 2 and parts_[0] in _WITHIN and not parts_[1].startswith(".")
        )
        if is_ours:
            inside["/".join(parts_)] = info
    if GARAGE not in inside:
        raise _refused(path, "holds no garage.json")
    return inside


def _refused(path: Path, what: str) -> BadInput:
    return BadInput(Fault(what, str(path), _REMEDY))
