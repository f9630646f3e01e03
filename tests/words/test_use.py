"""What an estimate of the distance rests on, in words."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.dial import DialEvent, FactorFrom, Reading, Replaced
from castlenut.domain.odometer import odometer
from castlenut.domain.use.rate import plain_rate
from castlenut.words.use import basis, is_rate_known
from tests.builders import MILES, day, reading, record

TODAY = date(2026, 11, 25)


def said(*readings: Reading, laid_up: tuple[tuple[date, date | None], ...] = ()) -> str:
    use = plain_rate(odometer(MILES, readings, []), today=TODAY, laid_up=laid_up)
    return basis(use.basis, MILES)


def test_without_a_reading_nothing_is_claimed() -> None:
    assert said() == "no reading"


def test_one_reading_gives_no_rate() -> None:
    use = plain_rate(odometer(MILES, [reading("2026-11-24", 61600)], []), today=TODAY, laid_up=())

    assert not is_rate_known(use.basis)
    assert basis(use.basis, MILES) == (
        "the reading 61,600 of 2026-11-24 alone: no rate of use is known"
    )


def test_two_readings_say_that_the_band_is_a_guess() -> None:
    assert said(reading("2026-10-15", 61200), reading("2026-11-24", 61600)) == (
        "the reading 61,600 of 2026-11-24 and the plain mean rate, 10 mi a day, over 2 readings,"
        " the band from half to twice that"
    )


def test_several_stretches_give_the_band() -> None:
    """400 mi in 40 days, then 200 in 40."""
    told = said(
        reading("2026-09-05", 61000), reading("2026-10-15", 61400), reading("2026-11-24", 61600)
    )

    assert told.endswith("7.5 mi a day, over 3 readings, the band from 5 mi a day to 10 mi a day")


def test_what_is_left_out_and_when_the_car_stood_is_told() -> None:
    told = said(
        reading("2026-09-05", 61000),
        reading("2026-10-15", 61400),
        reading("2026-11-24", 51600),
        laid_up=((day("2026-10-20"), None),),
    )

    assert "1 reading left out as odd" in told
    assert told.endswith("laid up since 2026-10-20, no end planned")


def test_an_estimate_inside_the_distance_itself_is_told() -> None:
    events: list[DialEvent] = [
        Replaced(record=record("dial"), on=day("2026-10-01"), start=Decimal(0), last=None),
        FactorFrom(record=record("factor"), on=day("2026-11-01"), factor=Fraction("1.041")),
    ]
    readings = [
        reading("2026-08-01", 61000),
        reading("2026-09-01", 61310),
        reading("2026-10-15", 140),
        reading("2026-11-20", 500),
    ]
    use = plain_rate(odometer(MILES, readings, events), today=TODAY, laid_up=())

    told = basis(use.basis, MILES)

    assert "what the old dial showed last is not known: 2026-09-01 to 2026-10-01" in told
    assert "the factor changed between two readings, on 2026-11-01: split by days" in told
