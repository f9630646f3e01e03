"""What must be opened for an item, written as it is typed: a key, with a place where one counts."""

from castlenut.domain.item import Item
from castlenut.domain.place import Place, Spot, corners_of, spots
from castlenut.domain.rules.rule import Per, RuleBook

_SIDES = (Spot.L, Spot.R)
_ENDS = (Spot.FRONT, Spot.REAR)


def access_keys(item: Item, book: RuleBook) -> tuple[str, ...]:
    """Give the accesses of an item by key: `lift`, `wheel LF`; a key alone is the whole car."""
    return tuple(
        text
        for key in item.rule.access
        for text in _with_places(key, item.place, book.accesses[key].per)
    )


def _with_places(key: str, where: Place | None, per: Per) -> tuple[str, ...]:
    if where is None or where.spot is None:
        return (key,)
    match per:
        case Per.CAR:
            return (key,)
        case Per.WHEEL:
            corners = (each.spot.value for each in corners_of(where) if each.spot is not None)
            return tuple(f"{key} {corner}" for corner in corners) or (key,)
        case Per.SIDE:
            return (f"{key} {_of(where.spot, _SIDES)}".strip(),)
        case Per.AXLE:
            return (f"{key} {_of(where.spot, _ENDS)}".strip(),)


def _of(spot: Spot, among: tuple[Spot, ...]) -> str:
    """Give the side or end that a spot belongs to; empty where it belongs to none or to both."""
    return next((each.value for each in among if spots(spot) <= spots(each)), "")
