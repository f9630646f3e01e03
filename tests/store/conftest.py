"""A garage in a temporary folder, with a clock, ids and a device that are always the same."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from castlenut.store.folder import Folder
from castlenut.store.founding import make_garage
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Added, Change

GARAGE_ID = "01a20000-0000-7000-8000-00000000aaaa"
VEHICLE_ID = "01a20000-0000-7000-8000-00000000cccc"
VEHICLE_RECORD = "01a20000-0000-7000-8000-0000000000f1"
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)

Changes = Callable[..., Change]


@pytest.fixture
def changes() -> Changes:
    """Give changes one second apart, each with an id of its own."""
    count = 0

    def change(by: str = "dev-1a2b3c", doing: str = "reading") -> Change:
        nonlocal count
        count += 1
        return Change(
            id=f"01a20000-0000-7000-8000-{count:012x}",
            at=NOON + timedelta(seconds=count),
            by=by,
            doing=doing,
        )

    return change


@pytest.fixture
def folder(tmp_path: Path, changes: Changes) -> Folder:
    """Give an empty garage."""
    return make_garage(tmp_path / "garage", identity=GARAGE_ID, change=changes())


@pytest.fixture
def car(folder: Folder, changes: Changes) -> RecordFile:
    """Give a car, invented, with its vehicle record alone."""
    new = folder.new_vehicle("tollgate-wagon", VEHICLE_ID)
    vehicle = Added(
        table="vehicle",
        id=VEHICLE_RECORD,
        values={
            "slug": "tollgate-wagon",
            "description": "Tollgate wagon",
            "unit": "mi",
            "digits": 5,
            "tenths": False,
        },
    )
    return folder.save(new, [vehicle], changes()).file
