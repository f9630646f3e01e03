"""The tree of commands: what is typed, where options stand, what is said of a slip."""

from importlib.metadata import version
from pathlib import Path

import pytest

import castlenut.command
from castlenut.command.arguments import NAMES, command_of
from castlenut.command.command import GROUPS, Command
from castlenut.command.tree import HELD_IN, held_in
from castlenut.command.version import VERSION
from tests.command.conftest import Shop


def test_the_version_is_that_of_the_package(shop: Shop) -> None:
    told = shop("--version")

    assert (told.code, told.out) == (0, f"castlenut {VERSION}\n")
    assert version("castlenut") == VERSION


def test_help_lists_the_commands_by_group(shop: Shop) -> None:
    told = shop("--help")

    assert told.code == 0
    titles = [line for line in told.lines if line.endswith(":")]
    assert titles == ["every day:", "tires:", "calendar and paper:", "upkeep:"]
    assert "  due         what is due, worst first, on one car or on all" in told.lines


COMMANDS = tuple(map(command_of, NAMES))


@pytest.mark.parametrize("module", HELD_IN)
def test_the_tree_names_all_that_a_module_holds(module: str) -> None:
    assert tuple(command.name for command in held_in(module)) == HELD_IN[module]


def test_the_tree_names_every_module_of_commands() -> None:
    folder = Path(str(castlenut.command.__file__)).parent

    holding = {
        ".".join(path.relative_to(folder).with_suffix("").parts)
        for path in folder.glob("*/*.py")
        if "\nCOMMANDS = (" in path.read_text("utf-8")
    }

    assert holding == set(HELD_IN)


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: str(command.name))
def test_each_command_has_words_a_group_and_an_example(command: Command) -> None:
    assert command.group in GROUPS
    assert f"castlenut {command.name}" in command.example
    assert command.words


@pytest.mark.parametrize("name", [command.name for command in COMMANDS if not command.has_own_help])
def test_the_help_of_each_command_ends_with_its_example(shop: Shop, name: str) -> None:
    told = shop(name, "--help")

    assert told.code == 0
    example = next(command.example for command in COMMANDS if command.name == name)
    assert told.lines[-2:] == ["example:", f"  {example}"]


def test_no_option_may_be_cut_short(yard: Shop) -> None:
    """An abbreviation of today may be another option's tomorrow."""
    told = yard("due", "--with", "90d")

    assert told.code == 2
    assert "unrecognized arguments: --with" in told.err


def test_a_mistyped_command_names_what_was_likely_meant(shop: Shop) -> None:
    told = shop("vehicels")

    assert told.code == 2
    assert told.faults == ["castlenut: command: no command 'vehicels'; did you mean vehicles?"]


def test_a_missing_argument_is_one_sentence(shop: Shop) -> None:
    told = shop("why", "fallowmere")

    assert told.code == 2
    assert told.faults == [
        'castlenut: why: the following arguments are required: ITEM; see "castlenut why --help"'
    ]


def test_a_value_that_begins_with_a_hyphen_is_explained(yard: Shop) -> None:
    told = yard("reading", "fallowmere", "61700", "--on", "-3d")

    assert told.code == 2
    assert told.faults == [
        (
            "castlenut: reading: argument --on: expected one argument; write a value that begins"
            " with - as --on=-3d"
        )
    ]
    assert yard("reading", "fallowmere", "61605", "--on=-1d").code == 0


def test_the_day_may_stand_before_or_behind_the_command(yard: Shop) -> None:
    before = yard("--today", "2026-12-25", "due", "--json")
    behind = yard("due", "--json", "--today", "2026-12-25")

    assert before.out == behind.out
    assert before.out != yard("due", "--json").out


def test_a_day_that_does_not_exist_is_refused(yard: Shop) -> None:
    told = yard("--today", "2026-02-30", "due")

    assert told.code == 2
    assert told.faults == [
        'castlenut: --today: "2026-02-30" is not a day; write a day that exists, as 2026-11-25'
    ]


def test_options_may_stand_between_arguments(yard: Shop) -> None:
    told = yard(
        "done", "fallowmere", "--hours", "0.5", "u-bolts", "--at", "61605", "ride-height", "--json"
    )

    assert told.code == 0, told.err


def test_without_a_garage_reading_commands_say_how_to_make_one(shop: Shop) -> None:
    told = shop("due")

    assert told.code == 2
    assert told.faults == [
        (
            f'castlenut: no garage at {shop.path}: make one with "castlenut --garage {shop.path}'
            ' add SLUG"'
        )
    ]


def test_no_command_with_plain_prints_what_is_due_and_the_commands(yard: Shop) -> None:
    told = yard("--plain")

    assert told.code == 0
    assert told.lines[0].startswith("!! overdue  fallowmere  spring U-bolts, torque, LR")
    assert "due  what is due, worst first, on one car or on all" in told.lines
