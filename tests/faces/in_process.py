"""The command line run in this process: quicker than the installed script, the same answers."""

import io
from collections.abc import Sequence
from contextlib import redirect_stderr, redirect_stdout
from datetime import UTC, date, datetime
from itertools import count
from pathlib import Path

from castlenut.command.arguments import run
from castlenut.command.world import World
from tests.faces.installed import Answer

CLOCK = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)


def ran(*words: str, garage: Path | None, today: str, given: str = "") -> Answer:
    """Run a command on a day, with a fixed clock and ids that rise."""
    ids = count(1)
    world = World(
        environment={"CASTLENUT_DEVICE": "dev-00c0de"},
        today=lambda: date.fromisoformat(today),
        now=lambda: CLOCK,
        new_id=lambda: f"01a212e3-56cb-7000-8000-{next(ids):012x}",
        draw=bytes,
        stdin=io.TextIOWrapper(io.BytesIO(given.encode()), encoding="utf-8"),
    )
    before: Sequence[str] = () if garage is None else ("--garage", str(garage))
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            code = run([*before, *words], world)
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else 1
    return Answer(code, out.getvalue(), err.getvalue())
