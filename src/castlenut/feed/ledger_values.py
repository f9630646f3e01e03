"""The ledger as plain values, as `feed.json` holds them, and back again."""

from collections.abc import Mapping
from datetime import UTC, date, datetime

from castlenut.domain.errors import BadInput, Fault
from castlenut.feed.candidate import ALARM_LEADS, Kind, Scope
from castlenut.feed.ledger import Entry, FeedState, Ledger

Plain = None | int | str | list["Plain"] | dict[str, "Plain"]
"""What the ledger is made of on disk."""

_MOST = 2**31 - 1  # what a SEQUENCE may be
_MOST_DAYS = 366
_REMEDY = "delete feed.json: it is made anew, with the same events"


def values_of(ledger: Ledger) -> dict[str, dict[str, Plain]]:
    """Give a ledger as plain values, in the order of their names."""
    return {
        "events": {uid: _entry_values(ledger.events[uid]) for uid in sorted(ledger.events)},
        "feeds": {name: _feed_values(ledger.feeds[name]) for name in sorted(ledger.feeds)},
        "targets": {path: dict(ledger.targets[path]) for path in sorted(ledger.targets)},
    }


def _entry_values(entry: Entry) -> Plain:
    return {
        "kind": entry.scope.kind.value,
        "audience": entry.scope.audience,
        "subject": entry.scope.subject,
        "start": entry.start.isoformat(),
        "days": entry.days,
        "summary": entry.summary,
        "description": entry.description,
        "category": entry.category,
        "location": entry.location,
        "alarms": list(entry.alarms),
        "expected": entry.expected,
        "stamp": _stamp(entry.stamp),
        "sequence": entry.sequence,
        "gone_on": None if entry.gone_on is None else entry.gone_on.isoformat(),
    }


def _feed_values(feed: FeedState) -> Plain:
    return {
        "digest": feed.digest,
        "source": feed.source,
        "changed": _stamp(feed.changed),
        "until": feed.until.isoformat(),
        "events": feed.events,
        "name": feed.name,
        "vehicles": dict(sorted(feed.vehicles.items())),
    }


def _stamp(instant: datetime) -> str:
    return instant.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def ledger_of(values: Mapping[str, object]) -> Ledger:
    """Read a ledger from plain values; what is missing as a whole is empty.

    Raises:
        BadInput: a value is not what `values_of` would give there. The ledger is then of no use.
    """
    return Ledger(
        events={
            uid: _entry(_Fields(f"event {uid}", entry))
            for uid, entry in _table("events", values.get("events")).items()
        },
        feeds={
            name: _feed(_Fields(f"feed {name}", feed))
            for name, feed in _table("feeds", values.get("feeds")).items()
        },
        targets={
            path: {
                name: value
                for name, value in _table(f"target {path}", target).items()
                if value is None or isinstance(value, str)
            }
            for path, target in _table("targets", values.get("targets")).items()
        },
    )


def _entry(fields: "_Fields") -> Entry:
    return Entry(
        scope=Scope(
            kind=fields.kind("kind"),
            audience=fields.text("audience"),
            subject=fields.text("subject"),
        ),
        start=fields.day("start"),
        days=fields.whole("days", _MOST_DAYS),
        summary=fields.text("summary"),
        description=fields.text("description"),
        category=fields.text("category"),
        location=fields.text("location"),
        alarms=fields.alarms("alarms"),
        expected=fields.text("expected"),
        stamp=fields.instant("stamp"),
        sequence=fields.whole("sequence"),
        gone_on=None if fields.is_none("gone_on") else fields.day("gone_on"),
    )


def _feed(fields: "_Fields") -> FeedState:
    return FeedState(
        digest=fields.text("digest"),
        source=fields.text("source"),
        changed=fields.instant("changed"),
        until=fields.day("until"),
        events=fields.whole("events"),
        name="" if fields.is_none("name") else fields.text("name"),
        vehicles=fields.texts("vehicles"),
    )


def _table(where: str, value: object) -> Mapping[str, object]:
    if value is None:
        return {}
    if not isinstance(value, Mapping):
        raise _damaged(where, "is no table")
    return value


def _damaged(where: str, what: str) -> BadInput:
    return BadInput(Fault(what, f"feed.json, {where}", _REMEDY))


class _Fields:
    """The fields of one entry, each read as its type."""

    def __init__(self, where: str, value: object) -> None:
        self._where = where
        self._values = _table(where, value)

    def is_none(self, name: str) -> bool:
        return self._values.get(name) is None

    def text(self, name: str) -> str:
        value = self._values.get(name)
        if not isinstance(value, str):
            raise self._wrong(name)
        return value

    def whole(self, name: str, most: int = _MOST) -> int:
        value = self._values.get(name)
        if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= most:
            raise self._wrong(name)
        return value

    def day(self, name: str) -> date:
        try:
            return date.fromisoformat(self.text(name))
        except ValueError as error:
            raise self._wrong(name) from error

    def instant(self, name: str) -> datetime:
        try:
            found = datetime.fromisoformat(self.text(name))
        except ValueError as error:
            raise self._wrong(name) from error
        if found.tzinfo is None:
            raise self._wrong(name)
        return found.astimezone(UTC)

    def kind(self, name: str) -> Kind:
        try:
            return Kind(self.text(name))
        except ValueError as error:
            raise self._wrong(name) from error

    def alarms(self, name: str) -> tuple[str, ...]:
        value = self._values.get(name)
        if not isinstance(value, list) or not all(
            isinstance(alarm, str) and alarm in ALARM_LEADS for alarm in value
        ):
            raise self._wrong(name)
        return tuple(value)

    def texts(self, name: str) -> Mapping[str, str]:
        return {
            key: value
            for key, value in _table(self._where, self._values.get(name)).items()
            if isinstance(value, str)
        }

    def _wrong(self, name: str) -> BadInput:
        return _damaged(self._where, f"{name} is not what belongs there")
