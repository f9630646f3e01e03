"""The commands (ctrl+p): every action of the screen first, then every car by its name."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.content import Content

from castlenut.screens.keys import MORE, keys_here
from castlenut.screens.page import Page
from castlenut.screens.widgets.cells import filled

_WORDS = 44
_EVERYWHERE = (
    ("settings: units, rate, open hours, theme", "app.open_settings"),
    ("rules: which there are, and whose", "app.open_rules"),
    ("calendar feeds", "app.open_feeds"),
)
"""What can be opened from every screen, and has no key on all of them."""


@dataclass(frozen=True, slots=True)
class _Entry:
    words: str
    key: str
    do: Callable[[], object]


class Commands(Provider):
    """What can be done here, found by typing any part of its words."""

    def _entries(self) -> Iterator[_Entry]:
        page = self.screen
        for each in keys_here(page):
            if each.keys[0] != MORE:
                yield _Entry(
                    each.words, each.names, partial(self.app.run_action, each.action, page)
                )
        if isinstance(page, Page):
            for words, action in page.ALSO:
                if not page.check_action(action, ()):
                    continue
                yield _Entry(words, "", partial(self.app.run_action, action, page))
            here = {each.action for each in keys_here(page)}
            for words, action in _EVERYWHERE:
                if action not in here:
                    yield _Entry(words, "", partial(self.app.run_action, action, page))
            for slug in page.garage.slugs():
                yield _Entry(f"car {slug}", "", partial(page.open_car, slug))
        for command in self.app.get_system_commands(page):
            yield _Entry(command.title, "", command.callback)

    async def discover(self) -> Hits:
        for entry in self._entries():
            yield DiscoveryHit(_display(entry), entry.do, text=entry.words)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        for entry in self._entries():
            score = matcher.match(entry.words)
            if entry.words.casefold().startswith(query.casefold().strip()):
                score += 1  # what begins so stands before what merely holds it
            if score > 0:
                yield Hit(score, _display(entry), entry.do, text=entry.words)


def _display(entry: _Entry) -> Content:
    """Give an entry as it is shown, with its key: plain text, never markup."""
    return Content(f"{filled(entry.words, _WORDS)} {entry.key}".rstrip())
