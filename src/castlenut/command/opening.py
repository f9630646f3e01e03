"""Opening the screens: the one place where the command line knows of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command.output import saved_report

if TYPE_CHECKING:
    from pathlib import Path

    from castlenut.command.call import Call


def open_screens(call: Call, garage: Path) -> int:
    """Open the screens on a garage, and give the exit code they end with."""
    from castlenut.screens.app import run

    return run(garage, call.surroundings(), report=lambda error: saved_report(error, call.world))
