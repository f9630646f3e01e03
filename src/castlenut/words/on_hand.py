"""Parts to have on hand, in words."""

from castlenut.domain.naming import unique_name
from castlenut.domain.on_hand import Needed
from castlenut.words.answers import Answer
from castlenut.words.escape import one_line
from castlenut.words.listing import GAP


def needed_line(slug: str, each: Needed, *, has_car: bool) -> str:
    """Give one sort of part as a line: when, what, where, its number, the shelf, and for what."""
    places = " ".join(map(str, each.places))
    titles = dict.fromkeys(one_line(item.rule.title) for item in each.items)
    parts = (
        "due" if each.planned_on is None else f"{each.planned_on:%a} {each.planned_on.isoformat()}",
        slug if has_car else "",
        f"{each.part}, {places}" if places and each.kind is not None else each.part,
        _number(each),
        _shelf(each),
        f"for: {'; '.join(titles)}",
    )
    return GAP.join(part for part in parts if part)


def _number(each: Needed) -> str:
    if each.last is None or each.last.part is None:
        return "" if each.kind is None else "number not known"
    since = f", fitted {each.last.on.isoformat()}" if each.last.on else ""
    return f"number {one_line(each.last.part)}{since}"


def _shelf(each: Needed) -> str:
    if not each.shelf:
        return "" if each.kind is None else "none on the shelf"
    ids = " ".join(part.record[-8:] for part in each.shelf)
    return f"on the shelf: {len(each.shelf)} ({ids})"


def needed_answer(slug: str, each: Needed) -> dict[str, Answer]:
    """Give one sort of part for other programs."""
    return {
        "vehicle": slug,
        "part": each.part,
        "kind": each.kind,
        "positions": [str(place) for place in each.places],
        "number": each.number,
        "last_fitted_on": None
        if each.last is None or each.last.on is None
        else each.last.on.isoformat(),
        "shelf": [
            {
                "id": part.record,
                "position": str(part.place) if part.place else None,
                "number": part.part,
            }
            for part in each.shelf
        ],
        "items": [unique_name(item) for item in each.items],
        "planned_on": None if each.planned_on is None else each.planned_on.isoformat(),
    }
