from decimal import Decimal

import pytest

from castlenut.store.values import canonical, number


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("41200", 41200),
        ("41200.0", 41200),
        ("4.12e4", 41200),
        ("-0.0", 0),
        ("0.10", Decimal("0.1")),
        ("41200.5", Decimal("41200.5")),
        ("0.12345678901234567890", Decimal("0.1234567890123456789")),
    ],
)
def test_a_number_is_read_exactly_and_a_whole_one_as_an_integer(
    text: str, value: int | Decimal
) -> None:
    found = number(text)

    assert found == value
    assert type(found) is type(value)


def test_a_number_that_overflows_is_refused() -> None:
    with pytest.raises(ValueError, match="overflows"):
        number("1e999")


def test_keys_are_sorted_and_nothing_is_padded() -> None:
    assert canonical({"b": 1, "a": [True, None, "x"]}) == '{"a":[true,null,"x"],"b":1}'


def test_decimals_are_written_with_their_own_digits() -> None:
    assert (
        canonical([Decimal("0.1"), Decimal("41200.5"), Decimal("0.875")]) == "[0.1,41200.5,0.875]"
    )


def test_a_number_with_more_digits_than_a_float_has_is_written_whole() -> None:
    assert canonical({"x": Decimal("0.1234567890123456789")}) == '{"x":0.1234567890123456789}'


def test_text_is_written_as_it_is_and_a_lone_surrogate_escaped() -> None:
    assert canonical("日本 ☃") == '"日本 ☃"'
    assert canonical("a\ud800b") == '"a\\ud800b"'


def test_one_and_true_are_two_values() -> None:
    one, true = [1], [True]

    assert canonical([*one]) != canonical([*true])
