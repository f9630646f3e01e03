"""docs/commands.md says what the program's own help says."""

import sys

import pytest

from tests.command.commands_page import PAGE, page

MADE_WITH = (3, 11)
"""Other versions of Python lay their help out a little otherwise."""


@pytest.mark.skipif(sys.version_info[:2] != MADE_WITH, reason="made with another Python")
def test_the_page_is_as_the_program_would_make_it() -> None:
    told = PAGE.read_text(encoding="utf-8")

    assert told == page(), "run: python tests/command/commands_page.py"


def test_every_command_has_an_example_of_its_own() -> None:
    assert page().count("\n    example:\n") == page().count("\n### ")
