"""A car's own notes and findings as items: due by their own wait, a finding at once."""

from decimal import Decimal

from castlenut.domain.car import Car, OwnItem
from castlenut.domain.due import CarToday
from castlenut.domain.findings import Decided, Finding
from castlenut.domain.item import Item
from castlenut.domain.place import place
from castlenut.domain.units import Distance
from castlenut.domain.working import Anchored, From, State
from tests.builders import book, car, checked, day, job, reading, record, stay, today

READINGS = (reading("2026-10-26", 61300), reading("2026-11-25", 61600))  # 10 mi a day


def note(**fields: object) -> OwnItem:
    given: dict[str, object] = {
        "record": record("note"),
        "title": "look at rear main seal",
        "on": day("2026-11-25"),
        "at": Decimal(61600),
    }
    return OwnItem(**{**given, **fields})  # type: ignore[arg-type]  # by name


def finding(name: str = "seam", **fields: object) -> Finding:
    given: dict[str, object] = {
        "record": record(name),
        "what": "sill seam rusted through",
        "on": day("2026-11-25"),
        "place": place("L"),
        "decided": Decided.MEND,
    }
    return Finding(**{**given, **fields})  # type: ignore[arg-type]  # by name


def own(of: Car, on: str = "2026-11-25") -> tuple[Item, ...]:
    return tuple(item for item in reckoned(of, on).items if item.id.rule == "own")


def reckoned(of: Car, on: str) -> CarToday:
    return today(of, book(), on)


def test_a_note_waits_for_its_distance_from_the_day_it_was_noted() -> None:
    (item,) = own(car(own_items=[note(within="500mi")], readings=READINGS))

    assert item.due_at == Distance(62100)
    assert item.state is State.AHEAD
    assert str(item.id) == "own~note"
    # 10 percent of 500 mi before
    assert item.window.opens_at == 62050


def test_a_note_for_a_day_opens_a_tenth_of_the_wait_before() -> None:
    waiting = car(own_items=[note(due_on=day("2027-01-24"))], readings=READINGS)

    (item,) = own(waiting)

    # 60 days, so 6 before
    assert item.due_on == day("2027-01-24")
    assert item.window.opens_on == day("2027-01-18")
    assert item.window.closes_on == day("2027-01-24")


def test_a_note_done_once_is_gone_and_a_repeated_one_counts_from_the_job() -> None:
    looked = job("2026-12-20", 61850, "own~note")
    once = car(own_items=[note(within="500mi")], jobs=[looked], readings=READINGS)
    again = car(own_items=[note(within="500mi", every="3m")], jobs=[looked], readings=READINGS)

    assert own(once, "2026-12-21") == ()
    (item,) = own(again, "2026-12-21")
    assert (item.due_on, item.due_at) == (day("2027-03-20"), None)


def test_a_note_found_good_counts_as_done_and_found_not_good_is_overdue() -> None:
    good = checked("own~note", "2026-11-26", 61610, good=True)
    bad = checked("own~note", "2026-11-26", 61610, good=False)

    assert own(car(own_items=[note(within="500mi")], measurements=[good]), "2026-11-27") == ()
    (item,) = own(
        car(own_items=[note(within="500mi")], measurements=[bad], readings=READINGS), "2026-11-27"
    )
    assert item.state is State.OVERDUE


def test_the_working_of_a_note_begins_where_it_was_noted() -> None:
    (item,) = own(car(own_items=[note(within="3m")], readings=READINGS))

    first = item.working[0]
    assert isinstance(first, Anchored)
    assert (first.how, first.on) == (From.NOTED, day("2026-11-25"))


def test_a_finding_to_be_mended_is_due_that_day_and_overdue_from_the_next() -> None:
    found = car(findings=[finding()], readings=READINGS)

    assert [item.state for item in own(found)] == [State.DUE]
    assert [item.state for item in own(found, "2026-11-26")] == [State.OVERDUE]


def test_a_finding_on_a_car_in_work_is_due_before_it_rolls() -> None:
    found = car(findings=[finding()], readings=READINGS, stays=[stay("2026-11-20")])

    (item,) = own(found, "2026-12-20")

    assert (item.state, item.before_it_rolls, item.has_open_point_at_0) == (State.DUE, True, True)


def test_a_finding_mended_makes_no_item() -> None:
    assert own(car(findings=[finding(mended_by=record("repair"))], readings=READINGS)) == ()


def test_a_finding_watched_stands_by_its_note_alone_until_it_is_mended() -> None:
    watched = finding(decided=Decided.WATCH)
    by_note = note(within="500mi", finding=record("seam"))

    (item,) = own(car(findings=[watched], own_items=[by_note], readings=READINGS))
    assert item.id.component == "note"

    mended = finding(decided=Decided.WATCH, mended_by=record("repair"))
    assert own(car(findings=[mended], own_items=[by_note], readings=READINGS)) == ()


def test_the_other_side_is_to_be_looked_at_and_a_look_ends_it() -> None:
    other = finding("other", decided=None, place=place("R"))

    (item,) = own(car(findings=[other], readings=READINGS))
    assert item.rule.title == "look at sill seam rusted through"

    looked = car(findings=[other], jobs=[job("2026-11-25", 61600, "own~other")], readings=READINGS)
    assert own(looked) == ()


def test_two_findings_of_one_day_are_two_rows() -> None:
    from castlenut.domain.order import rows

    found = car(
        findings=[finding(), finding("other", what="crack in arm", place=place("LF"))],
        readings=READINGS,
    )

    assert len(rows(own(found))) == 2


def test_what_was_found_later_is_not_known_on_an_earlier_day() -> None:
    found = car(findings=[finding()], own_items=[note(within="3m")], readings=READINGS)

    assert own(found, "2026-11-24") == ()
