"""What a row of a list says of an item: stamp, title, where, due at or on, left, needs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.domain.place import CORNERS, DUAL_CORNERS, Place
from castlenut.domain.working import Binds, Result, State
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words import figures, states

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from decimal import Decimal

    from castlenut.domain.due import CarToday
    from castlenut.domain.intake import Progress
    from castlenut.domain.item import Item
    from castlenut.domain.order import Row

COLUMNS = (
    Column(head="state", width=17, fits=True),
    Column(head="item", width=14, grow=3),
    Column(head="where", width=6, grow=1, fits=True),
    Column(head="due at", width=7, is_right=True),
    Column(head="or on", width=10, narrow=5),
    Column(head="left", width=12, is_right=True, fits=True, least=70),
    Column(head="needs", width=5, grow=1, fits=True, yields=True, least=78),
)
OWN_CHECKS = "own checks"
"""Key of the row that stands for the owner's own checks."""
INTAKE = "intake"
"""Key of the row that says how far the car's intake is."""


def row_key(row: Row) -> str:
    """Give the key under which a row stays the same when the list is read anew."""
    return str(row.first.id)


def item_row(row: Row, today: CarToday) -> Line:
    """Give the row of items that stand alike."""
    item = row.first
    dial = today.odometer.dial
    stamp = states.stamp_of(item)
    due_at = "-" if item.shown.due_at is None else figures.shown(item.shown.due_at, dial)
    return Line(
        key=row_key(row),
        cells=(
            str(stamp),
            item.rule.title,
            places_of(row),
            due_at,
            "-" if item.due_on is None else item.due_on.isoformat(),
            left_of(item, today),
            ", ".join(item.rule.access) or "-",
        ),
        color=stamp.color,
        name=item.rule.title,
        sought=" ".join((item.component.kind, item.component.part or "", *item.rule.also_called)),
    )


def intake_lines(progress: Progress) -> Iterator[Line]:
    """Give the row of an intake that is not at its end."""
    from castlenut.words.intake import progress_line

    if progress.left:
        told = f"{progress_line(progress)}: enter {'goes on' if progress.is_begun else 'begins'}"
        yield Line(key=INTAKE, cells=(told,), color="no-record", name="intake", spans=True)


_SETS = {
    frozenset(CORNERS): "all 4",
    frozenset(DUAL_CORNERS): "all 6",
    frozenset(DUAL_CORNERS) - frozenset(CORNERS): "rear duals",
}
"""Sets of places that have a name of their own."""


def places_of(row: Row) -> str:
    """Give the places of a row in few letters: all corners are `all 4`, `upper` is said once."""
    places = [item.place for item in row.items if item.place is not None]
    if not places:
        return "-"
    spots = [place.spot for place in places]
    which = {place.which for place in places}
    if len(which) > 1 or None in spots:
        return row.places
    told = _SETS.get(frozenset(spot for spot in spots if spot is not None)) or " ".join(
        spot.value for spot in spots if spot is not None
    )
    end = str(Place(which=places[0].which)) if places[0].which is not None else ""
    return f"{told} {end}".rstrip()


def left_of(item: Item, today: CarToday) -> str:
    """Give what is left until the item is due, or by how much it is over, by the side that binds.

    A distance stands without its unit, days with a `d`.
    """
    if item.before_it_rolls:
        return "to roll"
    if item.state is State.NO_RECORD:
        return f"rank {item.rank}" if item.rank else "-"
    result = next(step for step in item.working if isinstance(step, Result))
    days, distance = result.days_left, result.distance_left
    if item.binds in {Binds.DATE, Binds.SEASON, Binds.AGE} or distance is None:
        return "-" if days is None else _over_or_left(f"{abs(days):,} d", days)
    amount = figures.left(distance, today.odometer.dial)
    return _over_or_left(f"{abs(amount):,f}", amount)


def _over_or_left(amount: str, figure: Decimal | int) -> str:
    return f"{amount} {'over' if figure < 0 else 'left'}"


def ahead_rows(today: CarToday) -> tuple[Row, ...]:
    """Give the rows of a car that are ahead, the owner's own checks left aside."""
    from castlenut.domain.order import rows

    return rows(
        [item for item in today.items if item.state is State.AHEAD and not item.rule.is_own_check]
    )


def own_check_rows(today: CarToday) -> tuple[Row, ...]:
    """Give the rows of the owner's own checks."""
    from castlenut.domain.order import rows

    return rows([item for item in today.items if item.rule.is_own_check])


def found_row(rows_shown: Iterable[Row], key: str | None) -> Row | None:
    """Give the row under a key."""
    return next((row for row in rows_shown if row_key(row) == key), None)


def titles(items: Sequence[Item]) -> str:
    """Give items as a list of titles, those of one title once with their places."""
    places: dict[str, list[str]] = {}
    for item in items:
        places.setdefault(item.rule.title, []).append(str(item.place) if item.place else "")
    return "; ".join(
        f"{title} {' '.join(each for each in where if each)}".strip()
        for title, where in places.items()
    )
