"""The garages that benchmarks run on: the sample fleet, the usual and the big one."""

import json
import subprocess
from dataclasses import dataclass
from pathlib import Path

from tests.bench import big_garage
from tests.bench.measuring import castlenut, environment


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """The sample fleet as `demo` makes it: its first car, an item of it, what its dial shows."""

    path: Path
    car: str
    item: str
    figure: str


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
    due, dial = (
        subprocess.run(
            castlenut(path, asked, car, "--json"),
            env=variables,
            capture_output=True,
            check=True,
        ).stdout
        for asked in ("due", "odometer")
    )
    return Sample(
        path=path,
        car=car,
        item=json.loads(due)[0]["item"],
        figure=str(json.loads(dial)["readings"][-1]["figure"]),
    )


def usual(folder: Path) -> Path:
    """Make the usual garage: 40 cars, some 40 items a car."""
    big_garage.usual(folder / "usual")
    return folder / "usual"


def big(folder: Path) -> Path:
    """Make the growth case: 300 cars."""
    big_garage.big(folder / "big")
    return folder / "big"


def told(made: Sample, folder: Path) -> str:
    """Say how large the sample fleet is."""
    due = subprocess.run(
        castlenut(made.path, "due", "--json"),
        env=environment(folder / "home"),
        capture_output=True,
        check=True,
    )
    files = list((made.path / "vehicles").glob("*.json"))
    records = sum(
        line.startswith('"') and '"revs"' in line
        for file in files
        for line in file.read_text("utf-8").splitlines()
    )
    return f"{len(files)} cars, {records:,} records, {len(json.loads(due.stdout)):,} items"
