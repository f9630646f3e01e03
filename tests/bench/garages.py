"""The garages that benchmarks run on: the sample fleet, the usual and the big one."""

import json
import subprocess
from dataclasses import dataclass
from pathlib import Path

from tests.bench import big_garage
from tests.bench.measuring import castlenut, environment


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """The sample fleet as `demo` makes it: its first car, and an item of that car."""

    path: Path
    car: str
    item: str


def sample(folder: Path) -> Sample:
    """Make the sample fleet."""
    path = folder / "sample"
    variables = environment(folder / "home")
    subprocess.run(
        castlenut(None, "demo", "--no-open", str(path)),
        env=variables,
        stdout=subprocess.DEVNULL,
        check=True,
    )
    car = min(each.stem for each in (path / "vehicles").glob("*.json"))
    due = subprocess.run(
        castlenut(path, "due", car, "--json"),
        env=variables,
        capture_output=True,
        check=True,
    )
    return Sample(path=path, car=car, item=json.loads(due.stdout)[0]["item"])


def usual(folder: Path) -> Path:
    """Make the usual garage: 40 cars, some 40 items a car."""
    big_garage.usual(folder / "usual")
    return folder / "usual"


def big(folder: Path) -> Path:
    """Make the growth case: 300 cars."""
    big_garage.big(folder / "big")
    return folder / "big"
