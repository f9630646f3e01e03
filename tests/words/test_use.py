"""What an estimate of the distance rests on, in words. All cars are invented."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.dial import DialEvent, FactorFrom, Reading, Replaced
from castlenut.domain.frozen import replace
from castlenut.domain.odometer import odometer
from castlenut.domain.use.forecast import Owner, forecast
from castlenut.words.use import basis, is_rate_known
from tests.builders import MILES, day, reading, record

TODAY = day("2026-11-25")


def said(
    *readings: Reading,
    events: tuple[DialEvent, ...] = (),
    laid_up: tuple[tuple[date, date | None], ...] = (),
) -> str:
    use = forecast(odometer(MILES, readings, events), today=TODAY, owner=Owner(laid_up=laid_up))
    return basis(use.basis, MILES)


def test_without_a_reading_nothing_is_known() -> None:
    use = forecast(odometer(MILES, [], []), today=TODAY, owner=Owner())

    assert not is_rate_known(use.basis)
    assert said() == "no reading"


def test_one_reading_rests_on_how_such_cars_are_driven() -> None:
    told = said(reading("2026-11-24", 61600))

    assert told.startswith(
        "the reading 61,600 of 2026-11-24 alone and how cars of this age and use are usually"
        " driven; about "
    )


def test_more_readings_are_counted_from_the_first() -> None:
    told = said(
        reading("2026-09-05", 61000), reading("2026-10-15", 61400), reading("2026-11-24", 61600)
    )

    assert told.startswith(
        "the reading 61,600 of 2026-11-24; three readings since September 2026; about "
    )
    assert " mi a year (" in told


def test_what_is_left_out_and_when_the_car_stood_is_told() -> None:
    told = said(
        reading("2026-09-05", 61000),
        reading("2026-10-15", 61400),
        reading("2026-11-24", 51600),
        laid_up=((day("2026-10-20"), None),),
    )

    assert "1 reading left out as odd" in told
    assert told.endswith("laid up since 2026-10-20, no end planned")


def test_a_rollover_counted_is_told_until_somebody_confirms_it() -> None:
    before, after = reading("2026-01-01", 98750), reading("2026-06-01", 430)

    assert said(before, after).endswith("; 1 rollover counted, to be confirmed")
    assert "rollover" not in said(before, replace(after, judged_right=True))


def test_an_estimate_inside_the_distance_itself_is_told() -> None:
    told = said(
        reading("2026-08-01", 61000),
        reading("2026-09-01", 61310),
        reading("2026-10-15", 140),
        reading("2026-11-20", 500),
        events=(
            Replaced(record=record("dial"), on=day("2026-10-01"), start=Decimal(0), last=None),
            FactorFrom(record=record("factor"), on=day("2026-11-01"), factor=Fraction("1.041")),
        ),
    )

    assert "what the old dial showed last is not known: 2026-09-01 to 2026-10-01" in told
    assert "the factor changed between two readings, on 2026-11-01: split by days" in told
