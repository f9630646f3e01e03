"""A garage in a temporary folder: a fixed day, a clock that moves by the minute, ids in order."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path

import pytest

from castlenut.domain.item import Item
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafts import Draft, Saved, save
from castlenut.garage.garage import Garage, Surroundings, make_garage
from castlenut.store.values import Value

TODAY = date(2026, 11, 25)
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
CAR = "tollgate"


def surroundings(today: date = TODAY) -> Surroundings:
    ids, minutes = count(1), count()
    return Surroundings(
        today=today,
        now=lambda: NOON + timedelta(minutes=next(minutes)),
        new_id=lambda: f"01a20000-0000-7000-8000-{next(ids):012x}",
        draw=bytes,
        device=lambda: "dev-test",
        command="test",
    )


@dataclass(frozen=True)
class Shop:
    """A garage with one invented car in it, and short ways to ask what is on its record."""

    garage: Garage

    def save(self, draft: Draft) -> Saved:
        return save(self.garage, draft)

    def table(self, name: str, slug: str = CAR) -> list[Mapping[str, Value]]:
        """Give the values of the live records of a table, in the order they were entered."""
        records = sorted(self.garage.file(slug).table(name), key=lambda each: each.id)
        return [each.values for each in records]

    def ids(self, name: str, slug: str = CAR) -> list[str]:
        return sorted(each.id for each in self.garage.file(slug).table(name))

    def items(self, rule: str, slug: str = CAR) -> list[Item]:
        return [item for item in self.garage.today(slug).items if item.id.rule == rule]


@pytest.fixture
def make(tmp_path: Path) -> Callable[..., Garage]:
    """Give a way to make a garage, perhaps on another day."""

    def made(name: str = "garage", today: date = TODAY) -> Garage:
        return make_garage(tmp_path / name, surroundings(today))

    return made


@pytest.fixture
def garage(make: Callable[..., Garage]) -> Garage:
    """Give an empty garage."""
    return make()


@pytest.fixture
def shop(garage: Garage) -> Shop:
    """Give a garage with one car of 1970, its dial in miles with five digits."""
    fields = {"description": "Tollgate wagon, invented", "year": "1970", "digits": "5"}
    save(garage, draft_vehicle(garage, CAR, fields))
    return Shop(garage)
