"""What a row of the list of readings says: the mark, the day, the figure, what it means."""

from collections.abc import Iterator

from castlenut.domain.odometer import Odometer, Placed
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words import figures
from castlenut.words.odometer import entered, remark

COLUMNS = (
    Column(head="   read on", width=13),
    Column(head="dial shows", width=10, is_right=True),
    Column(head="true", width=10, is_right=True),
    Column(head="since", width=8, is_right=True),
    Column(head="remark", width=20, grow=1, least=60),
)
EMPTY = "No reading yet: r records one"


def reading_rows(odometer: Odometer) -> Iterator[Line]:
    """Give the readings, the newest first."""
    dial, runs = odometer.dial, dict(_runs(odometer))
    for each in reversed(odometer.placed):
        run = runs.get(each.reading.record)
        is_asked = each.oddity is not None
        yield Line(
            key=each.reading.record,
            cells=(
                f"{'??' if is_asked else '  '} {each.reading.on}",
                entered(each),
                "left out" if each.distance is None else figures.shown(each.distance, dial),
                "-" if run is None else figures.shown(run, dial),
                remark(each) or (each.reading.note or "-"),
            ),
            color="due" if is_asked else "text",
            name=f"{each.reading.on}",
        )


def _runs(odometer: Odometer) -> Iterator[tuple[str, float]]:
    """Give by record the true distance since the sound reading before."""
    before: Placed | None = None
    for each in odometer.sound:
        if before is not None and each.distance is not None and before.distance is not None:
            yield each.reading.record, each.distance - before.distance
        before = each
