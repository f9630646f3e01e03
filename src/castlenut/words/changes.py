"""A past change in one sentence: what was entered, corrected, struck or restored."""

from collections.abc import Mapping, Sequence
from enum import Enum

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import item_id
from castlenut.words.escape import one_line

_MOST = 3
_LEADS = ("vehicle", "job", "component", "reading")
_MAIN = {
    "component": ("kind", "place"),
    "statement": ("item", "kind", "place", "answer"),
    "odometer_event": ("event",),
    "happening": ("event", "place"),
    "exposure": ("name", "from"),
    "decline": ("item",),
    "measurement": ("item", "measure", "place"),
    "tire": ("size",),
    "placement": ("place",),
    "visit": ("on", "state"),
    "finding": ("what", "place"),
    "own_item": ("title",),
    "figure": ("name", "place"),
    "rule_change": ("rule",),
    "room": ("place", "when"),
    "stay": ("from",),
}
"""By table the fields that tell what a new record is about; of a table not named, its name."""
_WORDS = {
    "component": "fitted",
    "decline": "declined",
    "measurement": "measured",
    "stay": "in work",
    "exposure": "exposed to",
    "figure": "figure",
    "rule_change": "rule changed for this car:",
    "finding": "found",
    "visit": "visit",
    "room": "gap measured",
}


class Did(Enum):
    """What a change did to a record."""

    MADE = "made"
    CORRECTED = "corrected"
    STRUCK = "struck"
    RESTORED = "restored"
    FORGOT = "forgotten"


@dataclass(frozen=True, slots=True, kw_only=True)
class Touched:
    """One record a change touched: its table, the end of its id, what was done, the fields set."""

    table: str
    short: str
    did: Did
    values: Mapping[str, object]


def sentence(touched: Sequence[Touched]) -> str:
    """Give a change in one sentence, what it is mostly about first."""
    by_lead = sorted(touched, key=_lead)
    # A job that names no item is only the day on which the rest was done.
    told = [_told(each) for each in by_lead if not _is_bare_job(each)] or list(map(_told, by_lead))
    told = list(dict.fromkeys(told))
    if any(each.table == "job" and not _is_bare_job(each) for each in touched) and len(told) > 1:
        return f"{told[0]}, with {_listed(told[1:])}"
    return _listed(told) if told else "nothing"


def _is_bare_job(touched: Touched) -> bool:
    return touched.table == "job" and touched.did is Did.MADE and not touched.values.get("items")


def _listed(told: Sequence[str]) -> str:
    more = len(told) - _MOST
    return ", ".join(told[:_MOST]) + (f" and {more} more" if more > 0 else "")


def _lead(touched: Touched) -> int:
    return _LEADS.index(touched.table) if touched.table in _LEADS else len(_LEADS)


def _told(touched: Touched) -> str:
    named = f"{touched.table.replace('_', ' ')} {touched.short}"
    if touched.table == "garage":
        named = "settings"
    match touched.did:
        case Did.MADE:
            return _made(touched)
        case Did.CORRECTED if touched.table == "component" and touched.values.get("removed_on"):
            return one_line(f"{named} taken off on {touched.values['removed_on']}")
        case Did.CORRECTED:
            return one_line(f"{named} corrected: {', '.join(sorted(touched.values))}")
        case Did.FORGOT:
            return f"{named}: owner's fields forgotten"
        case Did.STRUCK | Did.RESTORED:
            return f"{named} {touched.did.value}"


def _made(touched: Touched) -> str:
    values = touched.values
    match touched.table:
        case "vehicle":
            return one_line(f"{values.get('slug', touched.short)} added")
        case "garage":
            return one_line(f"settings: {', '.join(sorted(values))}")
        case "reading":
            figure = values.get("figure")
            shown = f"{figure:,}" if isinstance(figure, int) else str(figure)
            return one_line(f"reading {shown} {values.get('unit')} on {values.get('on')}")
        case "job":
            items = values.get("items")
            done = [_item(each) for each in items] if isinstance(items, list) else []
            names = ", ".join(dict.fromkeys(done)) or "job"
            return one_line(f"done {names} on {values.get('on')}")
        case table:
            words = [_WORDS.get(table, table.replace("_", " "))]
            words.extend(_item(values[name]) for name in _MAIN.get(table, ()) if name in values)
            return one_line(" ".join(words))


def _item(value: object) -> str:
    """Give an item by its rule alone, anything else as it stands."""
    found = item_id(value) if isinstance(value, str) else None
    return found.rule if found is not None else str(value)
