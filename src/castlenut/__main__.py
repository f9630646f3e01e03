"""The entry: the only place that reads clock, chance, environment and arguments."""

import atexit
import gc
import io
import os
import sys
from datetime import UTC, date, datetime

from castlenut.command.arguments import run
from castlenut.command.world import World


def main() -> int:
    """Run the command line, and give its exit code."""
    # A command makes many small values and next to no circles, and then it ends: looking for them
    # hardly ever, and not at the end, saves 5 to 10 %, and holds no more memory.
    gc.set_threshold(200_000, 20, 20)
    atexit.register(gc.freeze)
    # Whatever the terminal cannot show is written as an escape, and never ends the program.
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(encoding="utf-8", errors="surrogateescape")
    world = World(
        environment=os.environ,
        today=date.today,
        now=lambda: datetime.now(UTC),
        new_id=_new_id,
        draw=_draw,
        stdin=sys.stdin,
    )
    return run(sys.argv[1:], world)


def _new_id() -> str:
    # Imported here: reading commands make no record, and it takes longer to load than they do.
    from uuid6 import uuid7

    return str(uuid7())


def _draw(count: int) -> bytes:
    from secrets import token_bytes

    return token_bytes(count)


if __name__ == "__main__":
    sys.exit(main())
