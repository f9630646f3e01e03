"""What the tires of an axle carry together."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.tires.service import axle_load, read_service


def test_weakest_tire_counts_as_often_as_there_are_tires() -> None:
    """88 is 560 kg, 91 is 615."""
    found = axle_load([read_service("88H"), read_service("91T")], need_kg=540)

    assert (found.each_kg, found.axle_kg, found.speed_kmh) == ((560, 615), 1120, 190)
    assert (found.margin_kg, found.is_enough) == (20, True)


def test_exactly_enough_is_enough() -> None:
    assert axle_load([read_service("88H")], need_kg=560).is_enough is True
    assert axle_load([read_service("88H")], need_kg=560.5).is_enough is False


def test_without_a_need_nothing_is_said_of_enough() -> None:
    found = axle_load([read_service("88H")])

    assert (found.margin_kg, found.is_enough) == (None, None)


def test_tires_in_pairs_carry_by_their_second_index() -> None:
    """106 is 950 kg, 104 is 900."""
    tires = [read_service("106/104R")] * 4

    assert axle_load(tires).axle_kg == 3600
    assert axle_load(tires[:2]).axle_kg == 1900


def test_slowest_decides_by_speed_and_not_by_letter() -> None:
    assert axle_load([read_service("91H"), read_service("91U")]).speed_kmh == 200


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("88", "is no service description"),
        ("H88", "is no service description"),
        ("59H", "load index 59 has no figure"),
        ("127H", "load index 127 has no figure"),
        ("88I", "I is no speed symbol"),
        ("88/40I", "load index 40 has no figure"),
    ],
)
def test_service_description_that_is_none(text: str, what: str) -> None:
    with pytest.raises(BadInput) as raised:
        read_service(text)

    assert what in raised.value.faults[0].what


def test_all_faults_of_a_description_are_told() -> None:
    with pytest.raises(BadInput) as raised:
        read_service("59/40I")

    assert len(raised.value.faults) == 3
