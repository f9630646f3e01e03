"""What can be chosen as a part: the kinds there are, and the parts on the car or on the shelf."""

from collections.abc import Mapping

from castlenut.domain.due import CarToday
from castlenut.domain.ids import short
from castlenut.domain.measures import MEASURES
from castlenut.domain.rules.rule import Figure
from castlenut.garage.garage import Garage
from castlenut.screens.component_rows import apart, fitted
from castlenut.screens.widgets.choice_field import ChoiceField

VEHICLE = "vehicle"


def kind_field(garage: Garage, name: str, label: str, value: str = "") -> ChoiceField:
    """Give a field for a kind of part, found by its other words, too."""
    kinds = garage.book.kinds
    return ChoiceField(
        name,
        label,
        names=[each for each in kinds if each != VEHICLE],
        also={each.name: " ".join(each.also_called) for each in kinds.values()},
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
    number, when it was made, and its maker's interval.
    """
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
