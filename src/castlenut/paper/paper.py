"""A paper as a value: what stands on it, before it is laid out as text, page or JSON."""

from enum import Enum

from castlenut.domain.frozen import dataclass


class Kind(Enum):
    """Which paper it is, by the words on top of it."""

    DUE_SHEET = "due sheet"
    HANDOVER_BOOK = "handover book"
    JOB_CARD = "job card"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One thing on a paper.

    `told`: what is known of it, a sentence each. `boxes`: what is to be written in by hand, each
    with its unit in brackets. `number` is that of the row in the form of a day's work. `items`: the
    items it stands for, as commands name them.
    """

    what: str
    number: int | None = None
    told: tuple[str, ...] = ()
    boxes: tuple[str, ...] = ()
    items: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of a paper under its own title; `empty` is said where it has no line."""

    title: str
    lines: tuple[Line, ...]
    empty: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What every paper begins with: whose it is, of which car, and what `ready` says of it.

    `facts` are the car's particulars by name. `standing`: what stands against handing it over.
    """

    garage: tuple[str, ...]
    slug: str
    car: str
    facts: tuple[tuple[str, str], ...]
    is_ready: bool
    ready: str
    standing: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A whole paper. `feed`: the public address of the owner's calendar; None: it has none."""

    kind: Kind
    head: Head
    sections: tuple[Section, ...]
    signatures: tuple[str, ...]
    cautions: tuple[str, ...]
    feed: str | None = None
