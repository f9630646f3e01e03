"""Odometer arithmetic against published sources: the end of the dial, another dial, another tire.

The dates are invented; the figures are those of the source named beside each case.
"""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.ids import RecordId
from castlenut.domain.odometer import Dial, FactorFrom, Reading, Replaced, RolledOver, odometer
from castlenut.domain.units import Distance, Unit
from castlenut.domain.working import State
from tests.builders import book, car, part, the_item, today

FIVE_DIGITS = Dial(unit=Unit.MI, digits=5, tenths=False)


def reading(record: str, on: date, figure: str) -> Reading:
    return Reading(record=RecordId(record), on=on, figure=Decimal(figure), unit=Unit.MI)


@pytest.mark.published(
    "10.01", basis="R", source="Maryland COMAR 11.12.01.19 A(2): designed mechanical odometer limit"
)
def test_five_digits_start_again_after_99_999() -> None:
    before = reading("a", date(2024, 3, 1), "98750")
    after = reading("b", date(2024, 5, 1), "00430")

    found = odometer(FIVE_DIGITS, [before, after], [])

    assert [placed.distance for placed in found.placed] == [98_750.0, 100_430.0]


@pytest.mark.published(
    "10.01", basis="R", source="Maryland COMAR 11.12.01.19 A(2): designed mechanical odometer limit"
)
def test_the_day_the_end_was_passed_may_be_told() -> None:
    before = reading("a", date(2024, 3, 1), "98750")
    after = reading("b", date(2024, 5, 1), "00430")
    told = RolledOver(record=RecordId("e"), on=date(2024, 5, 1))

    found = odometer(FIVE_DIGITS, [before, after], [told])

    assert found.sound[1].distance == 98_750.0 + 1_680.0
    assert found.sound[1].oddity is None


@pytest.mark.published("10.02", basis="R", source="49 CFR 580.5(c)(1): reading without tenths")
def test_a_dial_without_tenths_shows_whole_miles() -> None:
    found = odometer(FIVE_DIGITS, [reading("a", date(2024, 3, 1), "61530")], [])

    assert found.shown_of(Distance(61_530.9)) == Decimal(61530)


@pytest.mark.published(
    "10.10", basis="R2", source="trade pages: 25.0 in replaced by 26.0 in, 60 indicated is 62.4"
)
def test_true_distance_grows_with_the_diameter() -> None:
    larger = FactorFrom(record=RecordId("e"), on=date(2024, 3, 1), factor=Fraction(260, 250))
    taken = [reading("a", date(2024, 3, 1), "40000"), reading("b", date(2024, 3, 2), "40060")]

    found = odometer(FIVE_DIGITS, taken, [larger])

    assert found.sound[1].distance == pytest.approx(40_062.4)


@pytest.mark.published(
    "10.11", basis="R2", source="encyclopedia text: 185/70R14 24.197 in, 195/50R15 22.677 in"
)
def test_a_smaller_tire_runs_less_than_the_dial_shows() -> None:
    smaller = FactorFrom(record=RecordId("e"), on=date(2024, 3, 1), factor=Fraction(22677, 24197))
    taken = [reading("a", date(2024, 3, 1), "40000"), reading("b", date(2024, 3, 2), "40100")]

    found = odometer(FIVE_DIGITS, taken, [smaller])

    assert found.sound[1].distance == pytest.approx(40_093.7, abs=0.05)


@pytest.mark.published("10.12", basis="C", source="factor by set and date, totals add piecewise")
def test_totals_add_piece_by_piece() -> None:
    taken = [
        reading("a", date(2022, 1, 1), "30000"),
        reading("b", date(2023, 1, 1), "40000"),
        reading("c", date(2024, 1, 1), "45000"),
    ]
    other_set = FactorFrom(record=RecordId("e"), on=date(2023, 1, 1), factor=Fraction("1.04"))

    found = odometer(FIVE_DIGITS, taken, [other_set])

    assert [placed.distance for placed in found.sound] == [30_000.0, 40_000.0, 45_200.0]
    assert found.notes == ()


@pytest.mark.published("10.13", basis="C", source="49 CFR 580.5 wording: replaced or reset")
def test_another_dial_goes_on_where_the_old_one_ended() -> None:
    """45,120, ended at 45,300, the new one from 0, now 210: 180 and 210 miles."""
    taken = [reading("a", date(2024, 3, 1), "45120"), reading("b", date(2024, 5, 1), "210")]
    replaced = Replaced(
        record=RecordId("e"), on=date(2024, 4, 1), start=Decimal(0), last=Decimal(45300)
    )

    found = odometer(FIVE_DIGITS, taken, [replaced])

    assert [placed.distance for placed in found.sound] == [45_120.0, 45_510.0]


@pytest.mark.published(
    "10.01", basis="R", source="Maryland COMAR 11.12.01.19 A(2): designed mechanical odometer limit"
)
def test_an_item_counts_on_past_the_end_of_the_dial() -> None:
    """Oil of 98,750 is due 3,000 mi on, at 01,750 on the dial; at 00,430 1,320 are left."""
    read = (reading("a", date(2024, 3, 1), "98750"), reading("b", date(2024, 5, 1), "00430"))
    this = car(part("engine oil", on="2024-03-01", at=98750), readings=read)

    item = the_item(today(this, book(), "2024-05-01"), "oil")

    assert (item.due_at, item.shown.due_at) == (101_750.0, Decimal(1750))
    assert (item.distance_left, item.state) == (1_320.0, State.AHEAD)


@pytest.mark.published("10.12", basis="C", source="factor by set and date, totals add piecewise")
def test_an_item_counts_true_miles_of_another_set_of_tires() -> None:
    """From 40,000 at a factor of 1.04: 2,500 shown are 2,600 true, so 400 are left of 3,000."""
    read = (reading("a", date(2024, 1, 1), "40000"), reading("b", date(2024, 5, 1), "42500"))
    other_set = FactorFrom(record=RecordId("e"), on=date(2024, 1, 1), factor=Fraction("1.04"))
    oil = part("engine oil", on="2024-01-01", at=40000)
    this = car(oil, readings=read, dial_events=(other_set,))

    item = the_item(today(this, book(), "2024-05-01"), "oil")

    assert item.distance_left == pytest.approx(400.0)
    assert item.shown.due_at == Decimal(42884)
