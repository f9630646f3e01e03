"""Ids of records: UUIDs of version 7, rising, as the RFC and the library make them."""

from itertools import count

import pytest
import uuid6

from castlenut.command.ids import RisingIds, uuid7


def test_the_example_of_the_rfc_comes_out() -> None:
    """RFC 9562, A.6: 0x017F22E279B0 ms, rand_a 0xCC3, rand_b 0b01 and 0x8C4DC0C0C07398F."""
    random = (0xCC3 << 64 | 0x18C4DC0C0C07398F).to_bytes(10, "big")

    assert uuid7(0x017F22E279B0, random) == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def test_bits_of_version_and_variant_are_not_left_to_chance() -> None:
    assert uuid7(0, b"\xff" * 10) == "00000000-0000-7fff-bfff-ffffffffffff"
    assert uuid7(0, bytes(10)) == "00000000-0000-7000-8000-000000000000"


def test_ids_rise_while_the_clock_stands_and_when_it_is_put_back() -> None:
    clock = iter([5_000_000, 5_000_000, 3_000_000, 9_000_000])
    new_id = RisingIds(lambda: next(clock), bytes)

    made = [new_id()[:13] for _ in range(4)]

    assert made == ["00000000-0005", "00000000-0006", "00000000-0007", "00000000-0009"]


def test_each_id_draws_anew() -> None:
    numbers = count(1)
    new_id = RisingIds(lambda: 0, lambda length: next(numbers).to_bytes(length, "big"))

    assert [new_id()[-1] for _ in range(3)] == ["1", "2", "3"]


def test_the_library_makes_the_same_of_the_same_chance(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of the library's 76 random bits the upper 12 and the lower 62 are used."""
    drawn = 0xABC << 64 | 0x123456789ABCDEF0
    monkeypatch.setattr("secrets.randbits", lambda _: drawn)

    theirs = uuid6.uuid7()

    assert uuid7(theirs.int >> 80, drawn.to_bytes(10, "big")) == str(theirs)
