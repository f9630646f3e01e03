"""The ledger: what is published stays as it is until something in it changes."""

from datetime import UTC, date, datetime, timedelta

from castlenut.domain.frozen import replace
from castlenut.feed.candidate import WEEK_BEFORE, Candidate, Kind, Scope
from castlenut.feed.ledger import Entry, Ledger, settle

SCOPE = Scope(kind=Kind.ITEM, audience="garage", subject="v-1")
AS_OF = date(2026, 11, 23)
NOW = datetime(2026, 11, 25, 13, 17, 5, 999, tzinfo=UTC)
LATER = datetime(2026, 11, 26, 9, 0, 0, tzinfo=UTC)
FAR = date(2028, 5, 31)
# 2020-01-01T00:00Z to 2026-11-25T13:17Z: 2,520 days and 797 minutes
MINUTES = 2520 * 1440 + 797


def candidate(on: str = "2027-06-12", uid: str = "a", **changes: object) -> Candidate:
    plain = Candidate(
        uid=uid,
        on=date.fromisoformat(on),
        is_exact=False,
        summary="Blue wagon: wheel bearings, repack",
        category="Wheel bearings",
        before=("Due at 84,500 km.",),
        expected="Expected 12 Jun 2027, by distance.",
        after=("Every 20,000 km.",),
        alarms=(WEEK_BEFORE,),
    )
    return replace(plain, **changes)  # type: ignore[arg-type]  # by name


def settled(
    *candidates: Candidate,
    ledger: Ledger | None = None,
    as_of: date = AS_OF,
    now: datetime = NOW,
    until: date = FAR,
) -> Ledger:
    return settle(candidates, ledger or Ledger(), scope=SCOPE, as_of=as_of, now=now, until=until)


def only(ledger: Ledger) -> Entry:
    (entry,) = ledger.events.values()
    return entry


def test_a_new_event_takes_the_instant_in_whole_seconds_and_its_minutes_as_sequence() -> None:
    entry = only(settled(candidate()))

    assert entry.stamp == datetime(2026, 11, 25, 13, 17, 5, tzinfo=UTC)
    assert entry.sequence == MINUTES
    assert entry.start == date(2027, 6, 12)
    assert entry.description == (
        "Due at 84,500 km.\nExpected 12 Jun 2027, by distance.\nEvery 20,000 km."
    )


def test_what_did_not_change_is_not_touched() -> None:
    first = settled(candidate())

    second = settled(candidate(), ledger=first, now=LATER)

    assert only(second) is only(first)


def test_a_changed_text_takes_a_new_stamp_and_a_higher_sequence() -> None:
    first = settled(candidate())

    second = settled(candidate(summary="Blue wagon: renamed"), ledger=first, now=LATER)

    assert only(second).stamp == LATER
    assert only(second).sequence > only(first).sequence


def test_two_changes_within_a_minute_still_raise_the_sequence_by_one() -> None:
    first = settled(candidate())

    second = settled(candidate(summary="another"), ledger=first, now=NOW + timedelta(seconds=1))

    assert only(second).sequence == MINUTES + 1


def test_two_changes_within_a_second_have_two_stamps() -> None:
    first = settled(candidate())

    second = settled(candidate(summary="another"), ledger=first)

    assert only(second).stamp == only(first).stamp + timedelta(seconds=1)


def test_the_expected_line_is_frozen_with_the_day() -> None:
    first = settled(candidate())

    second = settled(
        candidate(on="2027-06-14", expected="Expected 14 Jun 2027, by distance."),
        ledger=first,
        now=LATER,
    )

    assert only(second) is only(first)


def test_the_expected_line_goes_with_a_day_that_moves() -> None:
    first = settled(candidate())

    second = settled(
        candidate(on="2027-04-01", expected="Expected 1 Apr 2027, by distance."),
        ledger=first,
        now=LATER,
    )

    assert only(second).start == date(2027, 4, 1)
    assert only(second).expected == "Expected 1 Apr 2027, by distance."


def test_the_expected_line_goes_when_the_day_became_exact() -> None:
    first = settled(candidate())

    second = settled(candidate(expected="", is_exact=True), ledger=first, now=LATER)

    assert only(second).description == "Due at 84,500 km.\nEvery 20,000 km."


def test_an_alarm_whose_day_has_come_is_left_out() -> None:
    """The week before 1 December is 24 November."""
    assert only(settled(candidate("2026-12-01"))).alarms == (WEEK_BEFORE,)
    assert only(settled(candidate("2026-11-30"))).alarms == ()


def test_an_alarm_once_set_stays_when_its_moment_has_passed() -> None:
    first = settled(candidate("2026-12-05"))

    second = settled(candidate("2026-12-05"), ledger=first, as_of=date(2026, 11, 30), now=LATER)

    assert only(second) is only(first)


def test_an_alarm_goes_when_it_is_no_longer_wanted() -> None:
    first = settled(candidate())

    second = settled(candidate(alarms=()), ledger=first, now=LATER)

    assert only(second).alarms == ()


def test_what_left_is_marked_and_kept_for_its_return() -> None:
    first = settled(candidate())

    second = settled(ledger=first, now=LATER)

    assert only(second) == replace(only(first), gone_on=AS_OF)


def test_what_returns_has_its_old_uid_and_a_higher_sequence() -> None:
    first = settled(candidate())
    gone = settled(ledger=first, now=LATER)

    back = settled(candidate(), ledger=gone, now=LATER)

    assert only(back).gone_on is None
    assert only(back).sequence > only(first).sequence
    assert only(back).start == only(first).start


def test_what_left_is_forgotten_after_four_hundred_days() -> None:
    gone = settled(ledger=settled(candidate()), now=LATER)

    kept = settled(ledger=gone, as_of=AS_OF + timedelta(days=400), now=LATER)
    dropped = settled(ledger=gone, as_of=AS_OF + timedelta(days=401), now=LATER)

    assert set(kept.events) == {"a"}
    assert dropped.events == {}


def test_other_scopes_stay_as_they_are() -> None:
    first = settled(candidate())
    other = Scope(kind=Kind.ITEM, audience="garage", subject="v-2")

    second = settle((), first, scope=other, as_of=AS_OF, now=LATER, until=FAR)

    assert second == first


def test_what_lies_beyond_the_view_is_not_published() -> None:
    assert settled(candidate("2028-06-01")).events == {}
    assert set(settled(candidate("2028-05-31")).events) == {"a"}


def test_own_checks_of_a_past_month_stay_as_they_were_told() -> None:
    scope = Scope(kind=Kind.OWN_CHECKS, audience="owner", subject="v-1")
    told = candidate(
        "2026-12-05",
        is_exact=True,
        expected="",
        alarms=(),
        before=("Lights",),
        is_frozen_once_past=True,
    )
    first = settle((told,), Ledger(), scope=scope, as_of=AS_OF, now=NOW, until=FAR)
    past = date(2026, 12, 7)

    changed = settle(
        (replace(told, before=("Horn",)),), first, scope=scope, as_of=past, now=LATER, until=FAR
    )
    without = settle((), first, scope=scope, as_of=past, now=LATER, until=FAR)

    assert changed == first
    assert without == first
