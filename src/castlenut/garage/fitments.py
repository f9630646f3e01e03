"""Ways to shoe a car of the garage, held against what it carries."""

from collections.abc import Sequence

from castlenut.domain.tires.fitment import Fitment
from castlenut.domain.tires.on_a_car import OnACar, on_a_car
from castlenut.domain.tires.rooms import ALIGNMENT
from castlenut.garage.garage import Garage
from castlenut.garage.tires import tires_of


def compare_on_car(garage: Garage, slug: str, ways: Sequence[tuple[str, Fitment]]) -> OnACar:
    """Hold ways to shoe a car against what it carries, with the room measured round its wheels.

    Raises:
        BadInput: what it carries is not known, or not one fitment.
        CannotRead: its file cannot be read.
    """
    rules = frozenset(rule.id for rule in garage.book.about((ALIGNMENT,)))
    return on_a_car(tires_of(garage, slug), ways, alignment_rules=rules)
