"""The one tree of commands: what was typed becomes a call, and the call an exit code."""

from __future__ import annotations

import argparse
import sys
from functools import partial
from typing import TYPE_CHECKING, NoReturn

from castlenut.command import output, tree
from castlenut.command.call import Call
from castlenut.command.command import GROUPS, Command
from castlenut.command.version import VERSION

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from castlenut.command.world import World

COMPLETION = "completion"  # it tells of all the others, so it stands in no module of theirs
NAMES = (*tree.NAMES, COMPLETION)
_WITH_VALUE = frozenset({"--garage", "--today"})
_WIDTH = 12
_HELP_WIDTH = 78  # asked of the terminal, it loads four modules in every command, help or not


def options_by_command() -> dict[str, tuple[str, Sequence[str]]]:
    """Give for each command its words and the options it takes."""
    return {
        command.name: (
            command.words,
            [
                option
                for action in _command_parser(command)._actions  # noqa: SLF001 - no public way
                for option in action.option_strings
                if option.startswith("--")
            ],
        )
        for command in map(command_of, NAMES)
    }


def command_of(name: str) -> Command:
    """Give a command by its name."""
    if name != COMPLETION:
        return tree.command_of(name)
    from castlenut.command.upkeep.shells import completion

    return completion(options_by_command)


class _Parser(argparse.ArgumentParser):
    """Says what is wrong in the way of all our faults, and ends with 2."""

    def error(self, message: str) -> NoReturn:
        where = self.prog.partition(" ")[2]
        remedy = f'see "{self.prog} --help"'
        if message.startswith("argument --") and "expected one argument" in message:
            option = message.split(":", maxsplit=1)[0].removeprefix("argument ").split("/")[0]
            remedy = f"write a value that begins with - as {option}=-3d"
        output.tell(f"{where + ': ' if where else ''}{message}; {remedy}")
        sys.exit(output.BAD_INPUT)


def run(argv: Sequence[str], world: World) -> int:
    """Do what was typed, and give the exit code."""
    return output.guarded(lambda: _run(argv, world), world)


def _run(argv: Sequence[str], world: World) -> int:
    before, rest = _split(argv)
    options = vars(_global_parser().parse_args(before))
    if options.pop("version"):
        output.write(f"castlenut {VERSION}")
        return output.FINE
    if options.pop("help"):
        output.write(*_overview())
        return output.FINE
    if not rest:
        return _without_command(Call("castlenut", options, world))
    if rest[0] not in NAMES:
        output.tell(_no_such_command(rest[0]))
        return output.BAD_INPUT
    command = command_of(rest[0])
    parser = _command_parser(command)
    parse = parser.parse_args if command.is_nested else parser.parse_intermixed_args
    typed = {name: value for name, value in vars(parse(rest[1:])).items() if value is not None}
    return command.run(Call(command.name, {**options, **typed}, world))


def _split(argv: Sequence[str]) -> tuple[Sequence[str], Sequence[str]]:
    """Part what stands before the command from the command and what follows it."""
    first = 0
    while first < len(argv) and argv[first].startswith("-"):
        first += 2 if argv[first] in _WITH_VALUE else 1
    return argv[:first], argv[first:]


def _add_global(parser: argparse.ArgumentParser) -> None:
    everywhere = parser.add_argument_group("everywhere")
    everywhere.add_argument("--garage", metavar="DIR", help="the garage folder")
    everywhere.add_argument("--today", metavar="DATE", help="the day that counts as today")
    everywhere.add_argument(
        "--plain", action="store_true", default=None, help="plain lines, no screens"
    )


def _global_parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="castlenut",
        formatter_class=partial(argparse.HelpFormatter, width=_HELP_WIDTH),
        add_help=False,
        allow_abbrev=False,
    )
    _add_global(parser)
    parser.add_argument("--version", action="store_true")
    parser.add_argument("-h", "--help", action="store_true")
    return parser


def _command_parser(command: Command) -> argparse.ArgumentParser:
    parser = _Parser(
        prog=f"castlenut {command.name}",
        description=f"{command.words[0].upper()}{command.words[1:]}.",
        epilog=f"example:\n  {command.example}",
        formatter_class=partial(argparse.RawDescriptionHelpFormatter, width=_HELP_WIDTH),
        allow_abbrev=False,
        add_help=not command.has_own_help,
    )
    command.add_arguments(parser)
    _add_global(parser)
    return parser


def help_of(command: Command) -> str:
    """Give what `--help` tells of a command."""
    return _command_parser(command).format_help()


def _overview() -> Iterator[str]:
    yield "castlenut [--garage DIR] [--today DATE] [--plain] [COMMAND ...]"
    yield ""
    yield "What is due on an older car, and why. No command opens the screens."
    commands = [command_of(name) for name in NAMES]
    for group in GROUPS:
        members = [command for command in commands if command.group == group]
        if members:
            yield ""
            yield f"{group}:"
            yield from (f"  {command.name:<{_WIDTH}}{command.words}" for command in members)
    yield ""
    yield "--garage DIR    the garage folder; else CASTLENUT_GARAGE, else the platform's own place"
    yield "--today DATE    the day that counts as today"
    yield "--plain         plain lines on a terminal too, no screens"
    yield "--version       the version of the program"
    yield 'COMMAND --help  its arguments, with an example, as in "castlenut due --help"'


def _no_such_command(name: str) -> str:
    from difflib import get_close_matches

    near = get_close_matches(name, NAMES, n=3)
    remedy = f"did you mean {' or '.join(near)}?" if near else 'see "castlenut --help"'
    return f"command: no command '{name}'; {remedy}"


def _without_command(call: Call) -> int:
    """Open the screens; with --plain, or where they cannot be shown, print what is due."""
    if call.is_plain or not output.is_on_terminal():
        from castlenut.command.every_day.asking import due

        code = due(call)
        output.write("", "commands:", *_names())
        return code
    from castlenut.command.opening import open_screens

    return open_screens(call, call.garage_path())


def _names() -> Iterator[str]:
    yield from (f"{command.name}  {command.words}" for command in map(command_of, NAMES))
