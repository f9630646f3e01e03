"""The world a command is answered in: what only the entry of the program may read."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from datetime import date, datetime
    from typing import TextIO


class World:
    """Environment, clock, chance (`draw` gives so many bytes) and standard input."""

    __slots__ = ("draw", "environment", "new_id", "now", "stdin", "today")

    def __init__(
        self,
        *,
        environment: Mapping[str, str],
        today: Callable[[], date],
        now: Callable[[], datetime],
        new_id: Callable[[], str],
        draw: Callable[[int], bytes],
        stdin: TextIO,
    ) -> None:
        self.environment = environment
        self.today = today
        self.now = now
        self.new_id = new_id
        self.draw = draw
        self.stdin = stdin
