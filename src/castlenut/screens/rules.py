"""The rules in force, whose each is, and what is wrong with the garage's own."""

import shlex
import subprocess
from collections.abc import Iterable
from pathlib import Path
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widget import Widget

from castlenut.domain.errors import Fault
from castlenut.domain.ids import RuleId
from castlenut.domain.rules.precedence import GARAGE_FILE
from castlenut.domain.rules.rule import Rule
from castlenut.garage.garage import Garage
from castlenut.screens.page import Page
from castlenut.screens.text_page import TextPage
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.columns import Column, Line
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.words import figures, rules
from castlenut.words.sources import sourced

_COLUMNS = (
    Column(head="rule", width=18, grow=1),
    Column(head="title", width=20, grow=2),
    Column(head="how often", width=24, grow=1),
    Column(head="whose", width=14, grow=0),
    Column(head="source", width=16, grow=3, least=100),
)
_FAULT = "fault "


class RulesPage(Page):
    """Every rule with how often and whose it is; the faults of the garage's own file on top."""

    TITLE_WORDS: ClassVar[str] = "rules"
    ANSWERS: ClassVar[str] = (
        "Which rules say when something falls due, and whose are they? Shipped ones come with the"
        " program; the garage changes them and adds its own in rules.toml. While that file has a"
        " fault the shipped rules alone are used. A rule for one car is written on its due page."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "open", "in full"),
        Binding("e", "edit", "edit rules.toml"),
        Binding("escape", "back", "back"),
    ]

    def __init__(self, garage: Garage, *, editor: str | None) -> None:
        """Show the rules; `editor` is the command line of the user's editor, if there is one."""
        super().__init__(garage)
        self._editor = editor

    def body(self) -> Iterable[Widget]:
        yield ItemTable(*_COLUMNS, id="rules")

    @property
    def table(self) -> ItemTable:
        """Give the list of rules."""
        return self.query_one("#rules", ItemTable)

    def on_mount(self) -> None:
        self.show_anew()
        self.table.focus()

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:  # noqa: ARG002 (rules are of no car)
        with GARAGE_TURN:
            self._faults = self.garage.rule_faults
            self._rules = dict(self.garage.book.rules)
        self.table.show(
            (
                *(_fault_line(number, each) for number, each in enumerate(self._faults)),
                *(_rule_line(each) for each in self._rules.values()),
            )
        )
        self.counted_anew()

    def counted_anew(self) -> None:
        own = sum(each.origin != "shipped" for each in self._rules.values())
        told = f"Rules  {figures.count(len(self._rules), 'rule')}, {own} own"
        if self._faults:
            told += f"; {GARAGE_FILE} has a fault: the shipped rules alone are used"
        self.say_where(told)

    async def on_item_table_chosen(self) -> None:
        self.action_open()

    def action_open(self) -> None:
        key = self.table.cursor_key
        if key is None:
            return
        if key.startswith(_FAULT):
            self.tell(str(self._faults[int(key.removeprefix(_FAULT))]), is_fault=True)
            return
        rule = self._rules[RuleId(key)]
        with GARAGE_TURN:
            shipped = self.garage.shipped_book.rules.get(rule.id)
        told = [*rules.lines(rule)]
        if shipped is not None and shipped != rule:
            told += ["", "As shipped:", *rules.lines(shipped)]
        self.app.push_screen(
            TextPage(self.garage, head=f"Rule {rule.id}", right=rules.mark(rule), told=told)
        )

    def action_edit(self) -> None:
        """Open rules.toml in the user's editor, at the first fault, and read it anew after."""
        file = self.garage.path / GARAGE_FILE
        if self._editor is None:
            self.tell(f"no editor is set (EDITOR): open {file} with any; it is read by itself")
            return
        at = next((line for each in self._faults if (line := _line_of(each))), None)
        self._run_editor(file, at)
        self.app.call_next(self._read_anew)

    def _run_editor(self, file: Path, at: int | None) -> None:
        command = shlex.split(self._editor or "")
        place = [f"+{at}"] if at is not None else []
        with self.app.suspend():
            # the user's own editor, as he named it
            subprocess.run([*command, *place, str(file)], check=False)  # noqa: S603

    def _read_anew(self) -> None:
        with GARAGE_TURN:
            self.garage.changed_files()
        for page in self.app.screen_stack:
            if isinstance(page, Page):
                page.show_anew()
        fault = next((str(each) for each in self._faults), None)
        self.tell(fault or f"{GARAGE_FILE}: read anew; no fault", is_fault=fault is not None)


def _line_of(fault: Fault) -> int | None:
    words = fault.where.replace(",", " ").split()
    after = [words[at + 1] for at, word in enumerate(words[:-1]) if word == "line"]
    return int(after[0]) if after and after[0].isdigit() else None


def _fault_line(number: int, fault: Fault) -> Line:
    return Line(key=f"{_FAULT}{number}", cells=(f"x  {fault}",), color="overdue", spans=True)


def _rule_line(rule: Rule) -> Line:
    return Line(
        key=rule.id,
        cells=(
            rule.id,
            rule.title,
            rules.interval(rule),
            rules.mark(rule),
            sourced(rule.source, rule.basis.value),
        ),
        color="quiet" if rule.off else "text",
        name=rule.title,
        sought=f"{' '.join(rule.kinds)} {' '.join(rule.also_called)}",
    )
