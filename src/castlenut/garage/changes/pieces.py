"""What is fitted by one change: parts of a kind, an assembly with all it brings, parts stored."""

import re
from collections.abc import Collection, Mapping, Sequence
from functools import partial

from castlenut.domain.component import Component
from castlenut.domain.conversion import NewPart
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, field
from castlenut.domain.naming import choose, other_words
from castlenut.domain.place import Place, lies_in
from castlenut.domain.rules.rule import Assembly, KindOfPart, RuleBook
from castlenut.domain.standing import stands_at
from castlenut.garage.changes.by_kind import fields_by_kind
from castlenut.garage.changes.fitting import named
from castlenut.garage.changes.loose import is_loose
from castlenut.garage.changes.placing import read_places
from castlenut.garage.drafting import Drafting

_ID = re.compile(r"[0-9a-f-]{8,36}")
_OF_ALL = ("part", "made", "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Parts of one kind, where each stands, and what is typed of them.

    `stored`: the part from the shelf that is fitted. `leaving`: parts that make room for it, beside
    those that give way to any part of its kind.
    """

    kind: KindOfPart
    standing: Sequence[Place | None]
    fields: Mapping[str, str] = field(default_factory=dict)
    stored: Component | None = None
    leaving: tuple[Component, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """All that one change fits, under the name it was asked by; `raises` are its own events."""

    name: str
    pieces: tuple[Piece, ...]
    raises: tuple[str, ...] = ()


def find_pieces(
    new: Drafting,
    text: str,
    places: str | None,
    fields: Mapping[str, str],
    *,
    without: Sequence[str] = (),
    needs_place: bool = True,
) -> Pieces | None:
    """Find what is to be fitted: a kind, an assembly, or parts on the shelf by their ids.

    `without` names kinds that an assembly comes without. Faults are kept in the change; then None.
    """
    stored = new.read(lambda: _on_shelf(new, text))
    if stored is None:
        return None
    if stored:
        return _stored(new, stored, places, fields)
    book = new.garage.book
    name = new.read(lambda: find_part(text, book))
    if name is None:
        return None
    if name in book.assemblies:
        return _assembly(new, book.assemblies[name], places, fields, without=without)
    if without:
        new.fault(f"the {name} brings nothing with it", where="--without", remedy="leave it away")
    kind = book.kinds[name]
    standing: tuple[Place | None, ...] | None = (None,)
    if places is not None or needs_place:
        standing = new.read(lambda: read_places(places, kind, dual=new.car.vehicle.dual))
    if standing is None:
        return None
    return Pieces(name=name, pieces=(Piece(kind=kind, standing=standing, fields=fields),))


def find_part(text: str, book: RuleBook) -> str:
    """Give the kind or the assembly meant by its name or another word for it.

    Raises:
        BadInput: none is meant, or several are.
    """
    kinds = ((word, kind.name) for kind in book.kinds.values() for word in kind.also_called)
    brought = ((word, each.name) for each in book.assemblies.values() for word in each.also_called)
    also = other_words((*kinds, *brought))
    names = [name for name in (*book.kinds, *book.assemblies) if name != "vehicle"]
    return choose(text, names, what="kind", also=also, in_trade=True)


def _on_shelf(new: Drafting, text: str) -> tuple[Component, ...]:
    """Give the parts on the shelf that ids, or the ends of them, name; none: a kind is named.

    Raises:
        BadInput: a part that is not on the shelf.
    """
    words = [word for word in re.split(r"[,\s]+", text.strip().lower()) if word]
    if not words or not all(_ID.fullmatch(word) for word in words):
        return ()
    found = [
        next((part for part in new.car.components if part.record.endswith(word)), None)
        for word in words
    ]
    faults = [
        Fault(f"{word!r} is no part of this car", "record", "castlenut components lists its parts")
        if part is None
        else Fault(f"the {named(part)} is not on the shelf", "record", "name a part from the shelf")
        for word, part in zip(words, found, strict=True)
        if part is None or not (part.is_on_shelf or is_loose(part))
    ]
    if len(faults) == len(words) == 1 and found == [None]:
        return ()  # a word of eight letters may be a kind as well
    if faults:
        raise BadInput(*faults)
    return tuple({part.record: part for part in found if part is not None}.values())


def _stored(
    new: Drafting, stored: Sequence[Component], places: str | None, fields: Mapping[str, str]
) -> Pieces | None:
    pieces: list[Piece] = []
    if places is not None and len(stored) > 1:
        new.fault(
            "one place is given for several parts", where="place", remedy="fit each by itself"
        )
    for part in stored:
        kind = new.garage.book.kinds[part.kind]
        where = places if places is not None else str(part.place) if part.place else None
        standing = new.read(partial(read_places, where, kind, dual=new.car.vehicle.dual))
        if standing is not None and len(standing) != 1:
            new.fault(
                f"the {part.kind} on the shelf is one part, {where} are {len(standing)} places",
                where="place",
                remedy="give one place",
            )
        pieces.append(Piece(kind=kind, standing=standing or (), fields=fields, stored=part))
    name = ", ".join(dict.fromkeys(part.kind for part in stored))
    return None if new.faults else Pieces(name=name, pieces=tuple(pieces))


def _assembly(
    new: Drafting,
    assembly: Assembly,
    places: str | None,
    fields: Mapping[str, str],
    *,
    without: Sequence[str],
) -> Pieces | None:
    book = new.garage.book
    left = [
        found
        for each in without
        if (found := new.read(partial(choose, each, assembly.brings, what="kind")))
    ]
    kinds = [book.kinds[name] for name in assembly.brings if name not in left]
    standing: dict[str, tuple[Place | None, ...]] = {}
    for kind in kinds:
        here = new.read(partial(_places_of, new, kind, places))
        standing[kind.name] = here or ()
    begins = [
        NewPart(kind=kind.name, place=at, attributes=assembly.attributes.get(kind.name, {}))
        for kind in kinds
        for at in standing[kind.name]
    ]
    if new.faults:
        return None
    by_kind = fields_by_kind(new, begins, fields, book, for_all=_OF_ALL)
    return Pieces(
        name=assembly.name,
        pieces=tuple(
            Piece(
                kind=kind,
                standing=standing[kind.name],
                fields={**assembly.attributes.get(kind.name, {}), **by_kind.get(kind.name, {})},
                leaving=_in_its_place(new, kind, standing[kind.name]),
            )
            for kind in kinds
        ),
        raises=assembly.raises,
    )


def _places_of(new: Drafting, kind: KindOfPart, text: str | None) -> tuple[Place | None, ...]:
    """Give where parts of a kind come that an assembly brings.

    That is the places typed; of what a car may have once, where it has it; else wherever it may
    stand.

    Raises:
        BadInput: a place typed is no place of this car, or the kind has no place to stand at.
    """
    dual = new.car.vehicle.dual
    if text is not None and "one" not in kind.positions:
        return read_places(text, kind, dual=dual)
    here = tuple(
        dict.fromkeys(
            part.place_on(new.today) for part in new.car.fitted(new.today) if part.kind == kind.name
        )
    )
    if here:
        return here
    if stands_at(kind, None):
        return (None,)
    return read_places("L,R" if "sides" in kind.positions else "all", kind, dual=dual)


def _in_its_place(
    new: Drafting, kind: KindOfPart, standing: Collection[Place | None]
) -> tuple[Component, ...]:
    """Give the parts that an assembly replaces though parts of the kind may stand side by side."""
    if "free" not in kind.positions:
        return ()
    return tuple(
        part
        for part in new.car.fitted(new.today)
        if part.kind == kind.name
        and any(at == part.place or (at and lies_in(part.place, at)) for at in standing)
    )
