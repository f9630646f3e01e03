"""What all forms share: fields in a column, faults under them, what follows, save and leave."""

import contextlib
from abc import abstractmethod
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.screen import ModalScreen
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Button, Static

from castlenut.domain.errors import BadInput, Fault
from castlenut.garage.car_record import CarRecord
from castlenut.garage.drafts import Draft, Saved, save
from castlenut.garage.garage import CannotRead, Garage
from castlenut.screens.outside import KeepsTyped
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.one_line import OneLine
from castlenut.store.faults import NotSaved

REST_SECONDS = 0.15
"""How long nothing is typed before the form is looked through."""

_FRAME = 4  # rows of a form that are not its fields: two of its frame, a space, [Save]
_LEAST_FIELDS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """What looking through a form found: what it would save and what follows, or its faults.

    `told` is what the change itself tells.
    """

    draft: Draft | None
    follows: tuple[str, ...]
    faults: tuple[Fault, ...]
    told: tuple[str, ...] = ()


class Form(KeepsTyped, ModalScreen[Saved | None]):
    """A form over a screen. It gives what was saved, or None when it was left."""

    AUTO_FOCUS: ClassVar[str | None] = ""  # what is typed while it opens goes into no other field
    HEAD: ClassVar[str] = ""
    CSS_PATH = "../styles/form.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+s", "save", "save"),
        Binding("escape", "leave", "leave"),
    ]

    @dataclass
    class LookedThrough(Message):
        """What is typed was looked through."""

        looked: Looked

    def __init__(self, garage: Garage) -> None:
        super().__init__()
        self.garage = garage
        self.is_looking = True
        """Whether what is typed is still being looked through."""
        self._began: CarRecord | None = None
        self._outside = ""
        self._rest: Timer | None = None
        self._has_asked = False
        self._has_tried = False

    # -- what a form gives ---------------------------------------------------------------------

    @abstractmethod
    def fields(self) -> Iterable[Widget]:
        """Give the fields, top to bottom."""

    @abstractmethod
    def question(self) -> Callable[[], Draft]:
        """Give what makes the change from what is typed now; called on another thread.

        It raises BadInput with all that is wrong.
        """

    def follows(self, draft: Draft) -> tuple[str, ...]:
        """Give what follows from the change, a line each; called on another thread."""
        return draft.told

    def heading(self) -> str:
        """Give the title of the form."""
        return self.HEAD

    def slug(self) -> str | None:
        """Give the car the form is about, if there is one already."""
        return None

    def tell_changed(self, slugs: tuple[str, ...]) -> None:
        """Say that the car changed outside while the form is open: what is typed stays."""
        slug = self.slug()
        if slug is not None and slug in slugs:
            self._outside = "changed on disk: what is typed stays"
            self._say(self._outside)
            self.is_looking = True
            self.look()

    # -- frame ---------------------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet form") as sheet:
            sheet.border_title = Content(plain(self.heading()))
            sheet.border_subtitle = Content("tab next  ^s save  esc leave")
            with VerticalScroll(classes="form-fields", can_focus=False):
                yield from self.fields()
            yield Static("", id="follows", markup=False)
            with Horizontal(id="form-end"):
                yield Button(Content("[Save]"), id="save", compact=True)
                yield OneLine(id="wanted")
                yield Button(Content("[Cancel]"), id="cancel", compact=True)

    def on_mount(self) -> None:
        slug = self.slug()
        if slug is not None:
            with GARAGE_TURN, contextlib.suppress(CannotRead):
                self._began = self.garage.car(slug)
        self.begin()
        self.look()

    def on_resize(self) -> None:
        self.call_after_refresh(self._leave_room)

    def _leave_room(self) -> None:
        """Let the fields scroll where they, what follows and [Save] do not all fit."""
        if self._is_open:
            follows = self.query_one("#follows")
            room = self.size.height - follows.outer_size.height - _FRAME
            self.query_one(".form-fields").styles.max_height = max(room, _LEAST_FIELDS)

    def begin(self) -> None:
        """Put the cursor where typing begins: into the first field."""
        self.go_on(None)

    def retitle(self) -> None:
        """Say the title anew, where it tells how far the form is."""
        self.query_one(".sheet").border_title = Content(plain(self.heading()))

    @property
    def typed(self) -> tuple[Field, ...]:
        """Give the fields that stand in the form now."""
        return tuple(self.query(Field))

    def field(self, name: str) -> Field:
        """Give a field by its name."""
        return next(each for each in self.typed if each.name == name)

    def text(self, name: str) -> str:
        """Give what is typed in a field."""
        return self.field(name).text

    # -- looking through it --------------------------------------------------------------------

    def on_field_changed(self, message: Field.Changed) -> None:
        self.take_change(message.field)
        self._has_asked = False
        self.is_looking = True
        if self._rest is not None:
            self._rest.stop()
        self._rest = self.set_timer(REST_SECONDS, self.look)

    def take_change(self, field: Field) -> None:
        """Follow a change of one field in the others."""

    @work(thread=True, exclusive=True, group="look")
    def look(self) -> None:
        """Find out, off the keys, what the form would save and what follows from it."""
        question = self.app.call_from_thread(self._question_while_open)
        if question is not None:
            self.post_message(self.LookedThrough(self.looked(question)))

    @property
    def _is_open(self) -> bool:
        """Tell whether the form stands there still: it may be left while it is looked through."""
        return bool(self.query("#follows"))

    def _question_while_open(self) -> Callable[[], Draft] | None:
        return self.question() if self._is_open else None

    def on_form_looked_through(self, message: LookedThrough) -> None:
        """Tell what was found, unless the form was left meanwhile."""
        if self._is_open:
            self._tell(message.looked)

    def looked(self, question: Callable[[], Draft]) -> Looked:
        """Give what a question comes to."""
        try:
            with GARAGE_TURN, self.garage.holding(self._began):
                draft = question()
                return Looked(draft=draft, follows=self.follows(draft), faults=(), told=draft.told)
        except BadInput as refused:
            return Looked(draft=None, follows=(), faults=refused.faults)

    def wanted(self, looked: Looked) -> tuple[Fault, ...]:
        """Give the faults that are to be told now."""
        return looked.faults

    def lacking(self) -> tuple[Fault, ...]:
        """Give what is not typed yet, and what no change tells because it would do without."""
        return ()

    def said(self, looked: Looked) -> Sequence[str]:
        """Give what is said above [Save], a line each."""
        return looked.follows

    def _tell(self, looked: Looked) -> None:
        self.is_looking = False
        said = self.said(looked)
        self.query_one("#follows", Static).update("\n".join(plain(each) for each in said))
        faults = (*self.lacking(), *self.wanted(looked))
        names = [self._name_of(fault) for fault in faults]
        told = f"to look at: {', '.join(dict.fromkeys(names))}" if names else ""
        self._say(told or self._outside)
        if self._has_tried:
            self._show_faults(faults)
        self.call_after_refresh(self._leave_room)

    def tell_faults(self, faults: tuple[Fault, ...]) -> None:
        """Show each fault under its field, and go to the first of them."""
        self._show_faults(faults)
        wrong = next((each for each in self.typed if each.has_fault), None)
        if wrong is not None:
            wrong.enter()

    def _name_of(self, fault: Fault) -> str:
        field = self.field_of(fault)
        return field.label.strip() if field is not None else fault.where

    def field_of(self, fault: Fault) -> Field | None:
        """Give the field that a fault is of; None where it is of none, or of several."""
        return next((each for each in self.typed if each.name == fault.where), None)

    def _show_faults(self, faults: tuple[Fault, ...]) -> None:
        for field in self.typed:
            field.fault("; ".join(_words(each) for each in faults if self.field_of(each) is field))
        apart = [each for each in faults if self.field_of(each) is None]
        if apart:
            self._say(f"x {apart[0].where}: {_words(apart[0])}")

    def _say(self, text: str) -> None:
        self.query_one("#wanted", OneLine).text = text

    # -- keys ----------------------------------------------------------------------------------

    async def on_field_entered(self, message: Field.Entered) -> None:
        await self.take_enter(message.field)

    async def take_enter(self, field: Field) -> None:
        """Go on to the next field."""
        self.go_on(field)

    def go_on(self, field: Field | None) -> None:
        """Go on from a field to the next one shown, None being before the first; last to [Save]."""
        fields = self.typed
        place = -1 if field is None or field not in fields else fields.index(field)
        following = next((each for each in fields[place + 1 :] if each.is_shown), None)
        if following is not None:
            following.enter()
        else:
            self.query_one("#save", Button).focus()

    async def on_button_pressed(self, event: Button.Pressed) -> None:
        event.stop()
        if event.button.id == "save":
            await self.action_save()
        else:
            self.dismiss(None)

    async def action_save(self) -> None:
        """Save, if nothing is wrong; else show what is, and go to the first of it."""
        self.save()

    def save(self) -> None:
        """Save what is typed; faults are shown instead, and nothing is lost."""
        self._has_tried = True
        looked, lacking = self.looked(self.question()), self.lacking()
        if looked.draft is None or lacking:
            self._tell(looked)
            self.tell_faults((*lacking, *looked.faults))
            return
        try:
            with GARAGE_TURN:
                saved = save(self.garage, looked.draft)
        except NotSaved as refused:
            self._say(f"x not saved: {refused}")
        else:
            self.dismiss(saved)

    def action_leave(self) -> None:
        """Leave without saving; in a changed form only at the second time."""
        if self._has_asked or not any(each.is_changed for each in self.typed):
            self.dismiss(None)
            return
        self._has_asked = True
        self._say("esc again leaves, and what is typed is lost")


def _words(fault: Fault) -> str:
    between = " " if fault.what.endswith("?") else "; "
    return f"{fault.what}{between}{fault.remedy}"
