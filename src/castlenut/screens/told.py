"""Lines told as a sheet over a screen: what to have on hand, whom to call, a job as recorded."""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from castlenut.domain.due import CarToday
from castlenut.domain.happenings import Job
from castlenut.garage.garage import CannotRead, Garage
from castlenut.garage.on_hand import parts_of_car
from castlenut.garage.ring import Ring, in_order, ring_of
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.words.jobs import job_card
from castlenut.words.on_hand import needed_line
from castlenut.words.ring import ring_line


class Told(ModalScreen[None]):
    """A head and lines under it; any of the leaving keys closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,q,enter", "dismiss", "back")]

    def __init__(self, head: str, lines: Sequence[str]) -> None:
        super().__init__()
        self._head = head
        self._lines = lines

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="help"):
            yield Static(plain(self._head), id="help-head", markup=False)
            yield Static("\n".join(map(plain, self._lines)), id="help-text", markup=False)


def parts_told(garage: Garage, slug: str) -> Told:
    """Give what to have on hand for a car."""
    with GARAGE_TURN:
        found = parts_of_car(garage, slug)
        car = garage.car(slug).car.vehicle.description
    lines = [needed_line(slug, each, has_car=False) for each in found]
    return Told(f"On hand for {car}", lines or ["No parts are needed for what is planned or due."])


def job_told(garage: Garage, today: CarToday, job: Job) -> Told:
    """Give a job as it was recorded, as on its card."""
    with GARAGE_TURN:
        lines = tuple(job_card(job, today.car, garage.book))
    return Told(f"Job of {today.car.vehicle.description}", lines)


def ring_told(garage: Garage) -> Told:
    """Give whom to call; a car that cannot be read is left out, as on the board it stands first."""
    found: list[Ring] = []
    for slug in garage.slugs():
        try:
            with GARAGE_TURN:
                ring = ring_of(garage, slug)
        except CannotRead:
            continue
        if ring is not None:
            found.append(ring)
    lines = [ring_line(each.today, each.reasons) for each in in_order(iter(found))]
    return Told("To ring", lines or ["Nobody has to be called."])
