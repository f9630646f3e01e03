"""The one tree of commands: the module that holds each, loaded when it is asked for.

To load all of them takes as long as to read a car and all its rules, and a command needs one.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from castlenut.command.command import Command

HELD_IN: Mapping[str, Sequence[str]] = {
    "every_day.asking": ("due", "why", "vehicles", "components"),
    "every_day.recording": ("reading", "done", "measure", "decline", "happened"),
    "every_day.dial": ("odometer", "settle"),
    "every_day.taking_on": ("add", "intake"),
    "every_day.parts": ("fit", "remove", "convert"),
    "every_day.own_figures": ("figures", "rule"),
    "every_day.exposures": ("layup", "exposure"),
    "every_day.staying": ("stay", "ready"),
    "every_day.finding": ("found", "mended", "watch"),
    "every_day.bench": ("apart", "parts"),
    "every_day.telephone": ("ring", "sold"),
    "tires.at_the_car": ("tires", "tread", "room"),
    "tires.counter": ("size", "fitment"),
    "tires.turning": ("rotation", "rotate"),
    "every_day.visiting": ("visits", "visit"),
    "calendar_and_paper.feeds": ("feed",),
    "calendar_and_paper.papers": ("sheet", "handover", "card"),
    "upkeep.corrections": ("correct", "strike", "restore"),
    "upkeep.undoing": ("undo", "redo"),
    "upkeep.inspection": ("records", "check"),
    "upkeep.meeting": ("merge",),
    "upkeep.exchange": ("export", "import", "forget"),
    "upkeep.garage": ("rules", "settings", "demo"),
    "upkeep.sums": ("reckon",),
}
"""The commands by module, in the order in which help tells them; a test compares."""

NAMES = tuple(name for names in HELD_IN.values() for name in names)


def held_in(module: str) -> tuple[Command, ...]:
    """Load a module of commands, and give what it holds."""
    commands: tuple[Command, ...] = import_module(f"castlenut.command.{module}").COMMANDS
    return commands


def command_of(name: str) -> Command:
    """Give one of the commands by its name; of the others nothing is loaded."""
    module = next(module for module, names in HELD_IN.items() if name in names)
    return next(command for command in held_in(module) if command.name == name)
