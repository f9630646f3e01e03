"""Keys typed ahead: each goes where it would have gone, had one waited for those before it.

Textual sends a key to the field in focus at once. A tab is no key of the field: it comes back to
the app, behind the letters that were typed after it, and those have gone into the field before it.
Here a key is held back until what the keys before it began has come to rest.
"""

import asyncio
import time
from collections import deque

from textual import events
from textual.app import App

LONGEST_SECONDS = 0.5
"""How long a key waits at most for the one before it, while the app is free."""
LONGEST_TURN_SECONDS = 0.02
"""More than that of one turn is work, such as loading a form: it does not count as waiting."""
TURNS_AT_REST = 3
"""Turns of the event loop in which no message waits: what a key began has come to rest."""
_OWN_DOING = events.Key("", None)


class TypedAhead(App[int], inherit_bindings=False):
    """An app that takes keys one after another."""

    def __init__(self, *, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._typed: deque[events.Key] = deque()
        """Keys not yet at rest: the first was sent on, the others wait."""
        self._waited = 0.0
        self._looked_at = 0.0
        self._turns = 0

    def hold_keys(self) -> None:
        """Let the keys typed from now on wait, until something of the app's own has been done."""
        self._typed.append(_OWN_DOING)

    def go_on(self) -> None:
        """Take the keys that were held, once what was begun has come to rest."""
        self._wait()

    async def on_event(self, event: events.Event) -> None:
        """Take a key typed; it is sent on at once where none before it is under way."""
        if isinstance(event, events.Key) and not event.is_forwarded:
            self._typed.append(event)
            if len(self._typed) == 1:
                await self._send_on()
        else:
            await super().on_event(event)

    async def _send_on(self) -> None:
        await super().on_event(self._typed[0])
        self._wait()

    def _wait(self) -> None:
        self._waited, self._looked_at, self._turns = 0.0, time.monotonic(), 0
        self.call_later(self._look_whether_at_rest)

    async def _look_whether_at_rest(self) -> None:
        await asyncio.sleep(0)
        nodes = (self.focused or self.screen).ancestors_with_self
        is_busy = any(node.message_queue_size for node in nodes)
        self._turns = 0 if is_busy else self._turns + 1
        now = time.monotonic()
        self._waited += min(now - self._looked_at, LONGEST_TURN_SECONDS)
        self._looked_at = now
        is_late = self._waited > LONGEST_SECONDS
        if self._turns < TURNS_AT_REST and not is_late:
            self.call_later(self._look_whether_at_rest)
            return
        self._typed.popleft()
        if self._typed:
            await self._send_on()
