"""VIN: 49 CFR part 565, old and new text, and reference pages."""

import pytest

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

TABLES = "49 CFR 565 Tables III and IV (older edition)"


@pytest.mark.published("8.01", basis="R", source=TABLES)
@pytest.mark.parametrize(
    ("letter", "value"),
    [
        *zip("ABCDEFGH", (1, 2, 3, 4, 5, 6, 7, 8), strict=True),
        *zip("JKLMN", (1, 2, 3, 4, 5), strict=True),
        ("P", 7),
        ("R", 9),
        *zip("STUVWXYZ", (2, 3, 4, 5, 6, 7, 8, 9), strict=True),
    ],
)
def test_letter_counts_as_its_digit(letter: str, value: int) -> None:
    assert check_digit(letter + "0" * 16) == check_digit(str(value) + "0" * 16)


@pytest.mark.published("8.02", basis="R", source=TABLES)
@pytest.mark.parametrize(
    ("position", "expected"),
    list(enumerate("8765432X098765432")),
)
def test_single_1_shows_the_weight_of_its_position(position: int, expected: str) -> None:
    """Weights 8 7 6 5 4 3 2 10 0 9 8 7 6 5 4 3 2; 10 is written X."""
    assert check_digit("0" * position + "1" + "0" * (16 - position)) == expected


@pytest.mark.published("8.03", basis="R", source=TABLES)
def test_first_published_case_gives_4() -> None:
    """Sum 411, 411 / 11 = 37 remainder 4."""
    assert check_digit("1G4AH59H?5G118341") == "4"


@pytest.mark.published(
    "8.04", basis="R", source="NHTSA Outline for new manufacturer information p.18"
)
def test_second_published_case_gives_6() -> None:
    """Sum 314 = 28 remainder 6."""
    assert read_vin("1J9RP1A36A1644345").check is Check.HOLDS


@pytest.mark.published("8.05", basis="R", source="49 CFR 565; one copy misprints .634 for 7/11")
@pytest.mark.parametrize(
    ("ending", "total", "decimal", "digit"),
    [
        ("40", 12, 0.091, "1"),
        ("80", 24, 0.182, "2"),
        ("10", 3, 0.273, "3"),
        ("50", 15, 0.364, "4"),
        ("90", 27, 0.455, "5"),
        ("20", 6, 0.545, "6"),
        ("60", 18, 0.636, "7"),
        ("04", 8, 0.727, "8"),
        ("30", 9, 0.818, "9"),
        ("05", 10, 0.909, "X"),
    ],
)
def test_decimals_of_elevenths_lead_to_the_digit(
    ending: str, total: int, decimal: float, digit: str
) -> None:
    """Positions 16 and 17 weigh 3 and 2."""
    assert round(total / 11 % 1, 3) == decimal
    assert check_digit("0" * 15 + ending) == digit


@pytest.mark.published("8.06", basis="C", source="common test numbers, from memory; sums computed")
@pytest.mark.parametrize(("vin", "digit"), [("1" * 17, "1"), ("1M8GDM9AXKP042788", "X")])
def test_common_test_numbers_hold(vin: str, digit: str) -> None:
    result = read_vin(vin)

    assert (result.check, result.expected) == (Check.HOLDS, digit)


@pytest.mark.published("8.07", basis="R2", source="several reference pages")
@pytest.mark.parametrize(
    ("code", "year"),
    [
        *zip("ABCDEFGH", range(1980, 1988), strict=True),
        *zip("JKLMN", range(1988, 1993), strict=True),
        ("P", 1993),
        *zip("RST", range(1994, 1997), strict=True),
        *zip("VWXY", range(1997, 2001), strict=True),
        *zip("123456789", range(2001, 2010), strict=True),
    ],
)
def test_position_10_is_the_model_year(code: str, year: int) -> None:
    assert model_years("0" * 9 + code + "0" * 7) == (year,)


@pytest.mark.published("8.07", basis="R2", source="several reference pages")
@pytest.mark.parametrize("code", "IOQUZ0")
def test_six_characters_are_never_a_year(code: str) -> None:
    assert model_years("0" * 9 + code + "0" * 7) == ()


@pytest.mark.published("8.08", basis="R2", source="several reference pages")
def test_codes_come_round_in_30_years() -> None:
    assert model_years("0" * 9 + "A" + "0" * 7, vehicle=VehicleClass.TRAILER) == (1980, 2010)


@pytest.mark.published("8.09", basis="R", source="49 CFR 565.25(b) old, 565.15(b) 2026 text")
def test_letter_at_position_7_is_the_later_cycle_for_cars() -> None:
    assert model_years("0" * 6 + "A" + "00" + "A" + "0" * 7) == (2010,)
    assert model_years("0" * 6 + "1" + "00" + "A" + "0" * 7) == (1980,)


@pytest.mark.published("8.09", basis="R", source="49 CFR 565.15(b), 2026 text")
@pytest.mark.parametrize(
    "vehicle", [VehicleClass.MOTORCYCLE, VehicleClass.TRAILER, VehicleClass.HEAVY_TRUCK]
)
def test_position_7_proves_nothing_of_heavy_trucks_motorcycles_trailers(
    vehicle: VehicleClass,
) -> None:
    assert len(model_years("0" * 9 + "K" + "0" * 7, vehicle=vehicle)) == 2


@pytest.mark.published("8.10", basis="R", source="73 FR 23367: made from 27 Oct 2008, A or B")
@pytest.mark.parametrize(("code", "year"), [("A", 2010), ("B", 2011)])
def test_years_of_the_changeover_are_told_by_a_letter_at_position_7(code: str, year: int) -> None:
    assert model_years("0" * 6 + "A" + "00" + code + "0" * 7) == (year,)


@pytest.mark.published("8.12", basis="R2", source="reference page: Ford and AMC used 0 for 1980")
def test_number_of_1980_with_0_at_its_year_is_not_refused() -> None:
    """An invented serial of 11 characters, and 17 characters whose position 10 holds a 0."""
    assert read_vin("0A12B345678").form is Form.SERIAL
    assert read_vin("1A23B45CX0D678901").form is Form.VIN
    assert read_vin("1A23B45CX0D678901").model_years == ()


@pytest.mark.published("8.11", basis="R2", source="reference pages")
def test_serial_of_1979_is_accepted_as_it_is() -> None:
    """Thirteen characters, invented."""
    result = read_vin("1A23B9C456789")

    assert (result.form, result.check) == (Form.SERIAL, None)


@pytest.mark.published("8.13", basis="R", source="49 CFR 565.15(a), 2026 text")
def test_9_at_position_3_is_a_small_maker_told_by_12_to_14_too() -> None:
    (note,) = read_vin("1J9RP1A36A1644345").notes

    assert note is VinNote.SMALL_MAKER
    assert "positions 12 to 14" in note.value


@pytest.mark.published("8.14", basis="M", source="common knowledge, from memory")
def test_check_digit_is_not_required_outside_north_america() -> None:
    """An invented number with Z at position 9, as some markets fill it."""
    assert read_vin("ABCZZZ12Z3A456789", market=Market.OTHER).check is None
