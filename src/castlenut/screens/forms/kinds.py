"""What can be chosen as a part: the kinds there are, and the parts on the car or on the shelf."""

from collections.abc import Iterator, Mapping

from castlenut.domain.due import CarToday
from castlenut.domain.ids import short
from castlenut.domain.measures import MEASURES
from castlenut.domain.rules.rule import Assembly, Figure
from castlenut.garage.garage import Garage
from castlenut.screens.component_rows import apart, fitted
from castlenut.screens.widgets.choice_field import ChoiceField

VEHICLE = "vehicle"
_OF_THE_WHOLE = frozenset({"part", "made", "every"})


def kind_field(garage: Garage, name: str, label: str, value: str = "") -> ChoiceField:
    """Give a field for a kind of part or an assembly, found by its other words, too."""
    kinds, assemblies = garage.book.kinds, garage.book.assemblies
    words = {each.name: " ".join(each.also_called) for each in kinds.values()}
    for each in assemblies.values():
        words[each.name] = " ".join((words.get(each.name, ""), *each.also_called, *each.brings))
    return ChoiceField(
        name,
        label,
        names=[each for each in dict.fromkeys((*kinds, *assemblies)) if each != VEHICLE],
        also=words,
        value=value,
        width=28,
    )


def part_names(car: CarToday) -> Mapping[str, str]:
    """Give the parts on the car by name, with their records: `brake pad LF 9f2c61d0`."""
    return {
        _named(part.kind, str(part.place_on(car.today) or ""), short(part.record)): part.record
        for part in fitted(car)
    }


def shelf_names(car: CarToday) -> Mapping[str, str]:
    """Give the parts on the shelf by name, with their records."""
    return {
        _named(part.kind, str(part.place or ""), short(part.record)): part.record
        for part in apart(car, on_shelf=True)
    }


def _named(*words: str) -> str:
    return " ".join(word for word in words if word)


def fields_of_kind(garage: Garage, kind: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Give the fields a part of a kind has, each with its allowed values; none means free text.

    After its attributes come the figures that limits ask for as stamped on the part, its part
    number, when it was made, and its maker's interval. An assembly unfolds into those of its parts.
    """
    assembly = garage.book.assemblies.get(kind)
    if assembly is not None:
        return (*_unfolded(garage, assembly), ("part", ()), ("made", ()))
    return _fields_of_one(garage, kind)


def _unfolded(garage: Garage, assembly: Assembly) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Give the fields of each part that an assembly brings, but for what it is known for."""
    for kind in assembly.brings:
        known = assembly.attributes.get(kind, {})
        for name, values in _fields_of_one(garage, kind):
            if name not in known and name not in _OF_THE_WHOLE:
                yield f"{kind}.{name}", values


def _fields_of_one(garage: Garage, kind: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    if kind in LOOSE:
        own = (*LOOSE[kind], ("part", ()))
        return tuple((name, tuple(values)) for name, values in own)
    of = garage.book.kinds.get(kind)
    attributes = tuple((of.attributes if of else {}).items())
    limits = [
        limit for rule in garage.book.rules.values() if kind in rule.kinds for limit in rule.limits
    ]
    stamped = dict.fromkeys(
        f"stamped.{limit.measure}" for limit in limits if limit.value is Figure.STAMPED
    )
    is_worn = any(MEASURES[limit.measure].falls for limit in limits if limit.measure in MEASURES)
    plain = (*(("stamped.new",) if is_worn else ()), *stamped, "part", "made", "every")
    return (*attributes, *((name, ()) for name in plain))


LOOSE: Mapping[str, tuple[tuple[str, tuple[str, ...]], ...]] = {
    "tire": (
        ("size", ()),
        ("construction", ("radial", "bias belted", "bias")),
        ("tread", ("symmetric", "asymmetric", "directional")),
        ("turns", ("left", "right")),
        ("service", ()),
        ("tin", ()),
        ("new_depth", ()),
        ("make", ()),
    ),
    "wheel": (
        ("type", ("disc", "wire", "lock-ring", "heavy")),
        ("rim_width", ()),
        ("rim_diameter", ()),
        ("offset", ()),
    ),
}
"""Tires and wheels have records of their own, with these fields."""
