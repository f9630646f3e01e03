"""The frame that every screen has: head, body, message line, keys."""

from abc import abstractmethod
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen
from textual.widget import Widget
from textual.worker import Worker, WorkerState

from castlenut.garage.garage import Garage
from castlenut.screens.keys import named
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.head_line import HeadLine
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.screens.widgets.key_line import KeyLine
from castlenut.screens.widgets.message_line import MessageLine


class Page(Screen[None]):
    """A screen of the garage, and what all screens do in the same way.

    `TITLE_WORDS` name it in help, `ANSWERS` is the paragraph of help on what it answers.
    """

    AUTO_FOCUS: ClassVar[str | None] = ""
    TITLE_WORDS: ClassVar[str] = ""
    ANSWERS: ClassVar[str] = ""
    ALSO: ClassVar[tuple[tuple[str, str], ...]] = ()
    """What has no key and is found among the commands: its words and its action."""
    BINDINGS: ClassVar[list[BindingType]] = named(
        [
            Binding("slash", "find", "find"),
            Binding("question_mark", "help", "help"),
            Binding("escape", "back", "one step back", show=False),
            Binding("tab", "app.focus_next", "next pane", show=False, system=True),
            Binding("shift+tab", "app.focus_previous", "pane before", show=False, system=True),
            Binding("q", "leave", "back to the board", show=False),
            Binding("y", "copy", "copy the line", show=False),
        ]
    )

    def __init_subclass__(cls, **options: bool) -> None:
        """Name the bindings of a screen, before Textual puts them together."""
        if "BINDINGS" in cls.__dict__:
            cls.BINDINGS = named(cls.BINDINGS)
        super().__init_subclass__(**options)

    @dataclass
    class WentWrong(Message):
        """Work on another thread came to an unforeseen end."""

        error: Exception

    def __init__(self, garage: Garage) -> None:
        super().__init__()
        self.garage = garage

    def compose(self) -> ComposeResult:
        with GARAGE_TURN:
            is_read_only = not self.garage.folder.may_be_written()
        yield HeadLine(id="head", is_read_only=is_read_only)
        yield from self.body()
        yield MessageLine()
        yield KeyLine(id="keys")

    @abstractmethod
    def body(self) -> Iterable[Widget]:
        """Give what stands between the head and the message line."""

    @property
    def day(self) -> date:
        """Give the day it is."""
        return self.garage.surroundings.today

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        error = event.worker.error
        if event.state is WorkerState.ERROR and isinstance(error, Exception):
            self.post_message(self.WentWrong(error))

    # -- head and message ----------------------------------------------------------------------

    def say_where(self, left: str) -> None:
        """Say in the head where one is; the day stands at its right, and how much is found."""
        table, right = self.found_in, f"{self.day:%a} {self.day}"
        if table is not None and self.query_one(MessageLine).sought:
            seen, all_of_them = table.counts
            right = f"{seen} of {all_of_them} shown  {right}"
        line = self.query_one("#head", HeadLine)
        line.left, line.right = left, right

    def tell(self, text: str, *, is_fault: bool = False) -> None:
        """Say a result on the message line."""
        self.query_one(MessageLine).tell(text, is_fault=is_fault)

    @abstractmethod
    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Show what is recorded now; `changed`: the cars whose files changed, None for all."""

    # -- finding -------------------------------------------------------------------------------

    @property
    def found_in(self) -> ItemTable | None:
        """Give the list in which words are found: the one in focus, else the first."""
        if isinstance(self.focused, ItemTable):
            return self.focused
        return next(iter(self.query(ItemTable)), None)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002 (Textual's signature)
        """Leave out what cannot be done here: to find, where there is no list."""
        return action != "find" or self.found_in is not None

    def action_find(self) -> None:
        table = self.found_in
        if table is not None:
            self.query_one(MessageLine).open_find(table)

    def on_message_line_sought(self, message: MessageLine.Sought) -> None:
        """Show only what holds the words typed."""
        table, words = message.table, message.text.strip()
        table.find(words)
        if message.is_closed:
            table.focus()
        self.counted_anew()
        if words and not table.keys:
            near = table.nearest(words)
            self.tell(
                f'nothing has "{words}": esc shows all'
                + (f"; near: {', '.join(near)}" if near else "")
            )
        elif message.is_closed:
            self.tell("")

    def counted_anew(self) -> None:
        """Say in the head how many rows are shown."""

    # -- keys ----------------------------------------------------------------------------------

    def action_back(self) -> None:
        line = self.query_one(MessageLine)
        if line.is_finding or line.sought:
            line.close_find(keep=False)
        else:
            self.step_back()

    def step_back(self) -> None:
        """Go one step back: to the screen under this one."""
        self.app.pop_screen()

    def action_leave(self) -> None:
        while len(self.app.screen_stack) > 1:
            self.app.pop_screen()

    def action_copy(self) -> None:
        table = self.found_in
        line = table.cursor_line if table is not None else None
        if line is not None:
            self.app.copy_to_clipboard(line.copied())
            self.tell("copied the line")

    async def action_help(self) -> None:
        await self.app.run_action("app.open_help")

    async def open_car(self, slug: str) -> None:
        """Open a car over this screen, before any further key is taken."""
        await self.app.run_action(f"app.open_car({slug!r})")

    async def on_key(self, event: events.Key) -> None:
        """Let a capital act as its small letter: no key differs from another only by shift."""
        letter = event.character
        if letter is None or not (letter.isascii() and letter.isupper()):
            return
        active = self.active_bindings.get(letter.lower())
        if active is not None:
            event.stop()
            await self.app.run_action(active.binding.action, active.node)
