"""Ways to shoe a car side by side: what it has now, and up to three typed beside it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.cells import cell_len
from textual import events, work
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.message import Message
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.tires.fitment import Fitment
from castlenut.domain.tires.on_a_car import OnACar, present
from castlenut.domain.tires.today import TiresToday
from castlenut.garage.fitments import compare_on_car
from castlenut.garage.garage import Garage
from castlenut.garage.tires import tires_of
from castlenut.screens.forms.form import REST_SECONDS
from castlenut.screens.page import Page
from castlenut.screens.tires.typed_way import HOW, read_way
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.columns import MARGIN, Column, Line
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.words import fitment as words
from castlenut.words import rooms
from castlenut.words.cautions import DEFERRING_LINE

NAMES = ("A", "B", "C")
_LABEL, _WIDEST_LABEL, _WIDEST = 20, 24, 22
_BOX, _ROUND_BOX = 20, 7  # cells of a box, and of what stands round it


class ComparePage(Page):
    """Columns are ways to shoe the car; the better figure of a row is marked."""

    TITLE_WORDS: ClassVar[str] = "compare fitment"
    ANSWERS: ClassVar[str] = (
        "What does another size or wheel give, lose and cost against what the car has now? Type"
        " sizes above; < marks the better figure. Reasons and what to mind stand under w."
    )
    CSS_PATH = "../styles/compare.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w", "reasons", "reasons"),
        Binding("e", "type", "type sizes"),
        Binding("escape,c", "back", "back"),
    ]

    @dataclass
    class Compared(Message):
        """What is typed was held against what the car has."""

        found: OnACar | None
        faults: tuple[Fault, ...]

    def __init__(self, garage: Garage, slug: str, description: str) -> None:
        super().__init__(garage)
        self.slug = slug
        self._description = description
        self.found: OnACar | None = None
        """The comparison, once it is made."""
        self.is_looking = True
        """Whether what is typed is still being looked at."""
        self._rest: Timer | None = None

    def body(self) -> Iterable[Widget]:
        with Horizontal(id="ways"):
            for name in NAMES:
                yield Field(name, name, width=_BOX)
        yield Static(HOW, id="how", markup=False)
        yield ItemTable(id="rows")

    def on_mount(self) -> None:
        self.say_where(f"Compare fitment: {self._description}")
        self._field(NAMES[0]).enter()
        self._ask()

    def on_resize(self, event: events.Resize) -> None:
        for field in self.query(Field):
            field.box.styles.width = max(event.size.width // len(NAMES) - _ROUND_BOX, 8)

    def _field(self, name: str) -> Field:
        return next(each for each in self.query(Field) if each.name == name)

    # -- comparing -----------------------------------------------------------------------------

    def on_field_changed(self, _message: Field.Changed) -> None:
        self.is_looking = True
        if self._rest is not None:
            self._rest.stop()
        self._rest = self.set_timer(REST_SECONDS, self._ask)

    def on_field_entered(self, message: Field.Entered) -> None:
        """Go on to the next field, from the last one to the rows."""
        fields = list(self.query(Field))
        at = fields.index(message.field)
        if at + 1 < len(fields) and message.field.text:
            fields[at + 1].enter()
        else:
            self.query_one(ItemTable).focus()

    def _ask(self) -> None:
        self.compare([(each.label, each.text) for each in self.query(Field) if each.text])

    @work(thread=True, exclusive=True, group="compare")
    def compare(self, typed: Sequence[tuple[str, str]]) -> None:
        """Hold what is typed against what the car has, off the keys."""
        try:
            with GARAGE_TURN:
                now = present(tires_of(self.garage, self.slug))
                ways: list[tuple[str, Fitment]] = []
                faults: list[Fault] = []
                for name, text in typed:
                    try:
                        ways.append((name, read_way(text, now, name=name)))
                    except BadInput as bad:
                        faults.extend(bad.faults)
                found = compare_on_car(self.garage, self.slug, ways)
        except BadInput as refused:
            self.post_message(self.Compared(None, refused.faults))
        else:
            self.post_message(self.Compared(found, tuple(faults)))

    def on_compare_page_compared(self, message: Compared) -> None:
        self.is_looking = False
        self.found = message.found
        for field in self.query(Field):
            own = [each for each in message.faults if each.where == field.name]
            field.fault("; ".join(f"{each.what}; {each.remedy}" for each in own))
        apart = [each for each in message.faults if each.where not in NAMES]
        self.tell(f"{apart[0].what}; {apart[0].remedy}" if apart else "", is_fault=bool(apart))
        table = self.query_one(ItemTable)
        if message.found is None:
            table.show(())
            return
        names = [way.name for way in message.found.ways]
        table.columns = (
            Column(head="", width=_LABEL, grow=1, fits=True),
            *(Column(head=name, width=12, grow=2, fits=True) for name in names),
        )
        # on a wide terminal the figures stay beside their labels
        wanted = MARGIN + _WIDEST_LABEL + _WIDEST * len(names)
        widest = rooms.widest_words(message.found.widest, message.found.rooms)
        table.styles.max_width = max(wanted, MARGIN + cell_len(widest))
        table.show(_lines(message.found))

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Compare anew, if the car's file is among those changed."""
        if changed is None or self.slug in changed:
            self._ask()

    # -- keys ----------------------------------------------------------------------------------

    def action_type(self) -> None:
        empty = next((each for each in self.query(Field) if not each.text), None)
        (empty or self._field(NAMES[0])).enter()

    def action_reasons(self) -> None:
        if self.found is None:
            self.tell("nothing is compared yet")
            return
        from castlenut.screens.tires.told import ReasonsPage

        self.app.push_screen(
            ReasonsPage(
                self.garage,
                head=f"Compare fitment: {self._description}",
                right="",
                told=tuple(_told(self.found)),
            )
        )


def _lines(found: OnACar) -> Iterator[Line]:
    for row in words.rows(found.ways, unit=found.tires.unit):
        cells = tuple(
            f"{cell} {words.BEST}" if number in row.best else cell
            for number, cell in enumerate(row.cells)
        )
        yield Line(key=row.label, cells=(row.label, *cells), color="quiet", name=row.label)
    widest = rooms.widest_words(found.widest, found.rooms)
    yield Line(key="widest", cells=(widest,), spans=True, name="widest that fits")


def _told(found: OnACar) -> Iterator[str]:
    yield from words.sentences(found.ways)
    yield ""
    yield rooms.widest_words(found.widest, found.rooms)
    yield from rooms.to_mind(found.rooms, found.ways[0].front_left)
    yield from words.car_notes(found)
    codes = list(dict.fromkeys(code for way in found.ways for code in way.compared.assumed))
    if codes:
        yield words.assumed(codes)
    yield DEFERRING_LINE


def compare_page(garage: Garage, tires: TiresToday) -> ComparePage:
    """Give the page for a car."""
    vehicle = tires.car.vehicle
    return ComparePage(garage, vehicle.slug, vehicle.description)
