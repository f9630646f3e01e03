"""Parts that exclude each other at one place: two kinds, or two of a kind that differ."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import combinations

from castlenut.domain.component import Component
from castlenut.domain.frozen import dataclass
from castlenut.domain.place import Place, Spot, Which, lies_in
from castlenut.domain.rules.rule import KindOfPart


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Two parts that cannot stand together.

    `attribute` names what tells two of a kind apart; None: the kinds exclude each other. `place` is
    where both stand: an axle for parts that must be alike on one.
    """

    one: Component
    other: Component
    place: Place | None
    attribute: str | None = None


def conflicts(
    parts: Sequence[Component], kinds: Mapping[str, KindOfPart], *, on: date
) -> tuple[Conflict, ...]:
    """Give the parts fitted on a day that exclude each other, each pair of sorts once a place."""
    fitted = [part for part in parts if part.is_fitted_on(on) and part.kind in kinds]
    marked = [part for part in fitted if _may_conflict(kinds[part.kind])]
    found: dict[tuple[object, ...], Conflict] = {}
    for one, other in combinations(marked, 2):
        for conflict in _between(one, other, kinds, on):
            names = (one.kind, other.kind, conflict.attribute, conflict.place)
            found.setdefault(names, conflict)
    return tuple(found.values())


def _may_conflict(kind: KindOfPart) -> bool:
    return bool(kind.excludes or kind.apart)


def _between(
    one: Component, other: Component, kinds: Mapping[str, KindOfPart], on: date
) -> Iterator[Conflict]:
    kind = kinds[one.kind]
    here, there = one.place_on(on), other.place_on(on)
    if one.kind != other.kind:
        excludes = other.kind in kind.excludes or one.kind in kinds[other.kind].excludes
        if excludes and (lies_in(here, there) or lies_in(there, here)):
            yield Conflict(one=one, other=other, place=here if lies_in(here, there) else there)
        return
    place = _shared(here, there, by_axle=kind.apart_by == "axle")
    if place is None and not (here is None and there is None):
        return
    for attribute, groups in kind.apart.items():
        mine, theirs = (_group(part, attribute, groups) for part in (one, other))
        if mine is not None and theirs is not None and mine != theirs:
            yield Conflict(one=one, other=other, place=place, attribute=attribute)


def _group(part: Component, attribute: str, groups: Sequence[Sequence[str]]) -> int | None:
    value = part.attributes.get(attribute)
    return next((number for number, group in enumerate(groups) if value in group), None)


def _shared(here: Place | None, there: Place | None, *, by_axle: bool) -> Place | None:
    """Give the place that two parts of a kind share: a corner, an arm, or the axle they stand on.

    Upper and lower, inner and outer belong to the same corner: two bushings of one arm.
    """
    if here is None or there is None:
        return None
    if by_axle:
        return next(
            (
                end
                for end in (Place(Spot.FRONT), Place(Spot.REAR))
                if lies_in(here, end) and lies_in(there, end)
            ),
            None,
        )
    if here == there:
        return here
    same_spot = here.spot is not None and here.spot is there.spot
    return Place(here.spot) if same_spot and not _on_two_arms(here, there) else None


def _on_two_arms(here: Place, there: Place) -> bool:
    return {here.which, there.which} == {Which.UPPER, Which.LOWER}
