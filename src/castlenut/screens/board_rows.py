"""What the rows of the board say: every car, and what is open on the one under the cursor."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from castlenut.screens.item_rows import item_row
from castlenut.screens.widgets.cells import wrapped
from castlenut.screens.widgets.columns import MARGIN, Column, Line
from castlenut.words import states

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from castlenut.domain.due import CarToday
    from castlenut.domain.order import Row
    from castlenut.garage.answers import BoardRow

COLUMNS = (
    Column(head="state", width=17),
    Column(head="car", width=20, grow=3),
    Column(head="first thing", width=15, grow=2),
    Column(head="open", width=4, is_right=True),
    Column(head="next", width=5, is_right=True, least=66),
)
RING_COLUMNS = (
    Column(head="state", width=10),
    Column(head="car", width=20, fits=True),
    Column(head="telephone", width=14, fits=True),
    Column(head="why", width=15, grow=3),
    Column(head="owner", width=20, fits=True, least=110),
)
EMPTY = "No car yet. n takes one in; castlenut demo opens a sample garage"
_NOT_YET = "..."
_LEAST_WIDTH = 20


ALL, TO_RING, SOLD = "all", "to ring", "sold"
WHICH = (ALL, TO_RING, SOLD)
"""Which cars stand on the board, one after the other by the same key."""
_NOBODY = {
    TO_RING: "nobody has to be called: a shows the sold cars",
    SOLD: "no car is sold: a shows all",
}


def columns_of(which: str) -> tuple[Column, ...]:
    """Give what the rows say of the cars, of those to ring, of those sold."""
    return RING_COLUMNS if which == TO_RING else COLUMNS


def chosen_lines(
    rows: Mapping[str, BoardRow | None], which: str, rung: Mapping[str, Sequence[str]]
) -> Iterator[Line]:
    """Give the rows of the cars to ring, with owner, telephone and why; or of those sold."""
    known = _in_order([row for row in rows.values() if row is not None])
    here = [row for row in known if (row.slug in rung if which == TO_RING else row.is_sold)]
    yield _heading(f"{which}", len(here)) if here else _heading(_NOBODY[which])
    for row in here:
        line = _car_line(row)
        yield line if which == SOLD else _ringing(line, rung[row.slug])


def _ringing(line: Line, told: Sequence[str]) -> Line:
    state, car, *_ = line.cells
    owner, phone, why = told
    return replace(line, cells=(state, car, phone, why, owner))


def car_lines(rows: Mapping[str, BoardRow | None]) -> Iterator[Line]:
    """Give the rows of all cars: unread ones, those in work, the others worst first.

    None: the car is not reckoned yet; it stands last, by its short name.
    """
    known = _in_order([row for row in rows.values() if row is not None and not row.is_sold])
    waiting = [slug for slug, row in rows.items() if row is None]
    in_work = [row for row in known if row.fault is None and row.in_work]
    others = [row for row in known if row.fault is None and not row.in_work]
    yield from (_car_line(row) for row in known if row.fault is not None)
    if in_work:
        yield _heading("in work", len(in_work))
        yield from map(_car_line, in_work)
        if others or waiting:
            yield _heading("the others", len(others) + len(waiting))
    yield from map(_car_line, others)
    yield from map(_waiting_line, waiting)


def _in_order(known: Sequence[BoardRow]) -> Sequence[BoardRow]:
    if not known:
        return known  # at the first paint: what reckons is not loaded yet
    from castlenut.garage.answers import board_order

    return sorted(known, key=board_order)


def feed_lines(faults: Sequence[str]) -> Iterator[Line]:
    """Give a line for each published feed that could not be brought up to date."""
    yield from (
        _heading(f"{states.CANNOT_BE_READ.mark} feed not written: {each}") for each in faults
    )


def open_lines(today: CarToday, rows: Sequence[Row]) -> Iterator[Line]:
    """Give what is open on a car, under a heading with its name."""
    yield _heading(f"{today.car.vehicle.description}, now")
    yield from (item_row(each, today) for each in rows)
    if not rows:
        yield _heading("nothing is recorded on this car: f records a part")


def fault_lines(fault: str | None, width: int) -> Iterator[Line]:
    """Give why a car cannot be read; without a fault it is not reckoned yet, or there is no car."""
    if fault is None:
        return
    yield _heading("cannot be read")
    for number, part in enumerate(wrapped(fault, max(width - MARGIN - 1, _LEAST_WIDTH))):
        yield Line(key=f"fault {number}", cells=(part,), spans=True)


def _heading(text: str, count: int | None = None) -> Line:
    told = text if count is None else f"{text}, {count}"
    return Line(key=f"heading {text}", cells=(told,), is_heading=True)


def _car_line(row: BoardRow) -> Line:
    if row.fault is not None:
        stamp = states.CANNOT_BE_READ
        cells = (str(stamp), f"{row.slug}.json", row.fault, "-", "-")
        return Line(key=row.slug, cells=cells, color=stamp.color, name=row.slug)
    if row.state is not None:
        stamp = states.stamp(row.state, row.may_be)
    else:  # of a car without a record nobody knows whether something is due
        stamp = states.NO_RECORD if row.is_blank else states.AHEAD
    return Line(
        key=row.slug,
        cells=(
            str(stamp) if row.state is not None or row.is_blank else "-  nothing due",
            row.description,
            row.first or ("nothing recorded yet" if row.is_blank else "-"),
            f"{row.open:,}" if row.open else "-",
            "-" if row.next_on is None else f"{row.next_on:%m-%d}",
        ),
        color=stamp.color,
        name=row.description,
        sought=f"{row.slug} {row.owner or ''}",
    )


def _waiting_line(slug: str) -> Line:
    cells = (_NOT_YET, slug.replace("-", " ").title(), _NOT_YET, _NOT_YET, _NOT_YET)
    return Line(key=slug, cells=cells, color="quiet", name=slug)
