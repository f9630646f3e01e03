"""Second copies of a file that a sync program left beside it: counted in, united, put away."""

from collections.abc import Iterable
from pathlib import Path

from castlenut.domain.frozen import dataclass
from castlenut.store.content import Content, examined
from castlenut.store.faults import FaultWord, FileFault
from castlenut.store.files import make_folder, read_plain, replace, sync_folder
from castlenut.store.forgetting import FORGET
from castlenut.store.loading import FilePlace, State, load
from castlenut.store.merge import merge, merged_header
from castlenut.store.revisions import text_of
from castlenut.store.values import canonical


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """A second file of one car or of the garage: where it lies, its bytes, how much it adds.

    `counted` is how many records it has that the others lack, or have not whole.
    """

    path: Path
    data: bytes
    counted: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled:
    """All files of one car taken together; `told` are faults of the copies, and what was counted.

    `state` None: none of them could be read.
    """

    state: State | None
    copies: tuple[Copy, ...]
    told: tuple[FileFault, ...]


def assembled(place: FilePlace, main: State | None, others: Iterable[Path]) -> Assembled:
    """Take a file together with its copies, in memory. `main` None: it has none of its own."""
    whole = main.content if main is not None else None
    copies: list[Copy] = []
    told: list[FileFault] = []
    for path in sorted(others):
        name = path.name
        found = load(
            FilePlace(
                path=path,
                kind=place.kind,
                name=_named_like(place, name),
                stem=place.stem,
                room=place.room,
            )
        )
        if isinstance(found, FileFault):
            told.append(found)
        if not isinstance(found, State) or found.data is None:
            continue
        before = whole
        whole = found.content if whole is None else united(whole, found.content)
        counted = _records_added(before, whole)
        copies.append(Copy(path=path, data=found.data, counted=counted))
        told.append(_told(place, name, counted, is_only=before is None))
    if whole is None:
        return Assembled(state=None, copies=(), told=tuple(told))
    if main is not None and whole is main.content:
        return Assembled(state=main, copies=tuple(copies), told=tuple(told))
    state = State(content=whole, data=main.data if main is not None else None)
    return Assembled(state=state, copies=tuple(copies), told=tuple(told))


def united(ours: Content, theirs: Content) -> Content:
    """Merge two readings of one file, and check what comes of it."""
    return examined(
        ours.kind,
        merged_header(ours.header, theirs.header),
        merge(ours.tables, theirs.tables),
        known=ours,
        stood_twice=tuple(dict.fromkeys((*ours.stood_twice, *theirs.stood_twice))),
    )


def forgets_in(content: Content) -> frozenset[str]:
    """Give the revs of a file by which anything was forgotten."""
    return frozenset(
        text_of(each, "rev")
        for _, _, revisions in content.usable()
        for each in revisions
        if FORGET in each
    )


def put_away(copies: Iterable[Copy], room: Path, *, whole: Content) -> tuple[str, ...]:
    """Move copies that were united and saved to `merged/`; name those that could not be moved.

    `whole` is what was saved: where anything of it was forgotten, the copies are deleted, since
    they may know it still. The caller holds the lock. One that changed meanwhile stays, and nothing
    is lost where a move fails: a copy that stays is counted in again.
    """
    are_deleted = bool(forgets_in(whole))
    # Imported here: only a save that unites needs it.
    import hashlib

    stayed: list[str] = []
    for copy in copies:
        digest = hashlib.sha256(copy.data).hexdigest()[:8]
        kept = room / "merged" / f"{copy.path.name}.{digest}"
        if read_plain(copy.path) != copy.data:
            continue
        try:
            if are_deleted:
                copy.path.unlink()
            else:
                make_folder(kept.parent)
                replace(copy.path, kept)
                sync_folder(kept.parent)
            sync_folder(copy.path.parent)
        except OSError:
            stayed.append(copy.path.name)
    return tuple(stayed)


def _named_like(place: FilePlace, name: str) -> str:
    folder, slash, _ = place.name.rpartition("/")
    return f"{folder}{slash}{name}"


def _records_added(before: Content | None, after: Content) -> int:
    had = before.tables if before is not None else {}
    return sum(
        1
        for table, records in after.tables.items()
        for record, value in records.items()
        if record not in had.get(table, {})
        or (had[table][record] is not value and canonical(had[table][record]) != canonical(value))
    )


def _told(place: FilePlace, name: str, counted: int, *, is_only: bool) -> FileFault:
    if is_only:
        message = f"stands under another name, {name}: the next save writes it as {place.path.name}"
    else:
        records = "1 record" if counted == 1 else f"{counted:,} records"
        verb = "is" if counted == 1 else "are"
        message = (
            f"{name} is a second copy of {place.stem}: {records} from it {verb} counted in;"
            " the next save unites them"
        )
    return FileFault(file=place.name, word=FaultWord.COPY, message=message)
