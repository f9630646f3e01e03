"""What leaves the command line: plain lines, JSON, sentences on stderr, and the exit code.

Also the door where exceptions become words: past it none goes on.
"""

from __future__ import annotations

import errno
import os
import sys
from functools import cache
from typing import TYPE_CHECKING

from castlenut.words.escape import LONGEST_TEXT, one_line

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from json import JSONEncoder
    from pathlib import Path

    from castlenut.command.world import World

FINE = 0
WARNING = 1  # asked for with --check
BAD_INPUT = 2
NOT_DONE = 3  # for a cause outside the input
_NO_ROOM = frozenset({errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)})
_USUAL_WIDTH = 80
_LEAST_WIDTH = 40  # narrower than this, folding makes a line no easier to read
_STOPPED = 130  # by ctrl+c, as shells say it
_NOBODY_READS = 141  # the pipe is closed, as shells say it


def write(*lines: str) -> None:
    """Write plain lines to stdout at once, nothing of them raw.

    On a terminal those that are too wide for it are folded between words; a pipe gets them whole.
    """
    plain = [one_line(line, LONGEST_TEXT) for line in lines]
    if is_on_terminal():
        width = _terminal_width()
        plain = [part for line in plain for part in folded(line, width)]
    sys.stdout.write("".join(f"{line}\n" for line in plain))


def folded(line: str, width: int) -> list[str]:
    """Fold a line between words; what follows the first part is indented two more than it."""
    if len(line) <= width or width < _LEAST_WIDTH:
        return [line]
    indent = " " * (len(line) - len(line.lstrip()) + 2)
    parts: list[str] = []
    rest = line
    while len(rest) > width:
        at = rest.rfind(" ", len(indent), width + 1)
        if at < 0:
            at = rest.find(" ", width)
            if at < 0:
                break
        parts.append(rest[:at].rstrip())
        rest = indent + rest[at:].lstrip()
    return [*parts, rest]


def _terminal_width() -> int:
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns
    except OSError:
        return _USUAL_WIDTH


_DARK_ON_LIGHT = "\x1b[30;107m"
_REVERSE = "\x1b[7m"
_PLAIN_AGAIN = "\x1b[0m"


def draw(rows: Iterable[str], *, color: bool) -> None:
    """Draw rows dark on light whatever the terminal's own colors; for a terminal only."""
    begin = _DARK_ON_LIGHT if color else _REVERSE
    sys.stdout.write("".join(f"{begin}{row}{_PLAIN_AGAIN}\n" for row in rows))


def flush() -> None:
    """Hand over what was written: what it tells has happened for good."""
    sys.stdout.flush()


def tell(message: str) -> None:
    """Say one line on stderr."""
    sys.stderr.write(f"castlenut: {one_line(message, LONGEST_TEXT)}\n")


def write_json(answer: object) -> None:
    """Write an answer as one JSON text, ASCII only; in lines only where a person reads it."""
    sys.stdout.write(json_text(answer) + "\n")


def json_text(answer: object) -> str:
    """Give an answer as JSON, ASCII only; in lines only where a person reads it."""
    if is_on_terminal():
        import json

        return json.dumps(answer, indent=2, default=_whole_or_float)
    return _compact().encode(answer)


@cache
def _compact() -> JSONEncoder:
    """Give the encoder of short texts, made once: `json.dumps` makes one for each."""
    from json import JSONEncoder

    return JSONEncoder(separators=(",", ":"), default=_whole_or_float, check_circular=False)


def write_json_list(texts: Iterable[str]) -> None:
    """Write answers that are JSON texts already as one list, as `write_json` would."""
    begin, between, end = ("[\n  ", ",\n  ", "\n]\n") if is_on_terminal() else ("[", ",", "]\n")
    is_first = True
    for text in texts:
        sys.stdout.write(begin if is_first else between)
        sys.stdout.write(text.replace("\n", "\n  "))
        is_first = False
    sys.stdout.write("[]\n" if is_first else end)


def write_canonical(records: list[Mapping[str, object]]) -> None:
    """Write records one a line, each in the one text it has: keys sorted, no blanks, ASCII."""
    import json

    encode = json.JSONEncoder(sort_keys=True, separators=(",", ":"), default=_whole_or_float).encode
    sys.stdout.write("".join(f"{encode(record)}\n" for record in records))


def _whole_or_float(value: object) -> float:
    from decimal import Decimal

    if isinstance(value, Decimal):
        return float(value)
    raise TypeError(type(value).__name__)


def is_on_terminal() -> bool:
    """Tell whether a person sees stdout."""
    return sys.stdout.isatty()


def guarded(work: Callable[[], int], world: World) -> int:
    """Do the work and give its exit code; whatever goes wrong in it becomes words and a code."""
    try:
        code = work()
        sys.stdout.flush()
    except KeyboardInterrupt:
        return _STOPPED
    except BrokenPipeError:
        # the interpreter flushes stdout once more at its end
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return _NOBODY_READS
    except OSError as error:
        if error.filename is not None or error.errno not in _NO_ROOM:
            return _told(error, world)
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # what is left of it
        tell("the answer could not be written: the disk is full")
        return NOT_DONE
    except Exception as error:  # noqa: BLE001 - the one door: an unforeseen fault is told, not lost
        return _told(error, world)
    return code


def _told(error: Exception, world: World) -> int:
    from castlenut.domain.errors import BadInput
    from castlenut.store.faults import FileRefused, FolderRefused, NotSaved

    if isinstance(error, FileRefused | FolderRefused):
        tell(str(error))
        return BAD_INPUT
    if isinstance(error, BadInput):
        for fault in error.faults:
            tell(str(fault))
        return BAD_INPUT
    if isinstance(error, NotSaved):
        tell(str(error))
        return NOT_DONE
    what = f"something went wrong ({type(error).__name__}); what was saved before stands"
    tell(f"{what}; details in {saved_report(error, world)}")
    return NOT_DONE


def saved_report(error: Exception, world: World) -> str:
    """Save what is known of an unforeseen fault; give where it is, or why it is nowhere."""
    import traceback

    from castlenut.command.version import VERSION
    from castlenut.store.faults import NotSaved
    from castlenut.store.outside import write_outside

    path = _report_path(world)
    text = "".join((f"castlenut {VERSION}\n\n", *traceback.format_exception(error)))
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_outside(path, text.encode("utf-8", "backslashreplace"))
    except (NotSaved, OSError) as refused:
        return f"no file: {path} could not be written ({refused})"
    return str(path)


def _report_path(world: World) -> Path:
    from platformdirs import user_state_path

    stamp = world.now().strftime("%Y-%m-%d-%H%M%S")
    return user_state_path("castlenut", appauthor=False) / "reports" / f"{stamp}.txt"
