"""What the record costs: one reading saved for good, and every record of a large garage told."""

import json
import time
from collections.abc import Callable
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

import pytest

from castlenut.store.folder import open_folder
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import Added, Change
from castlenut.store.values import Value
from tests.bench import big_garage
from tests.bench.measuring import Bench, Measure, cases, castlenut, cpu_of, judge, main, python

LARGEST_CARS = 300
LARGEST_RECORDS = 1_500


def _insert(records: int) -> Callable[[Path], tuple[Measure, Measure]]:
    """Read a file anew, check it, add one reading and save it; against loading the same file."""

    def sides(folder: Path) -> tuple[Measure, Measure]:
        path = folder / f"records-{records}"
        (slug,) = big_garage.write_garage(path, cars=1, records=records)
        file = path / "vehicles" / f"{slug}.json"
        before = file.read_bytes()
        numbers = count(1)

        def insert() -> float:
            file.write_bytes(before)
            number = next(numbers)
            begun = time.process_time()
            opened = open_folder(path)
            held = opened.load(slug)
            assert isinstance(held, RecordFile)
            change = Change(
                id=f"01935f00-1111-7000-8000-{number:012x}",
                at=datetime(2026, 11, 25, 9, 30, tzinfo=UTC),
                by=big_garage.DEVICE,
                doing="reading",
            )
            values: dict[str, Value] = {"figure": 99_000 + number, "on": "2026-11-24", "unit": "mi"}
            record = f"01935f00-2222-7000-8000-{number:012x}"
            opened.save(held, [Added(table="reading", id=record, values=values)], change)
            return time.process_time() - begun

        def load() -> float:
            begun = time.process_time()
            with file.open(encoding="utf-8") as opened:
                json.load(opened)
            return time.process_time() - begun

        return insert, load

    return sides


def _every_record(folder: Path) -> tuple[Measure, Measure]:
    path = folder / "largest"
    big_garage.write_garage(path, cars=LARGEST_CARS, records=LARGEST_RECORDS)
    plain = (
        "import json, pathlib\n"
        f"for each in sorted(pathlib.Path({str(path)!r}, 'vehicles').glob('*.json')):\n"
        "    json.loads(each.read_bytes())"
    )
    return cpu_of(castlenut(path, "records"), folder), cpu_of(python(plain), folder)


def _durable(records: int, goal: float, fail: float, raised: str = "") -> Bench:
    return Bench(
        what=f"one reading saved for good, file of {records:,} records",
        against="json.load of the same file",
        clock="cpu",
        goal=goal,
        fail=fail,
        sides=_insert(records),
        raised=raised,
    )


BENCHES = (
    _durable(300, 8, 9.5, "from 8; measured 7.9 to 8.8"),
    _durable(1_500, 6, 7.5, "from 6; measured 4.6 to 6.8"),
    _durable(3_000, 6, 7, "from 6; measured 4.9 to 6.3"),
    Bench(
        what=f"`records` of {LARGEST_CARS} cars, {LARGEST_RECORDS:,} records each",
        against="json.loads of all their files",
        clock="cpu",
        goal=10,
        fail=10,
        sides=_every_record,
        is_long=True,
    ),
)


@pytest.mark.parametrize("bench", cases(BENCHES))
def test_store(bench: Bench, tmp_path: Path) -> None:
    judge(bench, tmp_path)


if __name__ == "__main__":
    main(BENCHES)
