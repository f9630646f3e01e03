"""What all rows of a day's work share: a number, a word for what was done, fields of their own."""

from abc import abstractmethod
from collections.abc import Mapping, Sequence
from typing import ClassVar

from textual.containers import Vertical

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.item import Item
from castlenut.domain.naming import unique_name
from castlenut.domain.order import rows
from castlenut.garage.day_rows import Entry
from castlenut.garage.garage import Garage
from castlenut.screens.item_rows import places_of
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.field import Field


class WorkRow(Vertical):
    """One row. Its fields are named `NUMBER-FIELD`, so that a fault finds the row it is of."""

    WHAT: ClassVar[str]
    """The word for what the row records."""

    def __init__(self, garage: Garage, car: CarToday, number: int) -> None:
        super().__init__(classes="work-row")
        self.garage = garage
        self.car = car
        self.number = number

    @abstractmethod
    def entry(self) -> Entry | None:
        """Give what was typed; None for a row that was left empty.

        Raises:
            BadInput: an item, part or event is none that can be chosen.
        """

    def at(self, field: str) -> str:
        """Give the name of a field of this row."""
        return f"{self.number}-{field}"

    def text(self, field: str) -> str:
        """Give what is typed in a field of this row."""
        name = self.at(field)
        return next(each.text for each in self.query(Field) if each.name == name)

    @property
    def head(self) -> str:
        """Give the label of the first field: number and word."""
        return f"{self.number} {self.WHAT}"


class ItemRow(WorkRow):
    """A row about items of the car: chosen by title and place, or given by the list."""

    def __init__(
        self, garage: Garage, car: CarToday, number: int, items: Sequence[Item] = ()
    ) -> None:
        super().__init__(garage, car, number)
        self._given = tuple(items)
        self._choices = item_choices(car)

    def item_field(self) -> ChoiceField:
        """Give the field for the item."""
        return ChoiceField(
            self.at("item"),
            self.head,
            names=tuple(self._choices),
            also={
                name: " ".join(items[0].rule.also_called) for name, items in self._choices.items()
            },
            value=self._name_of_given(),
            width=44,
        )

    def _name_of_given(self) -> str:
        given = {item.id for item in self._given}
        return next(
            (name for name, items in self._choices.items() if {each.id for each in items} == given),
            "",
        )

    @property
    def is_empty(self) -> bool:
        """Tell whether no item is typed."""
        return not self.text("item")

    def items(self) -> tuple[Item, ...]:
        """Give the items chosen; none while what is typed is no item."""
        return self._choices.get(self.text("item"), ())

    def chosen(self) -> tuple[Item, ...]:
        """Give the items chosen.

        Raises:
            BadInput: what is typed is no item of this car.
        """
        found = self.items()
        if not found:
            raise BadInput(
                Fault(
                    f"{self.text('item')!r} is no item of this car",
                    self.at("item"),
                    "type part of its title, then enter",
                )
            )
        return found


def item_choices(car: CarToday) -> Mapping[str, tuple[Item, ...]]:
    """Give what can be chosen: title and places, with the items it stands for.

    Items of one title and place that stand apart are told apart by the end of their id.
    """
    found: dict[str, tuple[Item, ...]] = {}
    for row in rows(car.items):
        name = f"{row.first.rule.title}  {places_of(row).removeprefix('-')}".strip()
        if name in found:
            name = f"{name} {unique_name(row.first).rpartition('~')[2]}"
        found[name] = row.items
    return found
