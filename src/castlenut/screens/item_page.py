"""What all screens do that show items of a car: open the working, record what was done."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import ModalScreen

from castlenut.domain.errors import BadInput
from castlenut.domain.vehicle import LAID_UP
from castlenut.screens.page import Page
from castlenut.screens.turn import GARAGE_TURN
from castlenut.store.faults import NotSaved

if TYPE_CHECKING:
    # Not loaded before the first screen is painted: what reckons is, only then.
    from castlenut.domain.component import Component
    from castlenut.domain.due import CarToday
    from castlenut.domain.item import Item
    from castlenut.domain.order import Row
    from castlenut.garage.drafts import Saved


class ItemPage(Page):
    """A screen with a car at hand, and mostly with an item of it under the cursor."""

    ALSO: ClassVar[tuple[tuple[str, str], ...]] = (
        ("ready: may it roll, what stands against it", "ready"),
        ("parts: what to have on hand for this car", "parts"),
        ("ring: whom to call, and why", "ring"),
        ("trip: what falls due before", "trip"),
        ("the year: what falls due when", "year"),
        ("intake: what is known, kind by kind", "intake"),
        ("convert: drums to discs, points to electronic, ...", "convert"),
        ("laid up: from a day, to a day", "layup"),
        ("exposed to wet, salt, dust, towing", "exposed"),
        ("room at the wheel: gaps measured", "room"),
        ("sold, or back again", "sold"),
        ("opened up: what else while it is apart", "open_up"),
        ("redo what was taken back", "redo"),
        ("history of what was changed", "history"),
        ("history of the settings", "settings_history"),
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w", "work", "working", show=False),
        Binding("d", "record('done')", "done, or the day's work", show=False),
        Binding("m", "record('measured')", "measured", show=False),
        Binding("x", "record('declined')", "declined", show=False),
        Binding("r", "reading", "odometer reading", show=False),
        Binding("f", "fit", "fit or take off a part", show=False),
        Binding("b", "book", "book into a visit", show=False),
        Binding("h", "record('happened')", "something happened", show=False),
        Binding("s", "stay", "in work, or over", show=False),
        Binding("t", "tread", "tread depths", show=False),
        Binding("p", "paper", "paper: sheet, book, card", show=False),
        Binding("u", "undo", "undo", show=False),
    ]

    @dataclass
    class TakenBack(Message):
        """A change was taken back, or brought back, or there was none: what is told of it."""

        saved: Saved | None
        told: str

    # -- what is at hand -----------------------------------------------------------------------

    @abstractmethod
    def car_at_hand(self) -> CarToday | None:
        """Give the car that a key would act on; None while there is none."""

    def rows_at_hand(self) -> tuple[Row, ...]:
        """Give the rows shown, top to bottom; none where no list of items is in focus."""
        return ()

    def row_at_hand(self) -> int | None:
        """Give the place of the row under the cursor among those rows."""
        return None

    def items_at_hand(self) -> tuple[Item, ...]:
        """Give the items that a key would act on: the marked ones, else those under the cursor."""
        at = self.row_at_hand()
        return () if at is None else self.rows_at_hand()[at].items

    def part_at_hand(self) -> Component | None:
        """Give the part under the cursor, where a list of parts is in focus."""
        return None

    # -- keys ----------------------------------------------------------------------------------

    async def action_work(self) -> None:
        if self.car_at_hand() is None or self.row_at_hand() is None:
            self.tell("working: put the cursor on an item first")
        else:
            await self.app.run_action("app.open_working")

    def action_record(self, what: str) -> None:
        today, items = self.car_at_hand(), self.items_at_hand()
        if today is None:
            self.tell(f"{what}: put the cursor on a car first")
            return
        if what in {"measured", "declined"} and not items:
            self.tell(f"{what}: put the cursor on an item first")
            return
        from castlenut.screens.forms.day import DayForm

        self.open_form(DayForm(self.garage, today, begin=what, items=items))

    def action_reading(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("reading: put the cursor on a car first")
            return
        from castlenut.screens.forms.reading import ReadingForm

        self.open_form(ReadingForm(self.garage, today))

    def action_fit(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("fit: put the cursor on a car first")
            return
        from castlenut.screens.forms.part import PartForm

        self.open_form(PartForm(self.garage, today, self.part_at_hand()))

    def action_book(self) -> None:
        today, items = self.car_at_hand(), self.items_at_hand()
        if today is None or not items:
            self.tell("book: put the cursor on an item first")
            return
        from castlenut.screens.forms.booking import BookForm

        self.open_form(BookForm(self.garage, today, items))

    def action_convert(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("convert: put the cursor on a car first")
            return
        from castlenut.screens.forms.convert import ConvertForm

        self.open_form(ConvertForm(self.garage, today))

    def action_stay(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("in work: put the cursor on a car first")
            return
        from castlenut.screens.forms.stay import StayForm

        self.open_form(StayForm(self.garage, today))

    def action_ready(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("ready: put the cursor on a car first")
            return
        from castlenut.screens.ready import Ready

        self.app.push_screen(Ready(self.garage, today))

    def action_paper(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("paper: put the cursor on a car first")
            return
        from castlenut.screens.paper import PaperPage

        self.app.push_screen(PaperPage(self.garage, today))

    def action_parts(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("parts: put the cursor on a car first")
            return
        from castlenut.screens.told import parts_told

        self.app.push_screen(parts_told(self.garage, today.car.vehicle.slug))

    def action_ring(self) -> None:
        from castlenut.screens.told import ring_told

        self.app.push_screen(ring_told(self.garage))

    def action_intake(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("intake: put the cursor on a car first")
            return
        from castlenut.screens.intake.page import IntakePage

        self.app.push_screen(IntakePage(self.garage, today.car.vehicle.slug))

    def action_layup(self) -> None:
        self.open_span_form(LAID_UP)

    def action_exposed(self) -> None:
        self.open_span_form("")

    def open_span_form(self, name: str) -> None:
        """Open the form for what the car at hand is exposed to."""
        today = self.car_at_hand()
        if today is None:
            self.tell(f"{name or 'exposed'}: put the cursor on a car first")
            return
        from castlenut.screens.forms.spans import SpanForm

        self.open_form(SpanForm(self.garage, today, name=name))

    def action_room(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("room: put the cursor on a car first")
            return
        from castlenut.screens.forms.room import RoomForm

        self.open_form(RoomForm(self.garage, today))

    def action_sold(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("sold: put the cursor on a car first")
            return
        from castlenut.screens.forms.sold import SoldForm

        self.open_form(SoldForm(self.garage, today))

    async def action_trip(self) -> None:
        if self.car_at_hand() is None:
            self.tell("trip: put the cursor on a car first")
        else:
            await self.app.run_action("app.open_trip")

    async def action_year(self) -> None:
        if self.car_at_hand() is None:
            self.tell("the year: put the cursor on a car first")
        else:
            await self.app.run_action("app.open_year")

    async def action_open_up(self) -> None:
        if self.car_at_hand() is None:
            self.tell("opened up: put the cursor on a car first")
        else:
            await self.app.run_action("app.open_up")

    def action_tread(self) -> None:
        today = self.car_at_hand()
        if today is None:
            self.tell("tread: put the cursor on a car first")
            return
        from castlenut.garage.tires import tires_of

        with GARAGE_TURN:
            tires = tires_of(self.garage, today.car.vehicle.slug)
        if all(each.tire is None for each in tires.standing):
            self.tell("tread: no tire is recorded on this car; f fits one")
            return
        from castlenut.screens.forms.tread import TreadForm

        self.open_form(TreadForm(self.garage, today, tires))

    def undoes_on(self) -> str | None:
        """Give the car whose latest change undo takes back; None for the latest of all."""
        return None

    def action_history(self) -> None:
        """Open the history of the car at hand; without one, of the garage's own record."""
        from castlenut.screens.history import HistoryPage

        car = self.car_at_hand()
        slug = None if car is None else car.car.vehicle.slug
        self.app.push_screen(HistoryPage(self.garage, slug))

    def action_settings_history(self) -> None:
        """Open the history of the garage's own record."""
        from castlenut.screens.history import HistoryPage

        self.app.push_screen(HistoryPage(self.garage, None))

    def action_undo(self) -> None:
        self.take_back("undo")

    def action_redo(self) -> None:
        self.take_back("redo")

    @work(thread=True, exclusive=True, group="undo", exit_on_error=False)
    def take_back(self, which: str) -> None:
        """Undo or redo, off the keys: the whole record may have to be read."""
        from castlenut.garage.undoing import redo, undo

        take = redo if which == "redo" else undo
        saved = None
        try:
            with GARAGE_TURN:
                saved = take(self.garage, self.undoes_on())
            told = "; ".join((saved.title, *saved.told))
        except BadInput as refused:
            told = f"{refused.faults[0].what}: {refused.faults[0].remedy}"
        except NotSaved as refused:
            told = str(refused)
        self.post_message(self.TakenBack(saved, told))

    def on_item_page_taken_back(self, message: TakenBack) -> None:
        """Say what was taken back, and show what is recorded now."""
        saved, pages = message.saved, self.app.screen_stack
        if saved is not None:
            slugs = tuple({each.vehicle for each in saved.records if each.vehicle})
            is_of_all = any(not each.vehicle for each in saved.records)
            with GARAGE_TURN:
                here = self.garage.slugs()
            if self.undoes_on() is not None and self.undoes_on() not in here:
                # The car itself was taken back: there is nothing left to show of it.
                self.action_leave()
                pages = self.app.screen_stack
            for page in pages:
                if isinstance(page, Page):
                    page.show_anew(changed=None if is_of_all else slugs)
        top = pages[-1]
        if isinstance(top, Page):
            top.tell(message.told, is_fault=saved is None)

    def open_form(self, form: ModalScreen[Saved | None]) -> None:
        """Open a form over this screen; what it saved is said, and shown."""
        self.app.push_screen(form, self.take_saved)

    def take_saved(self, saved: Saved | None) -> None:
        """Say what a form saved, and show what is recorded now."""
        if saved is not None:
            told = "".join(f"; {each}" for each in saved.told)
            self.tell(f"saved: {saved.title}  u takes it back{told}")
            self.show_anew(changed=(saved.slug,))
