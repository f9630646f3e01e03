"""A frozen class made quickly is what the library's own would be."""

import dataclasses
from collections.abc import Mapping

import pytest

from castlenut.domain.frozen import dataclass, field, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """An invented part."""

    kind: str
    place: str | None = None
    stamped: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Pair:
    """Two fields in their order, checked when one is made."""

    first: int
    second: int = 2

    def __post_init__(self) -> None:
        if self.first > self.second:
            raise ValueError("falls")


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Week:
    """One of those that have an order."""

    year: int
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Tire:
    """One of more fields: these are made another way."""

    width: int
    aspect: int
    rim: int
    marks: list[str] = field(default_factory=list)
    load: int = 82

    def __post_init__(self) -> None:
        if self.rim > self.width:
            raise ValueError("no tire")


def test_values_are_equal_by_their_fields_and_their_class() -> None:
    assert Pair(1, 3) == Pair(first=1, second=3)
    assert Pair(1, 3) != Pair(1, 4)
    assert Pair(1, 2) != Week(year=1, number=2)  # type: ignore[comparison-overlap]  # that is it
    assert hash(Pair(1, 3)) == hash(Pair(1, 3))


def test_defaults_are_given_and_made_anew() -> None:
    one, other = Part(kind="hub"), Part(kind="hub")

    assert one.place is None
    assert one.stamped == {}
    assert one.stamped is not other.stamped


def test_what_is_missing_or_too_much_is_refused() -> None:
    with pytest.raises(TypeError, match="kind"):
        Part()  # type: ignore[call-arg]  # that is the point
    with pytest.raises(TypeError, match="color"):
        Part(kind="hub", color="red")  # type: ignore[call-arg]  # that is the point
    with pytest.raises(TypeError):
        Part("hub")  # type: ignore[call-arg]  # by name only


def test_the_check_after_making_is_done_for_every_value() -> None:
    assert Pair(1, 1).second == 1
    with pytest.raises(ValueError, match="falls"):
        Pair(3)
    with pytest.raises(ValueError, match="falls"):
        replace(Pair(1), first=5)


def test_nothing_can_be_set_added_or_deleted() -> None:
    part = Part(kind="hub")

    with pytest.raises(dataclasses.FrozenInstanceError):
        part.kind = "drum"  # type: ignore[misc]  # that is the point
    with pytest.raises(dataclasses.FrozenInstanceError):
        part.color = "red"  # type: ignore[attr-defined]  # that is the point
    with pytest.raises(dataclasses.FrozenInstanceError):
        del part.kind
    assert not hasattr(part, "__dict__")


def test_one_of_many_fields_is_as_closed_as_any() -> None:
    tire = Tire(width=185, aspect=65, rim=14)

    assert type(tire) is Tire
    assert (tire.width, tire.aspect, tire.rim, tire.marks, tire.load) == (185, 65, 14, [], 82)
    assert tire.marks is not Tire(width=185, aspect=65, rim=14).marks
    assert tire == Tire(width=185, aspect=65, rim=14)
    assert replace(tire, load=84).load == 84
    with pytest.raises(dataclasses.FrozenInstanceError):
        tire.load = 84  # type: ignore[misc]  # that is the point
    with pytest.raises(dataclasses.FrozenInstanceError):
        tire.color = "black"  # type: ignore[attr-defined]  # that is the point
    assert not hasattr(tire, "__dict__")
    with pytest.raises(ValueError, match="no tire"):
        Tire(width=185, aspect=65, rim=400)


def test_a_replaced_value_keeps_the_rest() -> None:
    part = Part(kind="hub", place="LF")

    assert replace(part, place="RF") == Part(kind="hub", place="RF")
    assert dataclasses.replace(part, place="RF") == Part(kind="hub", place="RF")
    with pytest.raises(TypeError, match="color"):
        replace(part, color="red")  # type: ignore[call-arg]  # that is the point


def test_the_librarys_functions_know_its_fields() -> None:
    assert [each.name for each in dataclasses.fields(Part)] == ["kind", "place", "stamped"]
    assert dataclasses.is_dataclass(Part(kind="hub"))


def test_order_goes_field_by_field() -> None:
    assert Week(year=2020, number=52) < Week(year=2021, number=1)
    assert max(Week(year=2020, number=3), Week(year=2020, number=14)).number == 14
    with pytest.raises(TypeError):
        assert Pair(1) < Pair(2)  # type: ignore[operator]  # that is the point


def test_places_can_be_matched_in_order() -> None:
    match Pair(1, 7):
        case Pair(first, second):
            assert (first, second) == (1, 7)


def test_its_text_is_the_librarys() -> None:
    assert repr(Part(kind="hub", place="LF")) == "Part(kind='hub', place='LF', stamped={})"


def test_a_class_that_is_not_frozen_is_refused() -> None:
    with pytest.raises(TypeError, match="not frozen"):
        dataclass(frozen=False, slots=True)


def test_a_field_of_the_library_is_refused() -> None:
    with pytest.raises(TypeError, match="same module"):

        @dataclass(frozen=True, slots=True)
        class Mixed:
            stamped: Mapping[str, str] = dataclasses.field(default_factory=dict)
