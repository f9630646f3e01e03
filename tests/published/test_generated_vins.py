"""VINs against a general-purpose generator of valid ones (Faker), each seed fixed."""

from random import Random

import pytest
from faker import Faker

from castlenut.domain.vin import Check, Form, VehicleClass, check_digit, read_vin

SOURCE = "VINs made by Faker, check digit by 49 CFR 565"
COUNT = 500
# 8.01: what a character counts, written out apart from the code under test.
WORTH = dict(
    zip("0123456789ABCDEFGHJKLMNPRSTUVWXYZ", "012345678912345678123457923456789", strict=True)
)
WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)  # 8.02


def vins() -> list[str]:
    """Give 500 numbers, always the same."""
    made = Faker()
    made.seed_instance(1981)
    return [made.vin() for _ in range(COUNT)]


@pytest.mark.published("8.03", basis="C", source=SOURCE)
def test_check_digit_of_500_generated_numbers_holds() -> None:
    for vin in vins():
        found = read_vin(vin)

        assert (found.form, found.check, found.expected) == (Form.VIN, Check.HOLDS, vin[8])


@pytest.mark.published("8.03", basis="C", source=SOURCE)
def test_one_altered_character_fails_unless_its_sum_is_congruent() -> None:
    """A weight times the change of worth that 11 divides goes unseen: only worth kept does so.

    No weight is a multiple of 11 and no two worths differ by 11, so what goes unseen is another
    character of the same worth, such as A for J or 1, and nothing else.
    """
    chance = Random(565)
    seen = unseen = 0

    for vin in vins():
        position = chance.choice([each for each in range(17) if each != 8])
        other = chance.choice([each for each in WORTH if each != vin[position]])
        altered = vin[:position] + other + vin[position + 1 :]
        change = WEIGHTS[position] * (int(WORTH[other]) - int(WORTH[vin[position]]))
        found = read_vin(altered)
        if change % 11:
            assert found.check is Check.FAILS
            seen += 1
        else:
            assert found.check is Check.HOLDS
            assert WORTH[other] == WORTH[vin[position]]
            unseen += 1

    assert seen + unseen == COUNT
    assert seen > 400
    assert unseen > 10


@pytest.mark.published("8.03", basis="C", source=SOURCE)
def test_any_other_check_digit_fails() -> None:
    for vin in vins()[:50]:
        for digit in "0123456789X":
            check = read_vin(vin[:8] + digit + vin[9:]).check

            assert check is (Check.HOLDS if digit == vin[8] else Check.FAILS)


@pytest.mark.published("8.03", basis="C", source=SOURCE)
def test_check_digit_left_unread_is_found_again() -> None:
    for vin in vins():
        found = read_vin(vin[:8] + "?" + vin[9:])

        assert (found.check, found.expected) == (None, vin[8])
        assert check_digit(vin) == vin[8]


@pytest.mark.published("8.07", basis="C", source="VINs made by Faker")
@pytest.mark.published("8.08", basis="C", source="VINs made by Faker")
def test_years_of_a_trailer_are_30_apart_or_there_is_none() -> None:
    """I, O, Q, U, Z and 0 are no years; Faker puts U, Z and 0 at position 10 too."""
    for vin in vins():
        years = read_vin(vin, vehicle=VehicleClass.TRAILER).model_years

        if vin[9] in "UZ0":
            assert years == ()
        else:
            assert years[1] - years[0] == 30
            assert 1980 <= years[0] <= 2009
