"""Opening the screens: the one place where the command line knows of them."""

from __future__ import annotations

import atexit
import gc
from typing import TYPE_CHECKING

from castlenut.command.output import FINE, saved_report

if TYPE_CHECKING:
    from pathlib import Path

    from castlenut.command.call import Call


def open_screens(call: Call, garage: Path) -> int:
    """Open the screens on a garage, and give the exit code they end with.

    Where nothing is at that place yet, a first screen offers to make a garage, or a sample.

    Raises:
        BadInput: what is there is no garage.
        NotSaved: a garage could not be made there.
    """
    from castlenut.screens.app import run
    from castlenut.screens.first_start import Choice, first_choice, is_nothing_yet
    from castlenut.store.preferences import preferences_file

    # The screens stay open, and make circles: many short looks for them instead of few long ones.
    gc.set_threshold(20_000, 20, 20)
    atexit.unregister(gc.freeze)
    environment = call.world.environment
    has_little = environment.get("TERM") in {"dumb", "vt100"}
    preferences, chosen = preferences_file(), None
    if is_nothing_yet(garage):
        chosen = first_choice(garage, preferences, color=False if has_little else None)
        if chosen is None:
            return FINE
        garage = _made(call, garage, is_sample=chosen is Choice.SAMPLE)
    return run(
        garage,
        call.surroundings(),
        preferences=preferences,
        editor=environment.get("VISUAL") or environment.get("EDITOR"),
        takes_first_car=chosen is Choice.FIRST_CAR,
        color=False if has_little else None,
        ascii_only=True if has_little else None,
        report=lambda error: saved_report(error, call.world),
    )


def _made(call: Call, garage: Path, *, is_sample: bool) -> Path:
    from castlenut.garage.demo import make_demo
    from castlenut.garage.garage import make_garage

    if is_sample:
        return make_demo(None, call.surroundings())
    return make_garage(garage, call.surroundings()).path
