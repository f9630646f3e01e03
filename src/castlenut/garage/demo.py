"""The sample garage, all of it invented, with its record ending yesterday."""

from datetime import timedelta
from pathlib import Path

import castlenut
from castlenut.domain.errors import BadInput, Fault
from castlenut.garage.garage import Surroundings
from castlenut.store.folder import Folder
from castlenut.store.sample import copy_moved, last_reading_day

_NAME = "sample_fleet"


def make_demo(folder: Path | None, surroundings: Surroundings) -> Path:
    """Copy the sample garage to an empty folder, or to a fresh one, and give where it is.

    Every day in it is moved by the same number of days, so that its last reading is yesterday's.

    Raises:
        BadInput: the folder holds something, or no sample came with the program.
        NotSaved: it could not be written.
    """
    source = Folder(path=_sample())
    last = last_reading_day(source)
    if last is None:
        raise BadInput(
            Fault("the sample garage holds no reading", _NAME, "install the program again")
        )
    target = folder if folder is not None else _fresh()
    yesterday = surroundings.today - timedelta(days=1)
    copy_moved(source, target, days=(yesterday - last).days, now=surroundings.now())
    return target


def _sample() -> Path:
    """Give where the sample lies: in the package, or beside `src` where that is worked on."""
    package = Path(next(iter(castlenut.__path__)))
    for place in (package / _NAME, package.parent.parent / _NAME):
        if place.is_dir():
            return place
    raise BadInput(Fault("no sample garage came with the program", _NAME, "install it again"))


def _fresh() -> Path:
    # needed only here, and slow to import
    from tempfile import mkdtemp

    return Path(mkdtemp(prefix="castlenut-demo-"))
