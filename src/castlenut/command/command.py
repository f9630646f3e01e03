"""What a command is: its name, its words in --help, its arguments, and what it does."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from argparse import ArgumentParser
    from collections.abc import Callable

    from castlenut.command.call import Call

EVERY_DAY = "every day"
TIRES = "tires"
CALENDAR_AND_PAPER = "calendar and paper"
UPKEEP = "upkeep"
GROUPS = (EVERY_DAY, TIRES, CALENDAR_AND_PAPER, UPKEEP)


class Command:
    """One command. `run` imports what it needs itself, so that a short command starts quickly.

    `is_nested`: it has commands of its own, so that options may not stand between its arguments.
    `has_own_help`: it answers --help itself.
    """

    __slots__ = (
        "add_arguments",
        "example",
        "group",
        "has_own_help",
        "is_nested",
        "name",
        "run",
        "words",
    )

    def __init__(
        self,
        name: str,
        *,
        group: str,
        words: str,
        example: str,
        add_arguments: Callable[[ArgumentParser], None],
        run: Callable[[Call], int],
        is_nested: bool = False,
        has_own_help: bool = False,
    ) -> None:
        self.name = name
        self.group = group
        self.words = words
        self.example = example
        self.add_arguments = add_arguments
        self.run = run
        self.is_nested = is_nested
        self.has_own_help = has_own_help


def takes_vehicle(parser: ArgumentParser, *, may_be_missing: bool = False) -> None:
    """Add the argument that names a vehicle."""
    parser.add_argument(
        "vehicle",
        metavar="VEHICLE",
        nargs="?" if may_be_missing else None,
        help="slug or description of a car; a beginning is enough",
    )


def gives_json(parser: ArgumentParser) -> None:
    """Add `--json`."""
    parser.add_argument("--json", action="store_true", help="answer as JSON (docs/json.md)")


def takes_when(parser: ArgumentParser, *, at: bool = True) -> None:
    """Add `--on` and, unless it has no meaning there, `--at`."""
    parser.add_argument("--on", metavar="DATE", help="the day: 2026-11-25, yesterday, 3d ago")
    if at:
        parser.add_argument(
            "--at",
            metavar="FIGURE",
            help="what the dial showed; without it the estimate, so marked",
        )


def takes_note(parser: ArgumentParser) -> None:
    """Add `--note`."""
    parser.add_argument("--note", metavar="TEXT", help="words kept with it")


def takes_by(parser: ArgumentParser) -> None:
    """Add `--by`, who did it."""
    parser.add_argument(
        "--by", metavar="WHO", help="another shop by name, or owner; without it this garage"
    )


def takes_hours_and_cost(parser: ArgumentParser) -> None:
    """Add `--hours` and `--cost`."""
    parser.add_argument("--hours", metavar="H", help="1.5, 1:30 or 90m")
    parser.add_argument("--cost", metavar="C", help="what it cost")


def takes_fields(parser: ArgumentParser) -> None:
    """Add the pairs FIELD=VALUE."""
    parser.add_argument("fields", metavar="FIELD=VALUE", nargs="*", help="further fields")
