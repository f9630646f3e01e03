"""The first start: no garage is there yet, and nothing is made before it is asked for."""

from enum import Enum
from pathlib import Path
from typing import ClassVar

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from castlenut.screens.themes import THEMES
from castlenut.screens.widgets.cells import plain
from castlenut.store.preferences import read_preferences


class Choice(Enum):
    """What is to be opened where there is no garage."""

    FIRST_CAR = "first car"
    SAMPLE = "sample"


def is_nothing_yet(garage: Path) -> bool:
    """Tell whether nothing is at the place of a garage: no folder, or an empty one."""
    try:
        return not any(garage.iterdir())
    except FileNotFoundError:
        return True
    except OSError:
        return False  # something is there: opening it says what


def first_choice(garage: Path, preferences: Path, *, color: bool | None) -> Choice | None:
    """Ask what is to be opened; None: nothing."""
    return FirstStart(garage, theme=read_preferences(preferences).theme, color=color).run()


class FirstStart(App[Choice | None], inherit_bindings=False):
    """One page: where the garage would be, and what can be done."""

    CSS = "Static { padding: 1 2; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "choose('FIRST_CAR')", "first car"),
        Binding("s", "choose('SAMPLE')", "sample"),
        Binding("q,escape,ctrl+c", "leave", "end"),
    ]

    def __init__(
        self, garage: Path, *, theme: str | None = None, color: bool | None = None
    ) -> None:
        super().__init__(ansi_color=True if color is False else None)
        self.animation_level = "none"
        for each in THEMES:
            self.register_theme(each)
        self.theme = theme if theme in {each.name for each in THEMES} else THEMES[0].name
        self._garage = garage

    def compose(self) -> ComposeResult:
        lines = (
            "Castlenut: what is due on an older car, and why",
            "",
            f"No garage is at {plain(str(self._garage))} yet.",
            "",
            "n  take in the first car: the garage is made there",
            "s  look at a sample garage: invented cars, in a folder of their own",
            "q  end",
            "",
            "A garage elsewhere is opened by: castlenut --garage DIR",
        )
        yield Static("\n".join(lines), markup=False)

    def action_choose(self, name: str) -> None:
        self.exit(Choice[name])

    def action_leave(self) -> None:
        self.exit(None)
