"""Which part gives way to a new one, and whether the new one can have come on its day."""

from collections.abc import Iterator
from datetime import date

from castlenut.domain.component import Component
from castlenut.domain.ids import short
from castlenut.domain.place import Place, lies_in
from castlenut.domain.rules.rule import KindOfPart
from castlenut.garage.drafting import Drafting


def gives_way(
    new: Drafting, one: str, there: Place | None, kind: KindOfPart, at: Place | None
) -> bool:
    """Tell whether a part of the kind `one`, standing `there`, gives way to a new part."""
    if one == kind.name:
        return _takes_the_place(kind, at, there)
    other = new.garage.book.kinds.get(one)
    excludes = one in kind.excludes or (other is not None and kind.name in other.excludes)
    return excludes and (lies_in(there, at) or lies_in(at, there))


def refuse_before_another(
    new: Drafting, kind: KindOfPart, at: Place | None, day: date, *, but: frozenset[str]
) -> None:
    """Keep a fault where a part came to the place only after the day one is said to be fitted.

    The two would stand there at once, and which gave way to which nobody said.
    """
    for part in new.car.components:
        if part.record in but or part.is_on_shelf:
            continue
        for there, since in _came(part):
            if since > day and gives_way(new, part.kind, there, kind, at):
                named_there = f"{part.kind} {there}" if there is not None else part.kind
                new.fault(
                    f"{day.isoformat()} is before the {named_there} there was fitted,"
                    f" {since.isoformat()}",
                    where="on",
                    remedy=f"give a day from {since.isoformat()} on, or strike that one"
                    f" ({short(part.record)}) first",
                )
                return


def refuse_made_later(
    new: Drafting, *, made: date | None, stored: Component | None, on: date | None
) -> None:
    """Keep a fault where a part was made after the day it is said to be fitted."""
    known = made or (stored.made if stored is not None else None)
    if known is not None and on is not None and known > on:
        new.fault(
            f"it was made after it was fitted, {on.isoformat()}",
            where="made",
            remedy=f"give a day from {known.isoformat()} on, or another date of make",
        )


def _came(part: Component) -> Iterator[tuple[Place | None, date]]:
    """Give where a part came to stand, and since when."""
    for each in part.stood:
        if each.place is not None:
            yield each.place, each.since
    if not part.stood and part.on is not None:
        yield part.place, part.on


def _takes_the_place(kind: KindOfPart, at: Place | None, there: Place | None) -> bool:
    """Tell whether a new part of a kind takes the place of one.

    Parts that may stand anywhere (a drain, a repair) stand beside one another, unless the car has
    one of them.
    """
    if at is None or there is None:
        return at is there and ("free" not in kind.positions or "one" in kind.positions)
    if "free" in kind.positions:
        return False
    return lies_in(there, at)
