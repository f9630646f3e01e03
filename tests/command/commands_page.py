"""Make docs/commands.md from the program's own help: run this file as a script."""

import argparse
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from castlenut.command.arguments import (  # noqa: E402 (the checkout comes first)
    NAMES,
    command_of,
    help_of,
)
from castlenut.command.command import GROUPS  # noqa: E402

PAGE = ROOT / "docs" / "commands.md"
_HEAD = """# Commands

Made from the program by `python tests/command/commands_page.py`. What each answers as JSON stands
in [json.md](json.md). All cars and people in the examples are invented.

Exit codes: **0** done; **1** only with `--check`, when something stands against it; **2** what
was typed cannot be, and nothing was changed; **3** a cause outside (the disk, a lock, the
network), and what was saved before stands. What goes wrong is told on standard error in one
sentence: where, what, and what to do.

Everywhere: `--garage DIR` names the garage folder (else `CASTLENUT_GARAGE`, else the platform's
own place), `--today DATE` the day that counts as today, `--plain` wants plain lines on a
terminal, too: state word first, no color, no boxes, as a screen reader likes it.
"""


def page() -> str:
    """Give the page: every command with its help, group by group."""
    parts = [_HEAD]
    for group in GROUPS:
        parts.append(f"## {group.capitalize()}\n")
        for command in map(command_of, NAMES):
            if command.group == group:
                told = "\n".join(f"    {line}".rstrip() for line in help_of(command).splitlines())
                parts.append(f"### {command.name}\n\n{told}\n")
    return "\n".join(parts)


def main() -> None:
    """Write the page, or with --check tell whether it is as the program would make it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true")
    if parser.parse_args().check:
        sys.exit(0 if PAGE.read_text(encoding="utf-8") == page() else 1)
    PAGE.write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main()
