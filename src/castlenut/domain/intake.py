"""Taking a car on: which kinds of part are asked for, and how far the answers have come."""

from collections.abc import Iterator, Mapping
from datetime import date

from castlenut.domain.car import Car
from castlenut.domain.frozen import dataclass
from castlenut.domain.place import Place, lies_in, place, touches
from castlenut.domain.rules.rule import Act, KindOfPart, RuleBook
from castlenut.domain.standing import standing_places
from castlenut.domain.ticks import ENDS, FRONT, REAR, chosen
from castlenut.domain.vehicle import Vehicle

_NOT_ASKED = frozenset({"vehicle", "repair"})
"""The car itself, and what is put on record by mending."""
_PLACES: Mapping[str, tuple[str, ...]] = {
    "tire": ENDS,
    "wheel": ENDS,
    "ball joint": (FRONT,),
    "knuckle": (FRONT,),
    "parking brake": (REAR,),
    "idler": ("-",),
    "drain": ("-",),
    "cavity": ("-",),
    "seat belt": ("-",),
    "harness": ("-",),
    "universal joint": ("-",),
}
"""Where a kind is asked for; of the others its positions tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A kind of part asked for at intake, at places as they are typed; `-` is no place.

    `rank` is that of the most pressing item it makes, `act` what ends its "no record".
    """

    kind: KindOfPart
    where: str
    rank: int
    act: Act

    @property
    def name(self) -> str:
        """Give the kind and where, as a line of the intake begins: `brake hose front`."""
        return f"{self.kind.name} {self.where}"

    def places(self, *, dual: bool) -> tuple[Place | None, ...]:
        """Give the single places it is asked for."""
        return tuple(
            at
            for word in self.where.split(",")
            for at in standing_places(self.kind, place(word), dual=dual)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far the intake of a car is: what is asked for, and what of it has no answer yet.

    What a part on the car excludes needs none. `is_begun`: how the car is built was ticked.
    """

    asked: tuple[Asked, ...]
    left: tuple[Asked, ...]
    is_begun: bool

    @property
    def kinds(self) -> int:
        """Give how many kinds are asked for."""
        return len({each.kind.name for each in self.asked})

    @property
    def answered(self) -> int:
        """Give how many kinds have all their answers."""
        return self.kinds - len({each.kind.name for each in self.left})


def asked_of(vehicle: Vehicle, book: RuleBook) -> tuple[Asked, ...]:
    """Give what is asked for of a car, in the order of the pages.

    A kind that no rule is about makes no item, so that nothing can be known or not known of it.
    What is not ticked leaves every kind it might decide.
    """
    lacks = {name for _, choice in chosen(vehicle) for name in choice.lacks}
    return tuple(
        each
        for kind in book.kinds.values()
        if kind.name not in _NOT_ASKED and kind.name not in lacks
        for each in _of_kind(kind, book)
        if each.name not in lacks
    )


def _of_kind(kind: KindOfPart, book: RuleBook) -> Iterator[Asked]:
    acts = [
        (rule.intake.rank, rule.intake.act)
        for rule in book.rules.values()
        if kind.name in rule.kinds and rule.intake is not None
    ]
    if not acts:
        return
    rank, act = min(acts, key=lambda each: each[0])
    for where in _PLACES.get(kind.name) or _usual_places(kind):
        yield Asked(kind=kind, where=where, rank=rank, act=act)


def _usual_places(kind: KindOfPart) -> tuple[str, ...]:
    first = kind.positions[0]
    if first == "sides":
        return ("L,R",)
    return (FRONT, REAR) if first in {"corners", "ends"} else ("-",)


def progress(car: Car, book: RuleBook, *, today: date) -> Progress:
    """Give how far the intake of a car is."""
    asked = asked_of(car.vehicle, book)
    left = tuple(each for each in asked if not _is_answered(each, car, book, today))
    return Progress(asked=asked, left=left, is_begun=bool(car.vehicle.ticks))


def _is_answered(asked: Asked, car: Car, book: RuleBook, today: date) -> bool:
    """Tell whether each place has an answer, a part of the kind, or one that excludes it."""
    kind = asked.kind
    answers = [each.place for each in car.statements if each.kind == kind.name]
    settled = [
        part.place_on(today) for part in car.fitted(today) if _settles(part.kind, kind, book)
    ]
    return all(
        any(at is None or touches(at, each) for each in answers)
        or any(at is None or lies_in(each, at) or lies_in(at, each) for each in settled)
        for at in asked.places(dual=car.vehicle.dual)
    )


def _settles(fitted: str, kind: KindOfPart, book: RuleBook) -> bool:
    other = book.kinds.get(fitted)
    return (
        fitted == kind.name
        or fitted in kind.excludes
        or (other is not None and kind.name in other.excludes)
    )
