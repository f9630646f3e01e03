"""The screen program: wires the garage to the screens, and turns what goes wrong into words."""

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, ClassVar

from rich.console import Console
from textual import events
from textual.actions import ActionParseResult
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.command import Provider
from textual.dom import DOMNode
from textual.filter import Monochrome, NoColor
from textual.screen import Screen

from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import replace
from castlenut.garage.garage import Garage, Surroundings, open_garage
from castlenut.screens.item_page import ItemPage
from castlenut.screens.keys import keys_here
from castlenut.screens.outside import KeepsTyped
from castlenut.screens.page import Page
from castlenut.screens.report import Report
from castlenut.screens.themes import THEMES
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.typed_ahead import TypedAhead
from castlenut.store.faults import NotSaved
from castlenut.store.folder import VEHICLES
from castlenut.store.preferences import FILE, Preferences, keep_theme, read_preferences

if TYPE_CHECKING:
    from castlenut.garage.drafts import Saved
    from castlenut.garage.feeds.keeper import Keeper
    from castlenut.screens.feed_serving import ServingSwitch

OUTSIDE = 3
"""The exit code for a cause that is none of the user's input."""
POLL_SECONDS = 2
LEAST_WIDTH = 60
LEAST_HEIGHT = 20


def run(
    path: Path,
    surroundings: Surroundings,
    *,
    color: bool | None = None,
    ascii_only: bool | None = None,
    preferences: Path | None = None,
    editor: str | None = None,
    takes_first_car: bool = False,
    report: Report | None = None,
) -> int:
    """Open the screens on a garage folder; give the exit code of the program.

    `color` is False for a terminal that has none or whose user wants none, `ascii_only` True where
    the terminal has no other characters; None finds it out. `preferences` is the file of theme and
    keys, `editor` the command of the user's editor. With `takes_first_car` the form for a new car
    is open at once. Without `report` an unforeseen error ends the program.

    Raises:
        BadInput: there is no garage in that folder.
    """
    terminal = Console()
    has_color = not (terminal.no_color or terminal.is_dumb_terminal)
    app = CastlenutApp(
        open_garage(path, surroundings),
        color=has_color if color is None else color,
        sixteen_colors=terminal.color_system == "standard",
        ascii_only=terminal.options.ascii_only if ascii_only is None else ascii_only,
        preferences=preferences,
        editor=editor,
        takes_first_car=takes_first_car,
        report=report,
    )
    code = app.run()
    return code if code is not None else app.return_code or 0


def _commands() -> type[Provider]:
    from castlenut.screens.commands import Commands

    return Commands


