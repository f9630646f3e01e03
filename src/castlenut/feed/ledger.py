"""What is published: the events as they went out, and what makes the next output the same."""

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, timedelta

from castlenut.domain.frozen import dataclass, field, replace
from castlenut.feed.candidate import ALARM_LEADS, Candidate, Kind, Scope
from castlenut.feed.churn import published_day

_KEPT_GONE = timedelta(days=400)
_SECOND = timedelta(seconds=1)
# Minutes since then make a sequence that goes on rising though the ledger is lost.
_SEQUENCE_FROM = datetime(2020, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One event as published. `gone_on` is the day it left every feed; None while it stands."""

    scope: Scope
    start: date
    days: int
    summary: str
    description: str
    category: str
    location: str
    alarms: tuple[str, ...]
    expected: str
    stamp: datetime
    sequence: int
    gone_on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedState:
    """One feed as last made: digests of its bytes and of what they were made from.

    `changed` is when its bytes last changed. `vehicles` has the short names of its vehicles by id:
    one whose file cannot be read keeps its place and its events. `name` is what it
    was called.
    """

    digest: str
    source: str
    changed: datetime
    until: date
    events: int
    name: str = ""
    vehicles: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """All that is published: events by UID, feeds by id, files kept up to date by path."""

    events: Mapping[str, Entry] = field(default_factory=dict)
    feeds: Mapping[str, FeedState] = field(default_factory=dict)
    targets: Mapping[str, Mapping[str, str | None]] = field(default_factory=dict)

    def standing(self, scope: Scope) -> dict[str, Entry]:
        """Give the events of a scope that stand."""
        return {
            uid: entry
            for uid, entry in self.events.items()
            if entry.scope == scope and entry.gone_on is None
        }


def settle(
    candidates: Iterable[Candidate],
    ledger: Ledger,
    *,
    scope: Scope,
    as_of: date,
    now: datetime,
    until: date,
) -> Ledger:
    """Hold what would be published against what is, for one scope; all else stays as it is.

    An event that is equal to its entry is left untouched; any other takes `now` as its stamp and a
    higher sequence. What would stand after `until` is not published. What left is kept 400 days, so
    that it can return under its old UID and a higher sequence. Settling twice is settling once.
    """
    settled = {
        candidate.uid: entry
        for candidate in candidates
        if (entry := _entry(candidate, ledger, scope=scope, as_of=as_of, now=now)).start <= until
    }
    others = {
        uid: left
        for uid, entry in ledger.events.items()
        if uid not in settled and (left := _left(entry, scope, as_of)) is not None
    }
    return replace(ledger, events=others | settled)


def _left(entry: Entry, scope: Scope, as_of: date) -> Entry | None:
    """Give what stays of an entry without candidate; own checks of a past month stay as told."""
    if entry.scope != scope:
        return entry
    if entry.gone_on is None:
        is_frozen = entry.scope.kind is Kind.OWN_CHECKS and entry.start < as_of
        if is_frozen:
            return None if entry.start < as_of - _KEPT_GONE else entry
        return replace(entry, gone_on=as_of)
    return None if entry.gone_on < as_of - _KEPT_GONE else entry


def _entry(
    candidate: Candidate, ledger: Ledger, *, scope: Scope, as_of: date, now: datetime
) -> Entry:
    old = ledger.events.get(candidate.uid)
    start = published_day(
        candidate.on, old.start if old else None, is_exact=candidate.is_exact, as_of=as_of
    )
    if old and old.gone_on is None and candidate.is_frozen_once_past and start < as_of:
        return old
    is_same_day = old is not None and old.start == start
    # A line told for another side of the item (now exact, or no longer) is not kept.
    frozen = old.expected if old and is_same_day and candidate.expected else ""
    expected = frozen or candidate.expected
    described = candidate.description(expected)
    alarms = tuple(
        alarm
        for alarm in candidate.alarms
        if (old is not None and is_same_day and alarm in old.alarms)
        or _rings_on(start, alarm) > as_of
    )
    now = now.astimezone(UTC).replace(microsecond=0)
    new = Entry(
        scope=scope,
        start=start,
        days=candidate.days,
        summary=candidate.summary,
        description=described,
        category=candidate.category,
        location=candidate.location,
        alarms=alarms,
        expected=expected,
        stamp=now,
        sequence=int((now - _SEQUENCE_FROM).total_seconds() // 60),
    )
    if old is None:
        return new
    if replace(new, stamp=old.stamp, sequence=old.sequence) == old:
        return old
    return replace(
        new,
        # Two changes within one second: readers that go by the stamp alone must see the second.
        stamp=now if now != old.stamp else old.stamp + _SECOND,
        sequence=max(old.sequence + 1, new.sequence),
    )


def _rings_on(start: date, alarm: str) -> date:
    """Give the day an alarm rings on. One that rings on the day settled may be past already."""
    return (datetime(start.year, start.month, start.day, tzinfo=UTC) - ALARM_LEADS[alarm]).date()
