"""Which kind of part is meant, and where it stands."""

from collections.abc import Iterable

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.naming import choose, other_words
from castlenut.domain.place import CORNERS, DUAL_CORNERS, Place, Spot, on_car, place
from castlenut.domain.rules.rule import KindOfPart, RuleBook
from castlenut.domain.standing import allowed_places, standing_places, stands_at
from castlenut.domain.tires.standing import walk


def find_kind(text: str, book: RuleBook) -> str:
    """Give the kind of part meant by its name or another word for it.

    Raises:
        BadInput: no kind is meant, or several are.
    """
    also = other_words(
        (word, each.name) for each in book.kinds.values() for word in each.also_called
    )
    names = [name for name in book.kinds if name != "vehicle"]
    return choose(text, names, what="kind", also=also, in_trade=True)


def read_places(text: str | None, kind: KindOfPart, *, dual: bool) -> tuple[Place | None, ...]:
    """Read the places at which parts of a kind stand: `LF,RF`, `front`, `all`.

    Raises:
        BadInput: one is no place, or none where such a part can stand; the allowed ones are named.
    """
    if text is None or not text.strip() or text.strip() == "-":
        if stands_at(kind, None):
            return (None,)
        raise BadInput(
            Fault(f"no place is given for the {kind.name}", "place", f"give {allowed_places(kind)}")
        )
    found: list[Place | None] = []
    faults: list[Fault] = []
    for part in text.split(","):
        word = part.strip()
        try:
            here = _all(kind, dual=dual) if word.lower() == "all" else (place(word),)
        except BadInput:
            faults.append(_no_place(word, kind))
            continue
        try:
            for one in here:
                on_car(one, dual=dual)
        except BadInput as bad:
            faults.extend(bad.faults)
            continue
        expanded = [each for one in here for each in standing_places(kind, one, dual=dual)]
        if not expanded or any(not stands_at(kind, each) for each in expanded):
            faults.append(_no_place(word, kind))
        found.extend(expanded)
    if len(set(found)) < len(found):
        faults.append(Fault(f"{text!r} names a place twice", "place", "name each place once"))
    if faults:
        raise BadInput(*faults)
    return tuple(found)


def wheel_place(text: str, *, dual: bool, field: str = "place") -> Spot:
    """Read the place of one wheel: a corner that the car has, or SP.

    Raises:
        BadInput: it is none; all places of wheels on this car are named.
    """
    spots = walk(dual=dual)
    try:
        found = place(text)
    except BadInput:
        # told below: which places there are on this car
        found = None
    if found is None or found.which is not None or found.spot not in spots:
        raise BadInput(
            Fault(
                f"{text.strip()!r} is no place of a wheel on this car",
                field,
                f"use {', '.join(each.value for each in spots)}",
            )
        )
    return found.spot


def _no_place(word: str, kind: KindOfPart) -> Fault:
    return Fault(
        f"{word!r} is no place for the {kind.name}", "place", f"give {allowed_places(kind)}"
    )


def _all(kind: KindOfPart, *, dual: bool) -> tuple[Place | None, ...]:
    spots: Iterable[Spot]
    if any(each.startswith("corners") for each in kind.positions):
        spots = DUAL_CORNERS if dual else CORNERS
    elif "ends" in kind.positions:
        spots = (Spot.FRONT, Spot.REAR)
    elif "sides" in kind.positions:
        spots = (Spot.L, Spot.R)
    else:
        return (None,)
    return tuple(Place(spot) for spot in spots)