class CastlenutApp(TypedAhead, inherit_bindings=False):
    """All screens of one garage."""

    TITLE = "Castlenut"
    DEFAULT_MODE = "board"
    # Those of the usual way in: Textual reads all sheets anew when a screen brings one it lacks.
    CSS_PATH: ClassVar[list[str | PurePath]] = [
        Path(__file__).with_name("styles") / f"{name}.tcss"
        for name in ("theme", "board", "car", "working")
    ]
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {_commands}
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 (Textual's own name, not annotated there)
        (0, "-tiny"),
        (LEAST_WIDTH, "-small"),
        (80, "-plain"),
        (120, "-wide"),
    ]
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012 (as above)
        (0, "-flat"),
        (LEAST_HEIGHT, "-low"),
        (24, "-usual"),
        (36, "-high"),
    ]
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+c", "say_how_to_quit", "how to quit", show=False, system=True),
        Binding("ctrl+z", "suspend_process", "to the shell", show=False, system=True),
    ]

    def __init__(
        self,
        garage: Garage,
        *,
        color: bool = True,
        sixteen_colors: bool = False,
        ascii_only: bool = False,
        theme: str | None = None,
        preferences: Path | None = None,
        editor: str | None = None,
        takes_first_car: bool = False,
        report: Report | None = None,
    ) -> None:
        super().__init__(ansi_color=None if color else True)
        self.garage = garage
        self.add_mode(self.DEFAULT_MODE, self._board)
        self.animation_level = "none"
        self._report = report
        self.serving: ServingSwitch | None = None
        """The feed server's switch, once the feeds were opened."""
        self.keeper: Keeper | None = None
        """What keeps published feeds up to date, where any is published."""
        self._without_color(is_wanted=not color)
        for each in THEMES:
            self.register_theme(each)
        for name in [name for name in self.available_themes if name not in _THEME_NAMES]:
            self.unregister_theme(name)
        self._preferences_file = preferences
        self._editor = editor
        self._takes_first_car = takes_first_car
        if takes_first_car:
            self.hold_keys()  # what is typed meanwhile goes into the form
        kept = read_preferences(preferences) if preferences is not None else Preferences()
        self._to_tell = list(kept.faults)
        if kept.theme is not None and kept.theme not in _THEME_NAMES:
            self._to_tell.append(
                f'settings.toml: no theme is named "{kept.theme}"; there are'
                f" {' and '.join(each.name for each in THEMES)}"
            )
            kept = replace(kept, theme=None)
        self.theme = theme or kept.theme or THEMES[0].name
        self._own_keys = kept.keys
        self.set_class(ascii_only, "-ascii")
        self.set_class(color and sixteen_colors, "-sixteen")

    def _without_color(self, *, is_wanted: bool) -> None:
        """Leave all color out, or not, whatever Textual itself found in the environment."""
        self._filters = [
            each for each in self._filters if not isinstance(each, (NoColor, Monochrome))
        ]
        self.no_color = is_wanted
        if is_wanted:
            self._filters.append(NoColor())

    def _board(self) -> Screen[None]:
        from castlenut.screens.board import Board

        return Board(self.garage)

    def on_mount(self) -> None:
        self.set_interval(POLL_SECONDS, self.look_for_outside_changes)
        if self._own_keys:
            self._take_own_keys()
        if self._takes_first_car:
            self.call_after_refresh(self._take_first_car)
        if self.garage.settings.feed_targets:
            self.call_after_refresh(self._keep_feeds)

    async def _take_first_car(self) -> None:
        try:
            await self.run_action("screen.new_car")
        finally:
            self.go_on()

    def on_board_shown(self) -> None:
        """Tell what of the user's choices is not used, once no progress is told any more."""
        if self._to_tell:
            first, *rest = self._to_tell
            more = f"; {len(rest)} more like this" if rest else ""
            self._to_tell = []
            self.say(f"{first}{more}")

    def _take_own_keys(self) -> None:
        """Put the user's own keys into force; what is wrong with them is told."""
        # Loaded here: it loads every screen, and few users have keys of their own.
        from castlenut.screens.own_keys import faults

        self._to_tell.extend(faults(self._own_keys))
        self.set_keymap(self._own_keys)

    def _keep_feeds(self) -> None:
        from castlenut.garage.feeds.keeper import Keeper

        self.keeper = Keeper(
            open_garage(self.garage.path, self.garage.surroundings),
            today=lambda: self.garage.today_date,
            log=self._feed_not_written,
        )
        self.keeper.start()

    def _feed_not_written(self, line: str) -> None:
        """Say what the thread that keeps the feeds has to say, there and on the board."""
        self.call_later(self.say, line)
        self.call_later(self._show_feeds)

    def _show_feeds(self) -> None:
        from castlenut.screens.board import Board

        for page in self.screen_stack:
            if isinstance(page, Board):
                page.look_at_feeds()

    def look_for_outside_changes(self) -> None:
        """Look whether files were changed by somebody else, and show what they hold now."""
        try:
            with GARAGE_TURN:
                names = self.garage.changed_files()
                vanished = self.garage.vanished()
        except BadInput as refused:
            self.say(str(refused))
            return
        if not names:
            return
        slugs = tuple(Path(name).stem for name in names if Path(name).parent.name == VEHICLES)
        is_of_all = len(slugs) < len(names)  # the rules or the settings: every car may differ
        told = f"{', '.join(Path(name).stem for name in names)} changed on disk"
        if gone := [slug for slug in slugs if slug in vanished]:
            told = f"{', '.join(gone)} is gone from the folder; still shown from memory"
        for screen in self.screen_stack:
            if isinstance(screen, KeepsTyped):
                screen.tell_changed(slugs)
            if not isinstance(screen, Page):
                continue
            try:
                screen.show_anew(changed=None if is_of_all else slugs)
            except BadInput as refused:
                # Damaged or not to be read: what is shown stays.
                told = f"{refused}; still shown from memory"
            screen.tell(told)

    # -- size ----------------------------------------------------------------------------------

    def on_resize(self, event: events.Resize) -> None:
        from castlenut.screens.too_small import TooSmall

        is_too_small = event.size.width < LEAST_WIDTH or event.size.height < LEAST_HEIGHT
        stands = isinstance(self.screen, TooSmall)
        if is_too_small and not stands:
            self.push_screen(TooSmall(LEAST_WIDTH, LEAST_HEIGHT))
        elif stands and not is_too_small:
            self.pop_screen()

    # -- what goes wrong -----------------------------------------------------------------------

    async def run_action(
        self,
        action: "str | ActionParseResult",
        default_namespace: DOMNode | None = None,
        namespaces: Mapping[str, DOMNode] | None = None,
    ) -> bool:
        """Do what a key stands for; what goes wrong is said, and the screen stays."""
        try:
            return await super().run_action(action, default_namespace, namespaces)
        except (BadInput, NotSaved) as refused:
            self.say(str(refused.faults[0] if isinstance(refused, BadInput) else refused))
        except Exception as error:  # noqa: BLE001 (this is a door: what is unforeseen is told here)
            self.unforeseen(error)
        return True

    def on_page_went_wrong(self, message: Page.WentWrong) -> None:
        self.unforeseen(message.error)

    def unforeseen(self, error: Exception) -> None:
        """Say that something went wrong; without a place for the details the program ends."""
        if self._report is None:
            raise error
        where = self._report(error)
        self.say(f"something went wrong; nothing was changed; details in {where}")

    def _handle_exception(self, error: Exception) -> None:
        """End with one sentence where a handler failed: Textual would end with a traceback.

        The widget whose handler it was takes no further message, so that the screen cannot stay.
        """
        if self._report is None:
            super()._handle_exception(error)
            return
        where = self._report(error)
        self.exit(
            OUTSIDE,
            return_code=OUTSIDE,
            message=f"castlenut: something went wrong; what was saved stands; details in {where}",
        )

    def say(self, text: str) -> None:
        """Say a fault on the message line of the screen that is open."""
        page = next((each for each in reversed(self.screen_stack) if isinstance(each, Page)), None)
        if page is not None:
            page.tell(text, is_fault=True)

    def action_say_how_to_quit(self) -> None:
        page = next((each for each in reversed(self.screen_stack) if isinstance(each, Page)), None)
        if page is not None:
            page.tell("q on the board ends the program; nothing is lost, all is saved")

    # -- what the screens ask for --------------------------------------------------------------

    def action_open_car(self, slug: str) -> None:
        """Open a car over the screen."""
        from castlenut.screens.car import CarPage

        self.push_screen(CarPage(self.garage, slug))

    def action_open_working(self) -> None:
        """Open the working of the row under the cursor; up and down go through those around it."""
        from castlenut.screens.working import Working

        page = self.screen
        if isinstance(page, ItemPage):
            today, at = page.car_at_hand(), page.row_at_hand()
            if today is not None and at is not None:
                self.push_screen(Working(self.garage, today, page.rows_at_hand(), at))

    def action_open_up(self) -> None:
        """Open what else to do while the car at hand is apart."""
        from castlenut.screens.opened import Opened

        page = self.screen
        today = page.car_at_hand() if isinstance(page, ItemPage) else None
        if today is not None:
            self.push_screen(Opened(self.garage, today))

    def action_open_trip(self) -> None:
        """Open what falls due on a trip of the car at hand."""
        from castlenut.screens.trip import Trip

        page = self.screen
        today = page.car_at_hand() if isinstance(page, ItemPage) else None
        if today is not None:
            self.push_screen(Trip(self.garage, today))

    def action_open_year(self) -> None:
        """Open the year of the car at hand."""
        from castlenut.screens.year import YearPage

        page = self.screen
        today = page.car_at_hand() if isinstance(page, ItemPage) else None
        if today is not None:
            self.push_screen(YearPage(self.garage, today))

    def action_open_visits(self) -> None:
        """Open the visits of the car at hand."""
        from castlenut.screens.visits.car import CarVisitsPage

        page = self.screen
        today = page.car_at_hand() if isinstance(page, ItemPage) else None
        if today is not None:
            self.push_screen(CarVisitsPage(self.garage, today))

    def action_open_weeks(self) -> None:
        """Open the weeks of all cars."""
        from castlenut.screens.visits.weeks import WeeksPage

        self.push_screen(WeeksPage(self.garage))

    def action_open_feeds(self) -> None:
        """Open the calendar feeds over the screen."""
        from castlenut.screens.feed import FeedPage
        from castlenut.screens.feed_serving import ServingSwitch

        if self.serving is None:
            self.serving = ServingSwitch(self.garage, self._report)
        self.push_screen(FeedPage(self.garage, self.serving))

    def on_unmount(self) -> None:
        """End what runs beside the screens."""
        if self.serving is not None:
            self.serving.end()
        if self.keeper is not None:
            self.keeper.close()

    def action_open_help(self) -> None:
        """Open help for the screen."""
        from castlenut.screens.help import Help

        page = self.screen
        if isinstance(page, Page):
            help_page = Help(
                about=page.TITLE_WORDS,
                answers=page.ANSWERS,
                keys=keys_here(page),
                garage=str(self.garage.path),
            )
            self.push_screen(help_page)

    def action_command_palette(self) -> None:
        from textual.command import CommandPalette

        if not isinstance(self.screen, CommandPalette):
            self.push_screen(CommandPalette(placeholder="what to do, or which car"))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:  # noqa: ARG002 (Textual's signature)
        yield SystemCommand("theme", "the other of the two themes", self.action_other_theme)
        yield SystemCommand("quit", "end the program", self.exit)

    def action_other_theme(self) -> None:
        names = [each.name for each in THEMES]
        self.take_theme(names[(names.index(self.theme) + 1) % len(names)])

    def take_theme(self, name: str) -> None:
        """Put a theme into force, and keep it for the next time.

        Raises:
            NotSaved: it is in force, but could not be kept.
        """
        self.theme = name
        if self._preferences_file is not None:
            keep_theme(self._preferences_file, name)

    def action_open_settings(self) -> None:
        """Open the form of the garage's settings and the theme."""
        from castlenut.screens.forms.settings import SettingsForm

        form = SettingsForm(
            self.garage,
            theme=self.theme,
            keys_file=str(self._preferences_file or FILE),
            take_theme=self.take_theme,
        )
        self.push_screen(form, self._take_settings)

    def _take_settings(self, saved: "Saved | None") -> None:
        """Say what was saved; units and hours change every screen."""
        if saved is None or saved.change is None:
            return
        for page in self.screen_stack:
            if isinstance(page, Page):
                page.show_anew()
                page.tell(f"saved: {saved.title}")

    def action_open_rules(self) -> None:
        """Open the rules over the screen."""
        from castlenut.screens.rules import RulesPage

        self.push_screen(RulesPage(self.garage, editor=self._editor))


_THEME_NAMES = frozenset(each.name for each in THEMES)
