"""Opened up: what is coming off is ticked above, what else lies behind it stands below at once.

What each is worth over all that follows is judged off the keys, and ranks them once it is known.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from time import monotonic
from typing import ClassVar

from textual import work
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static
from textual.worker import get_current_worker

from castlenut.domain.apart import Behind
from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput
from castlenut.domain.item import Item
from castlenut.domain.order import Row
from castlenut.garage.apart import Asked, Judged, apart_on, judged, weighing
from castlenut.garage.garage import Garage
from castlenut.screens.item_page import ItemPage
from castlenut.screens.opened_rows import (
    ACCESS_COLUMNS,
    BEHIND_COLUMNS,
    behind_line,
    in_order,
    places_off,
    told_of,
)
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.columns import Line
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.words import cautions, figures, working
from castlenut.words.apart import ALSO_OPEN
from castlenut.words.car_visits import title
from castlenut.words.escape import one_line
from castlenut.words.judged import figure_lines, in_a_word, judged_lines
from castlenut.words.visits import worth

LOOKING_SECONDS = 5.0
"""How long it is judged at the most; what is not proved by then is said so under w."""
_SECONDS_BETWEEN = 0.1  # at most ten times a second it is told how far that is
_NOT_OPENED = frozenset({"own", "gnd", "road", "out"})


class Opened(ItemPage):
    """What else is worth doing while it is apart."""

    TITLE_WORDS: ClassVar[str] = "opened up"
    ANSWERS: ClassVar[str] = (
        "What else while this is apart? Tick above what is coming off (space). Below stand at once"
        " the items behind it: worth first, then those with no record, then what is within reach"
        " as the car stands. space marks them there, enter takes the marked ones into the day's"
        " work, b books them. w has the figures: what each saves, over all that follows."
    )
    CSS_PATH = "styles/opened.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "tick", "off, or mark"),
        Binding("enter", "take", "day's work"),
        Binding("d", "record('done')", "day's work", show=False),
        Binding("b", "book", "book into a visit"),
        Binding("w", "figures", "figures"),
        Binding("tab", "app.focus_next", "the other list"),
        Binding("escape", "back", "back"),
    ]

    @dataclass
    class Weighed(Message):
        """How many were judged so far, of how many."""

        done: int
        of: int

    @dataclass
    class IsJudged(Message):
        """What each is worth was judged."""

        found: Judged

    def __init__(self, garage: Garage, today: CarToday) -> None:
        super().__init__(garage)
        self.car = today
        self.off: list[str] = []
        """What is ticked, as it is typed: `wheel LF`."""
        self._asked: Asked | None = None
        self._behind: tuple[Behind, ...] = ()
        self.judged: Judged | None = None
        """What each is worth, once it is judged."""

    def body(self) -> Iterable[Widget]:
        with Vertical(id="lists"):
            yield ItemTable(*ACCESS_COLUMNS, id="accesses")
            yield ItemTable(*BEHIND_COLUMNS, empty="Tick what is coming off: space", id="behind")
        yield Static("", id="remark", markup=False)

    @property
    def accesses(self) -> ItemTable:
        """Give the list of what can be taken off."""
        return self.query_one("#accesses", ItemTable)

    @property
    def behind(self) -> ItemTable:
        """Give the list of what lies behind."""
        return self.query_one("#behind", ItemTable)

    def on_mount(self) -> None:
        self._show()
        self.accesses.focus()

    # -- showing -------------------------------------------------------------------------------

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Reckon the car anew, and what lies behind with it."""
        if changed is None or self.car.car.vehicle.slug in changed:
            self._show()

    def _show(self) -> None:
        slug = self.car.car.vehicle.slug
        with GARAGE_TURN:
            self.car = self.garage.today(slug)
            self._asked = apart_on(self.garage, slug, self.off) if self.off else None
        self.accesses.show(self._access_lines())
        self.judged = None
        self.workers.cancel_group(self, "weighing")
        self._show_behind()
        if self._asked is not None and not self._behind:
            self.tell(f"Nothing else behind this within {self._asked.months} months.")
        elif self._asked is not None:
            self.weigh(self._asked)
        self.counted_anew()
        self._tell_caution()

    def counted_anew(self) -> None:
        takes = "" if self._asked is None else f": {figures.hours(self._asked.found.hours)}"
        self.say_where(f"Opened up: {one_line(self.car.car.vehicle.description)}{takes}")

    def _show_behind(self) -> None:
        self._behind = () if self._asked is None else in_order(self._asked, self.judged)
        self.behind.show(self._behind_lines())

    # -- what each is worth --------------------------------------------------------------------

    @work(thread=True, exclusive=True, group="weighing")
    def weigh(self, asked: Asked) -> None:
        """Judge, off the keys, what each is worth over all that follows."""
        worker, end = get_current_worker(), monotonic() + LOOKING_SECONDS
        told = [monotonic()]

        def tell(done: int, of: int) -> None:
            if not worker.is_cancelled and monotonic() - told[0] >= _SECONDS_BETWEEN:
                told[0] = monotonic()
                self.post_message(self.Weighed(done, of))

        try:
            with GARAGE_TURN:
                ready = weighing(self.garage, asked)
        except BadInput:
            # no open hours: it is ranked by what it saves today, and the settings say the rest
            return
        found = judged(
            ready, may_go_on=lambda: not worker.is_cancelled and monotonic() < end, tell=tell
        )
        if not worker.is_cancelled:
            self.post_message(self.IsJudged(found))

    def on_opened_weighed(self, message: Weighed) -> None:
        if self.judged is None and self.off:
            self.tell(f"reckoning what each is worth: {message.done} of {message.of}")

    def on_opened_is_judged(self, message: IsJudged) -> None:
        """Rank what lies behind by what it is worth, and say what to do together."""
        if not self.off:
            return
        self.judged = message.found
        self._show_behind()
        self.tell(next(judged_lines(message.found.found, message.found.items, in_full=False), ""))
        self._tell_caution()

    def _word(self, behind: Behind) -> str:
        return "" if self.judged is None else in_a_word(str(behind.item.id), self.judged.found)

    def _access_lines(self) -> Iterator[Line]:
        for access in self.garage.book.accesses.values():
            if access.key in _NOT_OPENED:
                continue
            for name in places_off(access, dual=self.car.car.vehicle.dual):
                is_off = name in self.off
                yield Line(
                    key=name,
                    cells=(
                        "[x]" if is_off else "[ ]",
                        name,
                        access.words,
                        figures.hours(access.hours),
                    ),
                    color="due" if is_off else "text",
                    name=name,
                )

    def _behind_lines(self) -> Iterator[Line]:
        heading = ""
        for each in self._behind:
            told = "" if each.is_there else ALSO_OPEN
            if told and told != heading:
                yield Line(key=f"heading {each.item.id}", cells=(told,), is_heading=True)
            heading = told
            yield behind_line(each, self._word(each))

    def on_item_table_moved(self, _message: ItemTable.Moved) -> None:
        self._tell_caution()

    def on_descendant_focus(self) -> None:
        self._tell_caution()

    def _tell_caution(self) -> None:
        at = self.row_at_hand()
        here = None if at is None else self._behind[at]
        keys = ("lift",) if here is None else here.item.rule.cautions
        told = [
            *([] if here is None else [told_of(here)]),
            " ".join(cautions.sentences(keys)[:1]) or cautions.DEFERRING_LINE,
        ]
        self.query_one("#remark", Static).update("\n".join(map(plain, told)))

    # -- what is at hand -----------------------------------------------------------------------

    def car_at_hand(self) -> CarToday:
        return self.car

    def rows_at_hand(self) -> tuple[Row, ...]:
        if not self.behind.has_focus:
            return ()
        return tuple(Row(items=(each.item,)) for each in self._behind)

    def row_at_hand(self) -> int | None:
        keys = [str(each.item.id) for each in self._behind]
        key = self.behind.cursor_key
        return keys.index(key) if self.behind.has_focus and key in keys else None

    def items_at_hand(self) -> tuple[Item, ...]:
        marked = tuple(
            each.item for each in self._behind if str(each.item.id) in self.behind.marked
        )
        return marked or super().items_at_hand()

    # -- keys ----------------------------------------------------------------------------------

    def action_take(self) -> None:
        """Take what is marked below into the day's work; above, tick it off or on."""
        if self.behind.has_focus:
            self.action_record("done")
        else:
            self.action_tick()

    def action_figures(self) -> None:
        """Open what each is worth in figures, and the working of the one under the cursor."""
        from castlenut.screens.text_page import TextPage

        told = tuple(self._figures())
        if not told:
            self.tell("figures: tick what is coming off first, and wait until it is reckoned")
            return
        at = self.row_at_hand()
        head = "Worth" if at is None else f"Worth: {title(self._behind[at].item)}"
        self.app.push_screen(TextPage(self.garage, head=head, right=str(self.day), told=told))

    def _figures(self) -> Iterator[str]:
        at, judged_now = self.row_at_hand(), self.judged
        here = None if at is None else self._behind[at].item
        if judged_now is not None:
            found, items = judged_now.found, judged_now.items
            each = next((each for each in found.ranked if here and each.item == str(here.id)), None)
            if each is not None:
                yield worth(each, {each.item: title(items[each.item])})
                yield from figure_lines(each)
                yield ""
            yield from judged_lines(found, items, in_full=True)
            if found.ranked and not judged_now.has_money:
                yield "no hourly_rate is set: an hour counts one, a visit as much as an hour"
            yield ""
        if here is not None:
            yield from working.lines(here, self.car.odometer.dial)

    def action_tick(self) -> None:
        if self.behind.has_focus:
            self.behind.mark()
            return
        name = self.accesses.cursor_key
        if name is None:
            return
        if name in self.off:
            self.off.remove(name)
        else:
            self.off.append(name)
        self.tell("")
        self._show()

    async def on_item_table_chosen(self, message: ItemTable.Chosen) -> None:
        message.table.focus()
        self.action_tick()
