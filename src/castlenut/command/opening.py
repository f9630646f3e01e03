"""Opening the screens: the one place where the command line knows of them."""

from __future__ import annotations

import atexit
import gc
from typing import TYPE_CHECKING

from castlenut.command.output import saved_report

if TYPE_CHECKING:
    from pathlib import Path

    from castlenut.command.call import Call


def open_screens(call: Call, garage: Path) -> int:
    """Open the screens on a garage, and give the exit code they end with."""
    from castlenut.screens.app import run

    # The screens stay open, and make circles: many short looks for them instead of few long ones.
    gc.set_threshold(20_000, 20, 20)
    atexit.unregister(gc.freeze)
    has_little = call.world.environment.get("TERM") in {"dumb", "vt100"}
    return run(
        garage,
        call.surroundings(),
        color=False if has_little else None,
        ascii_only=True if has_little else None,
        report=lambda error: saved_report(error, call.world),
    )
