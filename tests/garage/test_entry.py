"""Days, dial figures, hours and money as they are typed, and what is refused."""

from datetime import date
from decimal import Decimal

import pytest

from castlenut.domain.dial import Dial
from castlenut.domain.errors import BadInput
from castlenut.domain.units import Unit
from castlenut.garage import entry

TODAY = date(2026, 11, 25)  # a Wednesday
MILES = Dial(unit=Unit.MI, digits=5, tenths=False)


def past(text: str, today: date = TODAY) -> date:
    return entry.day(text, today=today, past=True, field="on")


def to_come(text: str) -> date:
    return entry.day(text, today=TODAY, past=False, field="until")


def refusal(text: str, today: date = TODAY) -> str:
    with pytest.raises(BadInput) as raised:
        past(text, today)
    return str(raised.value.faults[0])


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2026-11-20", date(2026, 11, 20)),
        ("11-20", date(2026, 11, 20)),
        ("12-24", date(2025, 12, 24)),
        ("20", date(2026, 11, 20)),
        ("30", date(2026, 10, 30)),
        ("today", TODAY),
        ("yesterday", date(2026, 11, 24)),
        ("-3d", date(2026, 11, 22)),
        ("3d ago", date(2026, 11, 22)),
        ("2 weeks ago", date(2026, 11, 11)),
        ("-1m", date(2026, 10, 25)),
        ("1y ago", date(2025, 11, 25)),
        ("mon", date(2026, 11, 23)),
        ("Wednesday", date(2026, 11, 18)),
    ],
)
def test_a_past_day_is_the_last_one_meant(text: str, expected: date) -> None:
    assert past(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2027-02-28", date(2027, 2, 28)),
        ("+6m", date(2027, 5, 25)),
        ("12-24", date(2026, 12, 24)),
        ("mon", date(2026, 11, 30)),
        ("tomorrow", date(2026, 11, 26)),
    ],
)
def test_a_day_to_come_is_the_next_one_meant(text: str, expected: date) -> None:
    assert to_come(text) == expected


def test_months_are_counted_from_today_and_cut_to_the_month() -> None:
    assert past("-1m", date(2026, 3, 31)) == date(2026, 2, 28)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "2026-02-30",
            "on: '2026-02-30' is no day: February 2026 has 28 days; give a day from 1 to 28",
        ),
        ("2026-13-01", "on: '2026-13-01' is no day: there is no month 13; write it as"),
        ("3/4/26", "on: '3/4/26': which is the month?; write 2026-03-04 or 2026-04-03"),
        ("13/4/2026", "on: '13/4/2026': which is the month?; write 2026-04-13"),
        ("2026-12-01", "on: 2026-12-01 is after today, 2026-11-25; give a day past"),
        ("+3d", "on: 2026-11-28 is after today, 2026-11-25; give a day past"),
        ("soon", "on: 'soon' is no day; write it as 2026-11-25, 11-25, 25, today, yesterday,"),
        ("3d", "on: '3d' is no day;"),
        ("", "on: '' is no day;"),
        ("0001-01-01", "on: 0001-01-01 is before there were cars;"),
    ],
)
def test_what_is_no_past_day_is_refused(text: str, sentence: str) -> None:
    assert refusal(text).startswith(sentence)


def test_a_day_this_month_does_not_have_is_refused() -> None:
    assert refusal("31", date(2026, 3, 15)).startswith("on: '31' is no day: February 2026 has 28")


def test_of_a_date_of_make_the_year_or_month_is_enough() -> None:
    assert entry.period("2019", today=TODAY, field="made") == date(2019, 1, 1)
    assert entry.period("2019-04", today=TODAY, field="made") == date(2019, 4, 1)
    assert entry.period("2019-04-09", today=TODAY, field="made") == date(2019, 4, 9)


@pytest.mark.parametrize(
    ("text", "figure", "unit"),
    [
        ("61600", "61600", Unit.MI),
        ("61,600", "61600", Unit.MI),
        ("61 705", "61705", Unit.MI),
        ("61600 km", "61600", Unit.KM),
        ("61600.5", "61600.5", Unit.MI),
        ("+120", "61720", Unit.MI),
        ("0", "0", Unit.MI),
    ],
)
def test_a_dial_figure_is_kept_as_entered(text: str, figure: str, unit: Unit) -> None:
    found = entry.distance(text, MILES, field="figure", last=Decimal(61600))

    assert (found.figure, found.unit) == (Decimal(figure), unit)


def test_kilometers_since_the_last_reading_are_added_in_the_dial_s_unit() -> None:
    """100 km are 62.1 mi."""
    found = entry.distance("+100 km", MILES, field="figure", last=Decimal(500))

    assert (found.figure, found.unit) == (Decimal("562.1"), Unit.MI)


def test_a_figure_in_another_unit_is_converted_to_a_tenth_for_the_dial() -> None:
    found = entry.distance("1000", MILES, field="at", unit="km")

    assert entry.on_dial(found, MILES) == Decimal("621.4")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("abc", "figure: 'abc' is no dial figure;"),
        ("-5", "figure: '-5' is negative;"),
        ("123456", "figure: '123456' has more digits than the dial, which shows 5;"),
        ("61.7k", "figure: '61.7k': 'k' is no unit of distance; write the figure out in full"),
        ("100 furlongs", "figure: '100 furlongs': 'furlongs' is no unit of distance; use mi or km"),
        ("6,16", "figure: '6,16' is no number;"),
        ("1e5", "figure: '1e5' is no dial figure;"),
    ],
)
def test_what_a_dial_cannot_show_is_refused(text: str, sentence: str) -> None:
    with pytest.raises(BadInput) as raised:
        entry.distance(text, MILES, field="figure")

    assert str(raised.value.faults[0]).startswith(sentence)


def test_a_distance_since_the_last_reading_needs_one() -> None:
    with pytest.raises(BadInput, match=r"counts from the last reading, there is none"):
        entry.distance("+120", MILES, field="figure")


@pytest.mark.parametrize(
    ("text", "expected"),
    [("1.5", "1.5"), ("1:30", "1.5"), ("90m", "1.5"), ("2h", "2"), (".3", "0.3")],
)
def test_hours_are_read_in_three_ways(text: str, expected: str) -> None:
    assert entry.hours(text) == Decimal(expected)


@pytest.mark.parametrize("text", ["one", "-1", "1:75", "2000"])
def test_what_is_no_time_worked_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        entry.hours(text)


@pytest.mark.parametrize(
    ("text", "expected"), [("12", "12.00"), ("1,234.5", "1234.50"), ("$7", "7.00")]
)
def test_money_has_two_decimals(text: str, expected: str) -> None:
    assert entry.money(text, field="cost") == expected


@pytest.mark.parametrize("text", ["1.005", "-3", "free"])
def test_what_is_no_money_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        entry.money(text, field="cost")


def test_fields_are_read_in_order_and_faults_collected() -> None:
    assert dict(entry.pairs(["year=1971", "note=a=b"])) == {"year": "1971", "note": "a=b"}

    with pytest.raises(BadInput) as raised:
        entry.pairs(["year", "a=1", "a=2"])

    assert [str(fault) for fault in raised.value.faults] == [
        "fields: 'year' is no FIELD=VALUE; write as year=1971",
        "fields: a stands twice; give each field once",
    ]
