"""Paper for the owner and the bench, as it will print: due sheet, handover book, job card."""

from collections.abc import Callable
from typing import ClassVar

from textual.binding import Binding, BindingType

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput
from castlenut.garage.garage import Garage
from castlenut.garage.papers import due_sheet, handover_book, job_card, write_page
from castlenut.paper.paper import Kind, Paper
from castlenut.paper.text import lines
from castlenut.screens.text_page import TextPage
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.store.faults import NotSaved

_MAKE: dict[Kind, Callable[[Garage, str], Paper]] = {
    Kind.DUE_SHEET: due_sheet,
    Kind.HANDOVER_BOOK: handover_book,
    Kind.JOB_CARD: job_card,
}


class PaperPage(TextPage):
    """The papers of a car, one after the other; enter writes the one shown as a page."""

    TITLE_WORDS: ClassVar[str] = "paper"
    ANSWERS: ClassVar[str] = (
        "What goes on the counter, with the keys, or under the car? p shows the next of them;"
        " enter writes it as a page to be printed, into the folder paper of the garage."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "write", "write the page"),
        Binding("p", "other", "next paper"),
    ]

    def __init__(self, garage: Garage, today: CarToday) -> None:
        super().__init__(garage, head="", right="", told=())
        self._slug = today.car.vehicle.slug
        self._name = today.car.vehicle.description
        self._kinds = list(Kind)
        self._paper: Paper | None = None

    def on_mount(self) -> None:  # before that of the page of text, which shows the head
        self._show()

    def _show(self) -> None:
        kind = self._kinds[0]
        try:
            with GARAGE_TURN:
                self._paper = _MAKE[kind](self.garage, self._slug)
        except (BadInput, NotSaved) as refused:
            self.tell(str(refused), is_fault=True)
            return
        self.told = lines(self._paper)
        self._head, self._right = plain(f"{kind.value}: {self._name}"), f"{self.day:%a} {self.day}"
        self.show_head()
        self.lay_out(self.size.width)

    def action_other(self) -> None:
        self._kinds = [*self._kinds[1:], self._kinds[0]]
        self._show()
        self.query_one("#text-page").scroll_home(animate=False)

    def action_write(self) -> None:
        if self._paper is None:
            return
        try:
            with GARAGE_TURN:
                path = write_page(self.garage, self._paper)
        except (BadInput, NotSaved) as refused:
            self.tell(str(refused), is_fault=True)
            return
        self.tell(f"written: {path.relative_to(self.garage.path)}, in the folder of the garage")
