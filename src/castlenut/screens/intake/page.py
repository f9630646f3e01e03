"""The intake of a car: first how it is built, then its kinds of part, a page of them at a time."""

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widget import Widget

from castlenut.domain.happenings import Answer
from castlenut.domain.intake import Asked, Progress
from castlenut.domain.ticks import TICKS, tick_named, ticked
from castlenut.garage.changes.intake import draft_intake, intake_of, tick_line
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage
from castlenut.screens.intake.rows import (
    ANSWERS,
    KIND_COLUMNS,
    TICK_COLUMNS,
    Said,
    kind_rows,
    tick_rows,
)
from castlenut.screens.page import Page
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.field import Field
from castlenut.screens.widgets.head_line import HeadLine
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.store.faults import NotSaved
from castlenut.words.escape import one_line
from castlenut.words.intake import pages, progress_line, rank_words

BUILT = "how it is built"
ALL_HERE = "all here"
_NOTHING_LEFT = "Nothing is left to be asked. esc goes back"
_BOXES = {
    Answer.STATED.value: ("done on, at", "2025-03-01 41000; - not known; enter"),
    Answer.INSPECTED.value: ("good until", "a day, a dial figure, or both"),
    Answer.NOT_APPLICABLE.value: ("why not", "it never had one"),
    ALL_HERE: ("the rest done on, at", "2025-03-01 41000"),
}
"""The boxes typed in, by what they are for: label and an example."""


