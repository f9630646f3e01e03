"""Vehicle numbers. The published figures are in tests/published/. Numbers here are invented."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.vin import (
    Check,
    Form,
    Market,
    VehicleClass,
    VinNote,
    check_digit,
    model_years,
    read_vin,
)

HOLDS = "1J9RP1A36A1644345"


def test_number_that_holds_has_nothing_to_say() -> None:
    result = read_vin(HOLDS)

    assert (result.form, result.check) == (Form.VIN, Check.HOLDS)
    assert (result.expected, result.found) == ("6", "6")
    assert result.notes == (VinNote.SMALL_MAKER,)


def test_number_of_a_large_maker_that_holds_has_nothing_to_say() -> None:
    assert read_vin("1M8GDM9AXKP042788").notes == ()


def test_9_at_position_3_says_nothing_outside_north_america() -> None:
    assert read_vin(HOLDS, market=Market.OTHER).notes == (VinNote.TWO_CYCLES,)


def test_lower_case_spaces_and_hyphens_are_read() -> None:
    result = read_vin(" 1j9 rp1a36-a1644345 ")

    assert result.number == HOLDS
    assert result.check is Check.HOLDS
    assert result.notes == (VinNote.SPACES_LEFT_OUT, VinNote.SMALL_MAKER)


def test_one_character_misread_fails() -> None:
    result = read_vin("1J9RP1A36A1644346")

    assert result.check is Check.FAILS
    assert (result.expected, result.found) == ("8", "6")
    assert VinNote.FAILS in result.notes


def test_letter_o_is_told_as_a_misread_zero() -> None:
    result = read_vin("1J9RP1O36A1644345")

    assert (result.form, result.check, result.expected) == (Form.VIN, Check.FAILS, None)
    assert VinNote.LETTERS in result.notes


def test_serial_of_an_older_car_is_kept_as_it_stands() -> None:
    result = read_vin("13n67-4a123456")

    assert result.form is Form.SERIAL
    assert result.number == "13N67-4A123456"
    assert result.check is None
    assert result.model_years == ()
    assert result.notes == (VinNote.SERIAL,)


def test_seventeen_characters_with_other_signs_are_a_serial() -> None:
    assert read_vin("1J9RP1A36A16443/5").form is Form.SERIAL


def test_question_mark_stands_for_a_check_digit_not_read() -> None:
    result = read_vin("1J9RP1A3?A1644345")

    assert (result.check, result.expected, result.found) == (None, "6", None)


def test_question_mark_elsewhere_is_a_serial() -> None:
    assert read_vin("?J9RP1A36A1644345").form is Form.SERIAL


def test_other_market_makes_a_failure_say_nothing() -> None:
    result = read_vin("1J9RP1A36A1644346", market=Market.OTHER)

    assert result.check is None
    assert VinNote.NOT_REQUIRED in result.notes


def test_other_market_may_still_hold() -> None:
    assert read_vin(HOLDS, market=Market.OTHER).check is Check.HOLDS


@pytest.mark.parametrize(
    "vehicle", [VehicleClass.HEAVY_TRUCK, VehicleClass.MOTORCYCLE, VehicleClass.TRAILER]
)
def test_position_7_proves_nothing_of_other_vehicles(vehicle: VehicleClass) -> None:
    result = read_vin(HOLDS, vehicle=vehicle)

    assert result.model_years == (1980, 2010)
    assert VinNote.TWO_CYCLES in result.notes


def test_position_10_without_a_year_code_has_no_year() -> None:
    """U, Z and 0 are never year codes."""
    result = read_vin("1J9RP1A36U1644345")

    assert result.model_years == ()
    assert VinNote.NO_YEAR in result.notes


def test_last_year_of_the_second_cycle() -> None:
    assert model_years("AAAAAAAAA9AAAAAAA") == (2039,)


def test_position_9_has_no_weight() -> None:
    assert {check_digit(HOLDS[:8] + any_digit + HOLDS[9:]) for any_digit in "0123X?"} == {"6"}


@pytest.mark.parametrize("text", ["", "   ", "1" * 41])
def test_nothing_and_far_too_much_are_refused(text: str) -> None:
    with pytest.raises(BadInput, match="vin"):
        read_vin(text)
