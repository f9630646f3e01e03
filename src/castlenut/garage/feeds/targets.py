"""Published targets: files and folders in which a feed is kept up to date by itself."""

import os
from collections.abc import Mapping
from datetime import UTC
from pathlib import Path

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.feed.feeds import Feed, feed_of
from castlenut.feed.ledger import Ledger
from castlenut.feed.ledger_values import values_of
from castlenut.garage.feeds.addresses import Subject, file_name, subject_of
from castlenut.garage.feeds.making import ledger_read
from castlenut.garage.feeds.writing import write
from castlenut.garage.garage import Garage
from castlenut.store.faults import FileFault, NotSaved
from castlenut.store.files import remove
from castlenut.store.ledger_file import ledger_bytes
from castlenut.store.values import Value

ELSEWHERE = "not on this machine"
_ENDING = ".ics"
_GONE = "the folder is gone"
_State = Mapping[str, str | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """A place where a feed is kept up to date. A folder holds it under its secret name.

    `written` is when it was last found or made current, `fault` why it could not be this time.
    `is_elsewhere`: its folder has never been on this machine, which is no fault.
    """

    path: str
    subject: Subject
    written: str | None
    fault: str | None
    is_elsewhere: bool


def targets(garage: Garage) -> tuple[Target, ...]:
    """Give the published targets as they were last left, by path. Nothing is written."""
    states = _read(garage).targets
    return tuple(
        _target(garage, path, feed, states.get(path, {}))
        for path, feed in sorted(_wanted(garage).items())
    )


def publish_to(garage: Garage, path: Path, *, feed: Feed) -> tuple[Target, tuple[str, ...]]:
    """Write a feed into a file or folder, and keep it up to date there from now on.

    Also gives sentences to be told.

    Raises:
        BadInput: it is no place for a feed.
        NotSaved: it could not be written; nothing is kept then.
    """
    place = str(path.absolute())
    if not (_is_folder(Path(place)) or place.endswith(_ENDING)):
        raise BadInput(
            Fault(
                "is no folder and no calendar file", os.fspath(path), "name one that ends in .ics"
            )
        )
    written = write(garage, Path(place), feed)
    kept: dict[str, Value] = dict(garage.settings.feed_targets)
    if kept.get(place) != feed.id:
        garage.keep({"feed_targets": {**kept, place: feed.id}})
    _keep(garage, {place: _state(garage, fault=None)})
    return _target(garage, place, feed, _read(garage).targets.get(place, {})), written.told


def stop(garage: Garage, path: Path) -> None:
    """Forget a target. The file stays where it is.

    Raises:
        BadInput: nothing is published there.
        NotSaved: it could not be saved.
    """
    kept: dict[str, Value] = dict(garage.settings.feed_targets)
    place = next((each for each in (os.fspath(path), str(path.absolute())) if each in kept), None)
    if place is None:
        there = ", ".join(sorted(kept)) or "nothing is"
        raise BadInput(Fault("is no published target", os.fspath(path), f"published: {there}"))
    del kept[place]
    garage.keep({"feed_targets": kept or None})
    _forget(garage, place)


def bring_up_to_date(garage: Garage) -> tuple[Target, ...]:
    """Write every target that is on this machine; equal bytes are not touched.

    What goes wrong with one is kept beside it and hinders no other, nor the caller.
    """
    wanted = _wanted(garage)
    states: dict[str, _State] = {}
    before = _read(garage).targets
    for path, feed in sorted(wanted.items()):
        if _is_elsewhere(garage, path, before.get(path, {})):
            continue
        try:
            written = write(garage, _place(path), feed)
        except (BadInput, NotSaved) as refused:
            states[path] = {**before.get(path, {}), "fault": _words(refused)}
            continue
        old = before.get(path, {})
        if written.changed or old.get("fault") or not old.get("written"):
            states[path] = _state(garage, fault=None)
    changed = {path: state for path, state in states.items() if before.get(path) != state}
    if changed:
        try:
            _keep(garage, changed)
        except (BadInput, NotSaved) as refused:
            return _with_fault(garage, str(refused))
    return targets(garage)


def published_feeds(garage: Garage) -> frozenset[Feed]:
    """Give the feeds that are published anywhere."""
    return frozenset(_wanted(garage).values())


def remove_old(garage: Garage, old_names: Mapping[str, str]) -> None:
    """Remove the files under names that hold no longer, from the folders that are published.

    `old_names` has the former name of a feed's file by the id of the feed.
    """
    for path, feed in _wanted(garage).items():
        folder = Path(path)
        name = old_names.get(feed.id)
        if name is not None and name != file_name(garage, feed) and _is_folder(folder):
            remove(folder / name)


def _wanted(garage: Garage) -> dict[str, Feed]:
    kept = garage.settings.feed_targets
    return {path: feed for path, id_ in kept.items() if (feed := feed_of(id_)) is not None}


def _target(garage: Garage, path: str, feed: Feed, state: _State) -> Target:
    return Target(
        path=path,
        subject=subject_of(garage, feed),
        written=state.get("written"),
        fault=state.get("fault"),
        is_elsewhere=_is_elsewhere(garage, path, state),
    )


def _is_elsewhere(garage: Garage, path: str, state: _State) -> bool:
    """Tell whether a target belongs to another machine: its folder is not here and never was."""
    is_here = _is_folder(Path(path).parent if path.endswith(_ENDING) else Path(path))
    return not is_here and state.get("by") != garage.surroundings.device()


def _words(refused: BadInput | NotSaved) -> str:
    """Say why a target was not written; its path stands beside it."""
    return refused.message if isinstance(refused, NotSaved) else refused.faults[0].what


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:  # its parent may not be looked into: as good as not there
        return False


def _place(path: str) -> Path:
    """Give where a target is written; a folder that is gone is not taken for a file to be made.

    Raises:
        NotSaved: the folder is gone.
    """
    if not path.endswith(_ENDING) and not _is_folder(Path(path)):
        raise NotSaved(path, _GONE)
    return Path(path)


def _state(garage: Garage, *, fault: str | None) -> _State:
    now = garage.surroundings.now().astimezone(UTC)
    return {
        "by": garage.surroundings.device(),
        "fault": fault,
        "written": now.strftime("%Y-%m-%dT%H:%M:%SZ"),
    }


def _read(garage: Garage) -> Ledger:
    there = garage.folder.read_ledger()
    read = None if isinstance(there, FileFault) else ledger_read(there)
    return read or Ledger()


def _keep(garage: Garage, states: Mapping[str, _State]) -> None:
    def remade(held: bytes | None) -> bytes:
        ledger = ledger_read(held) or Ledger()
        return ledger_bytes(values_of(replace(ledger, targets={**ledger.targets, **states})))

    garage.folder.rewrite_ledger(remade, garage.change())


def _forget(garage: Garage, path: str) -> None:
    def remade(held: bytes | None) -> bytes:
        ledger = ledger_read(held) or Ledger()
        left = {name: state for name, state in ledger.targets.items() if name != path}
        return ledger_bytes(values_of(replace(ledger, targets=left)))

    garage.folder.rewrite_ledger(remade, garage.change())


def _with_fault(garage: Garage, fault: str) -> tuple[Target, ...]:
    return tuple(replace(each, fault=each.fault or fault) for each in targets(garage))
