"""tread: depths typed as pairs, or read from standard input in walking order."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.every_day.saving import save_and_tell
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.place import Spot
from castlenut.domain.tires.standing import walk
from castlenut.garage.changes.tread import draft_tread

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from castlenut.command.call import Call

_PLACES = frozenset(spot.value for spot in (*walk(dual=False), *walk(dual=True)))
_RECORD = re.compile(r"[0-9a-f-]{8,}")
_IS_PLACE = re.compile(r"[A-Za-z]{2,3}")
_NOTHING = frozenset({"-", "skip"})


def record_tread(call: Call) -> int:
    """Record what was measured, all of it as one change.

    Raises:
        BadInput: nothing is given, or with every fault of what is.
    """
    source, words = call.maybe("source"), call.texts("words")
    if source not in {None, "-"}:
        raise BadInput(
            Fault(f'"{source}" cannot be read from', "--from", "write --from - for standard input")
        )
    if (source is None) == (not words):
        what = "no depth is given" if source is None else "depths and --from are both given"
        raise BadInput(Fault(what, "PLACE DEPTHS", "give pairs as LF 7, or --from -"))
    garage, slug = call.garage_and_car()
    if source is None:
        entries = pairs(words)
    else:
        dual = garage.car(slug).car.vehicle.dual
        entries = walked(call.world.stdin, walk(dual=dual))
    draft = draft_tread(
        garage,
        slug,
        entries,
        **call.given("on", "at", "by", "note"),
    )
    save_and_tell(call, garage, draft)
    return output.FINE


def pairs(words: Sequence[str]) -> list[tuple[str, str]]:
    """Part words into a place, or the id of a tire, and the depths up to the next.

    What is written right behind a place and is none itself is taken for its depth.

    Raises:
        BadInput: the first is no place, or a place has no depths.
    """
    found: list[tuple[str, list[str]]] = []
    for word in words:
        is_behind_a_place = bool(found) and not found[-1][1]
        if _begins(word) and not (is_behind_a_place and not _names(word)):
            found.append((word, []))
        elif found:
            found[-1][1].append(word)
        else:
            raise BadInput(Fault(f"{word!r} is no place", "PLACE DEPTHS", "write LF 7 RF 7"))
    _need_depths(found)
    return [(place, " ".join(depths)) for place, depths in found]


def walked(lines: Iterable[str], order: Sequence[Spot]) -> list[tuple[str, str]]:
    """Read lines in walking order; one that names its place goes there, `-` passes one by.

    Empty lines and lines beginning with # are no lines.

    Raises:
        BadInput: more lines than places, or a place without depths, by the number of the line.
    """
    found: list[tuple[str, list[str]]] = []
    ahead = list(order)
    faults: list[Fault] = []
    for number, line in enumerate(lines, start=1):
        words = line.split()
        if not words or words[0].startswith("#"):
            continue
        if _begins(words[0]):
            found.append((words[0], words[1:]))
            here = words[0].upper()
            at = next((n for n, spot in enumerate(order) if spot.value == here), None)
            ahead = ahead if at is None else list(order[at + 1 :])
            continue
        if not ahead:
            faults.append(
                Fault("there is no place left on the walk", f"line {number}", "name its place")
            )
            continue
        spot = ahead.pop(0)
        if words[0] not in _NOTHING:
            found.append((spot.value, words))
    if faults:
        raise BadInput(*faults)
    _need_depths(found)
    return [(place, " ".join(depths)) for place, depths in found]


def _begins(word: str) -> bool:
    """Tell whether a word names a place or a tire, and not a depth or its unit."""
    if _names(word):
        return True
    return bool(_IS_PLACE.fullmatch(word)) and word.lower() not in {"mm", "in"}


def _names(word: str) -> bool:
    """Tell whether a word is a place of some car, or could be the end of a tire's id."""
    return word.upper() in _PLACES or _RECORD.fullmatch(word.lower()) is not None


def _need_depths(found: Sequence[tuple[str, Sequence[str]]]) -> None:
    faults = [
        Fault("has no depth", place, "write it behind the place, as LF 7")
        for place, depths in found
        if not depths
    ]
    if faults:
        raise BadInput(*faults)
