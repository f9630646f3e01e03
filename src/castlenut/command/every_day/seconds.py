"""The time a plan may take, as typed, and counted from when it is asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from castlenut.command.call import Call

_MOST = 3600


def seconds(call: Call, *, usual: float) -> float:
    """Read `--seconds`.

    Raises:
        BadInput: it is no time.
    """
    from castlenut.domain.errors import BadInput, Fault

    text = call.maybe("seconds")
    if text is None:
        return usual
    try:
        found = float(text)
    except ValueError:
        found = -1.0
    if not 0 <= found <= _MOST:
        raise BadInput(Fault(f'"{text}" is no time', "--seconds", f"give 0 to {_MOST}"))
    return found


def clock(allowed: float) -> Callable[[], bool]:
    """Give whether there is time left, counted from now."""
    from time import monotonic

    end = monotonic() + allowed
    return lambda: monotonic() < end
