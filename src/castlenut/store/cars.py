"""Which file of the folder holds which car: its own, and copies of it under other names.

A car is known by the id in its file's header. Its proper name is the short name asked for when it
was taken in; of several cars that asked for one name, the smallest id has it and the others are
told apart by the end of their ids. So every copy of a garage gives its cars the same names.
"""

import os
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from castlenut.domain.frozen import dataclass
from castlenut.store.content import HEADER, Content, FileKind
from castlenut.store.decoding import decode
from castlenut.store.files import Unread, read_plain
from castlenut.store.revisions import as_record
from castlenut.store.slug import is_slug

ENDING = ".json"
_DIGITS = 8
_HEAD_BYTES = 400
_HEAD = re.compile(
    rb'\{\s*"%b"\s*:\s*\{[^{}]*"vehicle"\s*:\s*"([0-9A-Za-z-]{8,64})"' % HEADER.encode()
)
_ASKED = re.compile(rb'"slug"\s*:\s*"([^"\\]{1,200})"')
_PARTED = re.compile(r".*-[0-9a-f]{8}")

Stamp = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class CarFiles:
    """One car's files: `main` under its proper name, None where there is none, and `others`.

    `slug` is the proper name without its ending, `asked` the short name it asked for. `id` None:
    the header of the only file could not be read. `may_be_struck`: a record in them may be struck,
    told only by a thorough look.
    """

    id: str | None
    slug: str
    asked: str
    main: str | None
    others: tuple[str, ...] = ()
    may_be_struck: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        """Give the names of all its files."""
        return (*((self.main,) if self.main else ()), *self.others)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cars:
    """The cars of a folder by proper name, and files that are no car that can be told."""

    by_slug: Mapping[str, CarFiles]
    loose: tuple[str, ...]

    def by_id(self) -> Mapping[str, CarFiles]:
        """Give the cars whose id could be read, by it."""
        return {each.id: each for each in self.by_slug.values() if each.id is not None}

    def holder(self, name: str) -> CarFiles | None:
        """Give the car that a file holds."""
        return next((each for each in self.by_slug.values() if name in each.names), None)


def cars_among(folder: Path, names: Sequence[str], *, thorough: bool) -> Cars:
    """Find out which car each file holds.

    Heads of files are read; whole files where two hold one car, or a name is none that a car may
    have. Only if `thorough` a file under a name that may be another car's is found as well.
    """
    holders: dict[str, list[str]] = {}
    unread: list[str] = []
    for name in names:
        identity = identity_of(folder / name)
        if identity is None:
            unread.append(name)
        else:
            holders.setdefault(identity, []).append(name)
    struck: set[str] = set()
    asked: dict[str, str] = {}
    for identity, files in holders.items():
        told, may_be_struck = _asked(folder, files, thorough=thorough)
        asked[identity] = told
        if may_be_struck:
            struck.add(identity)
    slugs = proper_slugs(asked)
    by_slug: dict[str, CarFiles] = {}
    for identity, files in holders.items():
        proper = f"{slugs[identity]}{ENDING}"
        if proper in unread:
            # Its own file is damaged: it is never taken for missing and written over.
            unread.remove(proper)
            files.append(proper)
        by_slug[slugs[identity]] = CarFiles(
            id=identity,
            slug=slugs[identity],
            asked=asked[identity],
            main=proper if proper in files else None,
            others=tuple(each for each in files if each != proper),
            may_be_struck=identity in struck,
        )
    loose: list[str] = []
    for name in unread:
        stem = name.removesuffix(ENDING)
        if is_slug(stem) and stem not in by_slug:
            by_slug[stem] = CarFiles(id=None, slug=stem, asked=stem, main=name)
        else:
            loose.append(name)
    return Cars(by_slug=by_slug, loose=tuple(loose))


def proper_slugs(asked: Mapping[str, str]) -> Mapping[str, str]:
    """Give each car's proper name, by id: the smallest id of those that asked for it has it."""
    taken: dict[str, str] = {}
    for identity in sorted(asked):
        name = asked[identity]
        if name in taken:
            name = f"{name}-{identity[-_DIGITS:].lower()}"
        while name in taken:
            name = f"{name}-{identity.lower()}"
        taken[name] = identity
    return {identity: name for name, identity in taken.items()}


def asked_slug(content: Content) -> str | None:
    """Give the short name that a car asked for, struck or not; None where its record tells none."""
    found: list[str] = []
    for table, record, revisions in content.usable():
        if table == "vehicle":
            slug = as_record(table, record, revisions).values.get("slug")
            if isinstance(slug, str) and is_slug(slug):
                found.append(slug)
    return min(found, default=None)


def identity_of(path: Path) -> str | None:
    """Give the id in a file's header, without reading all of a file written by the program."""
    head = _head(path)
    if head is None:
        return None
    found = _HEAD.search(head)
    if found is not None:
        return found[1].decode()
    content = _content(path)
    return content.identity if content is not None else None


def _head(path: Path) -> bytes | None:
    """Give the first bytes of a plain file; None for what is none, or cannot be read."""
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        handle = os.open(path, flags)
    except OSError:
        return None
    try:
        return os.read(handle, _HEAD_BYTES)
    except OSError:
        return None
    finally:
        os.close(handle)


def _asked(folder: Path, names: Sequence[str], *, thorough: bool) -> tuple[str, bool]:
    """Give the short name a car asked for, by what its files tell, else by their names.

    Also whether a record in them may be struck.
    """
    stems = [name.removesuffix(ENDING) for name in names]
    plain = [stem for stem in stems if is_slug(stem) and not _PARTED.fullmatch(stem)]
    if len(names) == 1 and plain and not thorough:
        return plain[0], False
    told: set[str] = set()
    may_be_struck = False
    for name in names:
        data = read_plain(folder / name)
        if isinstance(data, bytes):
            may_be_struck = may_be_struck or b'"gone"' in data
            told.update(_asked_in(data))
    if told:
        return min(told), may_be_struck
    return min(plain) if plain else min(_near(stem) for stem in stems), may_be_struck


def _asked_in(data: bytes) -> Iterable[str]:
    told = {each.decode("utf-8", "replace") for each in _ASKED.findall(data)}
    if len(told) == 1 and is_slug(only := told.pop()):
        return (only,)
    found = decode(data, FileKind.VEHICLE)
    slug = asked_slug(found) if isinstance(found, Content) else None
    return () if slug is None else (slug,)


def _content(path: Path) -> Content | None:
    data = read_plain(path)
    if isinstance(data, Unread) or data is None:
        return None
    found = decode(data, FileKind.VEHICLE)
    return found if isinstance(found, Content) else None


def _near(stem: str) -> str:
    """Give a short name near a file's name that is none."""
    from castlenut.store.slug import slug_from

    return slug_from(stem)
