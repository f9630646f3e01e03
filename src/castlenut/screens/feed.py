"""The feed screen: where the dates are found by phones, and where they are published."""

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.errors import BadInput
from castlenut.feed.feeds import GARAGE_FEED
from castlenut.garage.feeds.addresses import PORT, set_base, webcal
from castlenut.garage.feeds.network import own_address
from castlenut.garage.feeds.overview import FeedRow, Overview, overview
from castlenut.garage.feeds.revoking import revoke
from castlenut.garage.feeds.server import NotServed
from castlenut.garage.feeds.targets import publish_to, stop
from castlenut.garage.garage import Garage
from castlenut.screens.feed_rows import (
    FEED_COLUMNS,
    NO_TARGET,
    TARGET_COLUMNS,
    feed_key,
    feed_lines,
    kind_words,
    target_lines,
)
from castlenut.screens.feed_serving import ServingSwitch
from castlenut.screens.page import Page
from castlenut.screens.turn import GARAGE_TURN
from castlenut.screens.widgets.cells import plain
from castlenut.screens.widgets.item_table import ItemTable
from castlenut.store.faults import NotSaved
from castlenut.words import figures
from castlenut.words.feeds import COPIES, NO_NETWORK


class FeedPage(Page):
    """Every feed with its address, the folders they are published in, and the server."""

    TITLE_WORDS: ClassVar[str] = "calendar feeds"
    ANSWERS: ClassVar[str] = (
        "How do the dates get onto phones? A phone subscribes to an address: of a file in a folder"
        " on the web, which the program keeps up to date, or of this computer while it serves."
        " The addresses are secret: they are shown only here and by castlenut feed address."
    )
    CSS_PATH = "styles/feed.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "code", "QR code"),
        Binding("s", "serve", "serve"),
        Binding("f", "publish", "add folder"),
        Binding("e", "base", "base"),
        Binding("n", "new_address", "new address"),
        Binding("y", "copy", "copy"),
        Binding("x", "stop", "stop publishing", show=False),
    ]

    def __init__(self, garage: Garage, serving: ServingSwitch) -> None:
        super().__init__(garage)
        self._serving = serving
        self._host = own_address()
        self._seen: Overview | None = None

    def body(self) -> Iterable[Widget]:
        yield ItemTable(*FEED_COLUMNS, id="feeds")
        yield ItemTable(*TARGET_COLUMNS, empty=NO_TARGET, id="targets")
        yield Static("", id="address", markup=False)

    @property
    def feeds(self) -> ItemTable:
        """Give the list of feeds."""
        return self.query_one("#feeds", ItemTable)

    @property
    def targets(self) -> ItemTable:
        """Give the list of published targets."""
        return self.query_one("#targets", ItemTable)

    @property
    def at_hand(self) -> FeedRow | None:
        """Give the feed under the cursor."""
        rows = self._seen.feeds if self._seen else ()
        return next((row for row in rows if feed_key(row) == self.feeds.cursor_key), None)

    def on_mount(self) -> None:
        self.show_anew()
        self.feeds.focus()

    def show_anew(self, *, changed: tuple[str, ...] | None = None) -> None:  # noqa: ARG002 (every feed may differ)
        try:
            with GARAGE_TURN:
                self._seen = overview(self.garage, host=self._host, port=PORT)
        except (BadInput, NotSaved) as refused:
            self.tell(str(refused), is_fault=True)
            return
        self.feeds.show(feed_lines(self._seen.feeds))
        self.targets.show(target_lines(self._seen.targets))
        self.counted_anew()
        self._show_address()

    def counted_anew(self) -> None:
        seen = self._seen
        if seen is not None:
            counts = f"{figures.count(len(seen.feeds), 'feed')}, {len(seen.targets)} published"
            self.say_where(f"Calendar feeds  {counts}")

    def on_item_table_moved(self, message: ItemTable.Moved) -> None:
        if message.table is self.feeds:
            self._show_address()

    def _show_address(self) -> None:
        row = self.at_hand
        lines: list[str] = []
        if row is not None and row.address is not None:
            lines += [row.address, webcal(row.address)]
        elif row is not None:
            lines += [NO_NETWORK, ""]
        lines.append(self._served())
        self.query_one("#address", Static).update("\n".join(plain(each) for each in lines))

    def _served(self) -> str:
        serving = self._serving.now
        base = self._seen.base if self._seen else None
        if serving is not None:
            told = f"serving on {serving.host or 'this computer'}:{serving.port}  s stops"
            return f"{told}   {serving.last_fault}" if serving.last_fault else told
        if base is not None:
            return f"base {base}: published folders are found there"
        return "not serving: s serves the feeds to the phones in this network"

    # -- keys ----------------------------------------------------------------------------------

    async def on_item_table_chosen(self, message: ItemTable.Chosen) -> None:
        """Take the second click on a row for enter."""
        message.table.focus()
        self.action_code()

    def action_code(self) -> None:
        from castlenut.screens.qr_code import QrCode

        row = self.at_hand
        if row is None or row.address is None:
            self.tell(NO_NETWORK, is_fault=True)
        else:
            self.app.push_screen(QrCode(kind_words(row), webcal(row.address)))

    def action_copy(self) -> None:
        row = self.at_hand
        if row is not None and row.address is not None and not self.targets.has_focus:
            self.app.copy_to_clipboard(row.address)
            self.tell(f"copied the address of {kind_words(row)}")
        else:
            super().action_copy()

    def action_serve(self) -> None:
        try:
            is_serving = self._serving.turn()
        except NotServed as refused:
            self.tell(str(refused), is_fault=True)
            return
        self.tell("serving: phones in this network can subscribe" if is_serving else "not serving")
        self._show_address()

    def action_new_address(self) -> None:
        row = self.at_hand
        if row is not None:
            feed = row.subject.feed
            self._do(
                lambda: revoke(self.garage, feed),
                f"new address for {kind_words(row)}; {COPIES}",
            )

    def action_publish(self) -> None:
        from castlenut.screens.forms.one_answer import OneAnswer

        row = self.at_hand
        feed = GARAGE_FEED if row is None else row.subject.feed
        what = "the garage's feed" if row is None else kind_words(row)

        def publish(text: str) -> str:
            publish_to(self.garage, Path(text).expanduser(), feed=feed)
            return f"published: {what} in {text}"

        form = OneAnswer(f"Publish {what}", "folder", publish, remark="on the web, or synced")
        self.app.push_screen(form, self._take)

    def action_base(self) -> None:
        from castlenut.screens.forms.one_answer import OneAnswer

        def keep(text: str) -> str:
            base = set_base(self.garage, text or None)
            return f"base {base}" if base else "no base: addresses are local ones"

        now = self._seen.base if self._seen else None
        form = OneAnswer(
            "The public address of the published folder",
            "base",
            keep,
            value=now or "",
            remark="empty for none",
        )
        self.app.push_screen(form, self._take)

    def action_stop(self) -> None:
        path = self.targets.cursor_key
        if path is not None and self.targets.has_focus:
            self._do(
                lambda: stop(self.garage, Path(path)),
                f"no longer published: {path}; the file stays where it is",
            )

    def _do(self, work: Callable[[], object], told: str) -> None:
        try:
            with GARAGE_TURN:
                work()
        except (BadInput, NotSaved) as refused:
            self.tell(str(refused), is_fault=True)
            return
        self.show_anew()
        self.tell(told)

    def _take(self, told: str | None) -> None:
        if told is not None:
            self.show_anew()
            self.tell(told)
