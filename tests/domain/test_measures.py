"""Measurements as typed: units, fractions, grooves, grades, and what is refused."""

from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.happenings import Grade
from castlenut.domain.measures import MEASURES, MM, Quantity, in_unit, quantity


def read(text: str, measure: str = "pad_thickness", *, depth_unit: str = "1/32 in") -> Quantity:
    return quantity(text, MEASURES[measure], depth_unit=depth_unit)


def refusal(text: str, measure: str = "pad_thickness") -> str:
    with pytest.raises(BadInput) as raised:
        read(text, measure)
    return str(raised.value.faults[0])


def test_a_figure_keeps_the_unit_it_was_given_in() -> None:
    assert read("4.5mm") == Quantity(
        values=(Decimal("4.5"),), unit="mm", resolution=Decimal("0.1"), grade=None
    )


def test_thirty_seconds_are_counted_not_converted() -> None:
    assert read("5/32", "tread_depth") == Quantity(
        values=(Decimal(5),), unit="1/32 in", resolution=Decimal(1)
    )


def test_another_fraction_is_of_an_inch_and_tells_its_own_step() -> None:
    """A bonded lining of 3/64 in is 0.046875 in, told to 1/64."""
    assert read("3/64 in", "lining_thickness") == Quantity(
        values=(Decimal("0.046875"),), unit="in", resolution=Decimal("0.015625")
    )


@pytest.mark.parametrize("text", ["7 7 6", "7/32 7/32 6/32", "7 7 6/32", "7 7 6 32nds"])
def test_three_grooves_are_three_figures(text: str) -> None:
    assert read(text, "tread_depth").values == (Decimal(7), Decimal(7), Decimal(6))
    assert read(text, "tread_depth").unit == "1/32 in"


def test_a_bare_depth_is_in_the_unit_of_the_garage() -> None:
    assert read("5.6", "tread_depth", depth_unit=MM).unit == "mm"
    assert read("6.5", "tread_depth").unit == "1/32 in"


def test_a_bare_figure_of_another_measure_is_in_its_own_unit() -> None:
    assert read("2.3", "wheel_lash", depth_unit=MM).unit == "in"


def test_a_mixed_number_is_read_whole() -> None:
    assert read("2-1/4 in", "wheel_lash").values == (Decimal("2.25"),)


def test_more_decimals_than_usual_tell_a_finer_step() -> None:
    assert read("0.0105 in", "bearing_end_play").resolution == Decimal("0.0001")


def test_a_freezing_point_may_be_negative() -> None:
    assert read("-20 F", "coolant_freeze").values == (Decimal(-20),)


@pytest.mark.parametrize(("text", "grade"), [("good", Grade.GOOD), ("Not  good", Grade.NOT_GOOD)])
def test_a_check_has_a_grade_and_no_figure(text: str, grade: Grade) -> None:
    assert quantity(text, None) == Quantity(grade=grade)


@pytest.mark.parametrize(
    ("text", "measure", "sentence"),
    [
        ("abc", "pad_thickness", "value: 'abc' is no pad thickness; write 5/32, 4.5 mm, 0.125 in"),
        ("-2", "wheel_lash", "value: '-2' is negative; write a figure of 0 or more"),
        ("4,5", "pad_thickness", "value: '4,5' has a comma; write a point before the decimals"),
        (
            "12.6 mm",
            "battery_volts",
            "value: '12.6 mm' has a unit that battery at rest is not measured in;",
        ),
        ("8 8 8 8", "tread_depth", "value: '8 8 8 8' has 4 figures, tread depth is one to 3;"),
        ("1/3 in", "pad_thickness", "value: '1/3 in' is no fraction a rule shows;"),
        ("1/0", "pad_thickness", "value: '1/0' divides by zero;"),
        ("7/32 6", "tread_depth", "value: '7/32 6' mixes fractions and figures;"),
        ("1/8", "battery_volts", "value: '1/8' is a fraction, battery at rest is not given so;"),
    ],
)
def test_what_cannot_be_is_refused_with_what_can(text: str, measure: str, sentence: str) -> None:
    assert refusal(text, measure).startswith(sentence)


def test_a_check_takes_no_figure() -> None:
    with pytest.raises(BadInput, match=r"is no result of a check"):
        quantity("4 mm", None)


@pytest.mark.parametrize(
    ("value", "given", "wanted", "expected"),
    [
        ("1", "in", "mm", Fraction(127, 5)),
        ("4", "1/32 in", "in", Fraction(1, 8)),
        ("25.4", "mm", "1/32 in", Fraction(32)),
        ("200", "ppm", "ppm", Fraction(200)),
        ("100", "C", "F", Fraction(212)),
        ("32", "F", "C", Fraction(0)),
    ],
)
def test_lengths_and_temperatures_convert_exactly(
    value: str, given: str, wanted: str, expected: Fraction
) -> None:
    assert in_unit(Decimal(value), given, wanted) == expected


def test_units_of_different_things_do_not_convert() -> None:
    assert in_unit(Decimal(1), "mm", "V") is None