class IntakePage(Page):
    """Asks what is known of a car. Each page is saved as one change when it is left."""

    TITLE_WORDS: ClassVar[str] = "intake"
    ANSWERS: ClassVar[str] = (
        "What is known of a car that is taken on? First tick how it is built; that decides which"
        " kinds of part are asked for. Then each kind: 1 fitted or done on a day, 2 seen and good"
        " until, 3 not known, 4 does not apply. Leave it at any time: a page left is saved, and the"
        " car's first page goes on where you were."
    )
    CSS_PATH = "../styles/intake.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "choose", "choose"),
        Binding("enter", "next_page", "next page"),
        Binding("a", "all_unknown", "rest unknown"),
        Binding("f", "all_done", "rest done"),
        Binding("1", "answer(0)", "fitted or done on", show=False),
        Binding("2", "answer(1)", "seen, good until", show=False),
        Binding("3", "answer(2)", "not known", show=False),
        Binding("4", "answer(3)", "does not apply", show=False),
        Binding("escape", "back", "leave", show=False),
        Binding("q", "leave_for_board", "to the board", show=False),
    ]

    def __init__(self, garage: Garage, slug: str) -> None:
        super().__init__(garage)
        self.slug = slug
        with GARAGE_TURN:
            vehicle = garage.car(slug).car.vehicle
            self.progress: Progress = intake_of(garage, slug)
        self.description = one_line(vehicle.description)
        self.ticks = dict(ticked(vehicle))
        """What is ticked, saved or not."""
        self._saved_ticks = dict(self.ticks)
        self.page = next(iter(pages(self.progress.left)), "") if self.progress.is_begun else BUILT
        """The page that is open; empty: all is answered."""
        self.said: dict[str, Said] = {}
        """What was said on it, by kind and place."""
        self._asking: str | None = None

    def body(self) -> Iterable[Widget]:
        yield ItemTable(*TICK_COLUMNS, id="ticks")
        yield ItemTable(
            *KIND_COLUMNS, empty="Nothing is left to be asked. esc goes back", id="kinds"
        )
        for name, (label, example) in _BOXES.items():
            yield Field(name.replace("/", ""), label, width=26, remark=example)

    @property
    def table(self) -> ItemTable:
        """Give the list of the page that is open."""
        return self.query_one("#ticks" if self.page == BUILT else "#kinds", ItemTable)

    @property
    def found_in(self) -> ItemTable:
        return self.table

    def on_mount(self) -> None:
        self._open()

    # -- showing -------------------------------------------------------------------------------

    @property
    def here(self) -> Sequence[Asked]:
        """Give what the page that is open asks for."""
        return pages(self.progress.left).get(self.page, ())

    def _open(self) -> None:
        self.set_class(self.page == BUILT, "-built")
        self._show()
        self.table.focus()
        if self.table.keys:
            self.table.put_cursor(self.table.keys[0])
        self._tell_where()

    def _show(self) -> None:
        if self.page == BUILT:
            self.table.show(tick_rows(self.ticks))
        else:
            self.table.show(kind_rows(self.here, self.said))

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:
        """Ask anew what is left, where the car's file changed."""
        if changed is None or self.slug in changed:
            with GARAGE_TURN:
                self.progress = intake_of(self.garage, self.slug)
            self._show()

    def on_item_table_moved(self, _message: ItemTable.Moved) -> None:
        self._tell_where()

    def _tell_where(self) -> None:
        if self.page == BUILT:
            done, whole = len(self.ticks), len(TICKS)
        else:
            whole = sum(each.kind.part == self.page for each in self.progress.asked)
            done = whole - len(self.here) + len(self.said)
        line = self.query_one("#head", HeadLine)
        line.left = f"Intake: {self.description}  {self.page.lower()}, {done} of {whole}"
        asked = self._asked(self.table.cursor_key)
        line.right = "" if asked is None else rank_words(asked).partition(",")[0]

    def _asked(self, key: str | None) -> Asked | None:
        return next((each for each in self.here if each.name == key), None)

    # -- answering -----------------------------------------------------------------------------

    def action_answer(self, number: int) -> None:
        """Take the answer of that number for the row under the cursor."""
        key = self.table.cursor_key
        if key is None:
            return
        tick = tick_named(key) if self.page == BUILT else None
        if tick is not None:
            if number < len(tick.choices):
                self.ticks[key] = tick.choices[number].word
                self._go_on()
        elif self.page != BUILT:
            self._answer(ANSWERS[number])

    def action_choose(self) -> None:
        """Take the next answer of the row under the cursor."""
        key = self.table.cursor_key
        if key is None:
            return
        tick = tick_named(key) if self.page == BUILT else None
        if tick is not None:
            words = [each.word for each in tick.choices]
            word = self.ticks.get(key)
            self.ticks[key] = words[(words.index(word) + 1) % len(words) if word in words else 0]
            self._show()
            self._tell_where()
        elif self.page != BUILT:
            said = self.said.get(key)
            at = -1 if said is None else ANSWERS.index(said.answer)
            self._answer(ANSWERS[(at + 1) % len(ANSWERS)])

    def _answer(self, answer: Answer) -> None:
        if answer is Answer.UNKNOWN:
            self._say(Said(answer=answer))
        else:
            self._ask(answer.value)

    def _say(self, said: Said) -> None:
        """Take an answer for the row under the cursor, unless something is wrong with it."""
        asked = self._asked(self.table.cursor_key)
        if asked is None:
            return
        wrong = self._wrong_with({**self.said, asked.name: said}, asked.name)
        if wrong:
            self._refuse(wrong)
            return
        self.said[asked.name] = said
        self._close_box()
        self._go_on()

    def _wrong_with(self, said: dict[str, Said], last: str) -> str:
        """Say what is wrong with an answer, beside those before it; empty: nothing is."""
        before = [each.line(asked) for asked, each in self._with(said) if asked.name != last]
        mine = [each.line(asked) for asked, each in self._with(said) if asked.name == last]
        with GARAGE_TURN:
            draft = draft_intake(self.garage, self.slug, [*before, *mine])
        return "; ".join(f"{each.what}; {each.remedy}" for each in draft.faults)

    def _with(self, said: dict[str, Said]) -> list[tuple[Asked, Said]]:
        return [(each, said[each.name]) for each in self.here if each.name in said]

    def _refuse(self, wrong: str) -> None:
        if self._asking is None:
            self.tell(wrong, is_fault=True)
        else:
            self._box(self._asking).fault(wrong)

    def _go_on(self) -> None:
        self._show()
        self.tell("")
        self.table.action_move(1)
        self._tell_where()

    def action_all_unknown(self) -> None:
        """Say of all that is left on the page that nobody knows, and go on to the next page."""
        if self.page == BUILT:
            self.tell("all left not known: tick what you see, and enter; what is open stays open")
        elif self._say_of_all(Said(answer=Answer.UNKNOWN)):
            self.action_next_page()

    def action_all_done(self) -> None:
        """Ask when all that is left on the page was fitted or done."""
        if self.page != BUILT:
            self._ask(ALL_HERE)

    def _say_of_all(self, said: Said) -> bool:
        """Give one answer for all that has none; tell whether it could be."""
        all_of_it = {each.name: self.said.get(each.name, said) for each in self.here}
        wrong = self._wrong_with(all_of_it, "")
        if wrong:
            self._refuse(wrong)
            return False
        self.said = all_of_it
        self._close_box()
        self._show()
        self._tell_where()
        return True

    # -- the box that is typed in --------------------------------------------------------------

    def _box(self, name: str) -> Field:
        plain = name.replace("/", "")
        return next(each for each in self.query(Field) if each.name == plain)

    def _ask(self, name: str) -> None:
        if not self.here:
            return
        self._close_box()
        self._asking = name
        box = self._box(name)
        box.text = ""
        box.add_class("-asked")
        box.enter()

    def _close_box(self) -> None:
        if self._asking is not None:
            self._box(self._asking).fault("")
            self._box(self._asking).remove_class("-asked")
            self._asking = None
        self.table.focus()

    def on_field_entered(self, message: Field.Entered) -> None:
        """Take what was typed with the answer."""
        words = message.field.text
        if self._asking == ALL_HERE:
            self._say_of_all(Said(answer=Answer.STATED, words=words))
        elif self._asking is not None:
            self._say(Said(answer=Answer(self._asking), words=words))

    # -- from page to page ---------------------------------------------------------------------

    def action_next_page(self) -> None:
        """Save the page, and go on to the next one."""
        left = [BUILT, *pages(self.progress.left)]
        following = left[left.index(self.page) + 1 :] if self.page in left else []
        if not self._save():
            return
        now = pages(self.progress.left)
        self.page = next((each for each in (following or now) if each in now), "")
        if self.page:
            self._open()
        else:
            self._end(progress_line(self.progress))

    def _save(self) -> bool:
        """Save what was answered on the page as one change; tell whether it could be."""
        lines = [
            tick_line(tick, self.ticks[tick.name])
            for tick in TICKS
            if self.ticks.get(tick.name) != self._saved_ticks.get(tick.name)
        ]
        lines += [each.line(asked) for asked, each in self._with(self.said)]
        if not lines:
            return True
        try:
            with GARAGE_TURN:
                saved = save(self.garage, draft_intake(self.garage, self.slug, lines))
                self.progress = intake_of(self.garage, self.slug)
        except NotSaved as refused:
            self.tell(f"not saved: {refused}", is_fault=True)
            return False
        self._saved_ticks = dict(self.ticks)
        self.said = {}
        self.tell(f"saved: {saved.title}")
        return True

    def step_back(self) -> None:
        """Close the box; else save what is answered and leave."""
        if self._asking is not None:
            self._close_box()
        elif self._save():
            self._end(progress_line(self.progress) if self.progress.is_begun else "")

    def action_leave_for_board(self) -> None:
        """Save what is answered, and go back to the board."""
        if self._save():
            self.action_leave()

    def _end(self, told: str) -> None:
        app, slug = self.app, self.slug
        app.pop_screen()
        under = app.screen
        if isinstance(under, Page):
            under.show_anew(changed=(slug,))
            if told:
                under.tell(told)
