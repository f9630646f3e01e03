"""Occurrences, and the events they make."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.component import Component
from castlenut.domain.frozen import replace
from castlenut.domain.happenings import Statement
from castlenut.domain.ids import OWN, ItemId, RecordId
from castlenut.domain.item import Item, ShownWindow
from castlenut.domain.units import Shown
from castlenut.domain.use.estimate import DateBand
from castlenut.domain.window import Window
from castlenut.domain.working import (
    Anchored,
    Binds,
    From,
    Judged,
    Pointed,
    Shortened,
    State,
)
from castlenut.feed.candidate import WEEK_BEFORE, Candidate
from castlenut.feed.event import Alarms, GarageFacts, item_candidate, occurrences
from castlenut.feed.uid import Audience
from tests.builders import stated
from tests.feed.made import FACTS, car, day, item, no_record, rule, with_alarms


def event(
    *items: Item,
    audience: Audience = Audience.GARAGE,
    facts: GarageFacts = FACTS,
    name: str = "Blue wagon",
) -> Candidate:
    this = car(*items, name=name)
    (occurrence,) = occurrences(this)
    candidate = item_candidate(occurrence, this.car.vehicle, audience, facts)
    assert candidate is not None
    return candidate


def text(candidate: Candidate) -> list[str]:
    return candidate.description(candidate.expected).split("\n")


# which occurrences there are


def test_bearings_packed_in_one_job_are_one_event_with_their_places() -> None:
    this = car(*(item("2027-06-12", where=where) for where in ("RR", "LF", "LR", "RF")))

    (occurrence,) = occurrences(this)

    assert occurrence.title == "wheel bearings, repack LF RF LR RR"


def test_bearings_fitted_on_four_days_are_four_events() -> None:
    this = car(
        *(
            item(f"2027-06-1{number}", where=where, base=f"part-{where}", how=From.FITTED)
            for number, where in enumerate(("LF", "RF", "LR", "RR"))
        )
    )

    assert len(occurrences(this)) == 4


def test_parts_fitted_in_one_job_rest_on_that_job() -> None:
    parts = [
        Component(record=RecordId(f"part-{where}"), kind="wheel bearing", job=RecordId("job-9"))
        for where in ("LF", "RF")
    ]
    items = [
        item("2027-06-12", where=where, base=f"part-{where}", how=From.FITTED)
        for where in ("LF", "RF")
    ]

    (occurrence,) = occurrences(car(*items, components=parts))

    assert occurrence.baseline == "job-9"


def answers() -> list[Statement]:
    return [
        stated("wheel bearing", "RF", "2026-06-12", 74500),
        stated("wheel bearing", "LF", "2026-06-12", 74500),
        stated("wheel bearing", "LR", "2025-06-12", 74500),
    ]


def test_one_answer_at_intake_for_two_places_is_one_event() -> None:
    items = [
        item("2027-06-12", where=where, base=f"stated-wheel bearing-{where}", how=From.STATED)
        for where in ("LF", "RF", "LR")
    ]

    found = occurrences(car(*items, statements=answers()))

    assert [(each.baseline, each.title) for each in found] == [
        ("stated-wheel bearing-LF", "wheel bearings, repack LF RF"),
        ("stated-wheel bearing-LR", "wheel bearings, repack LR"),
    ]


def test_what_is_left_of_an_answer_keeps_its_event_when_one_place_was_done() -> None:
    right = item("2027-06-12", where="RF", base="stated-wheel bearing-RF", how=From.STATED)

    (occurrence,) = occurrences(car(right, statements=answers()))

    assert occurrence.baseline == "stated-wheel bearing-LF"


def test_an_event_that_decides_does_not_change_what_the_occurrence_rests_on() -> None:
    """Which side decides may change with each reading; the UID may not."""
    after_event = Anchored(
        how=From.EVENT, record=RecordId("happening-1"), on=day("2026-09-01"), at=None
    )

    (occurrence,) = occurrences(car(item("2027-06-12", steps=(after_event,))))

    assert occurrence.baseline == "job-1"


def test_the_last_job_counts_before_the_fitting() -> None:
    fitted = Anchored(how=From.FITTED, record=RecordId("p-1"), on=day("2026-11-01"), at=None)

    (occurrence,) = occurrences(car(item("2027-06-12", steps=(fitted,))))

    assert occurrence.baseline == "job-1"


def test_no_record_and_own_checks_are_no_occurrences() -> None:
    this = car(
        no_record(of=rule("a")),
        item(None, of=rule("b"), base=None, state=State.DECLINED, reckoned=State.NO_RECORD),
        item("2026-12-01", of=rule("c", own=True)),
    )

    assert occurrences(this) == ()


def test_a_sold_car_has_no_occurrences() -> None:
    assert occurrences(car(item("2027-06-12"), sold_on=date(2026, 11, 1))) == ()


def test_the_earliest_item_gives_the_day() -> None:
    assert event(item("2027-06-12", where="LF"), item("2027-05-01", where="RF")).on == day(
        "2027-05-01"
    )


def test_an_own_item_goes_by_its_record() -> None:
    bare = item("2027-06-12", of=rule(OWN, "look at the rear main seal"))
    own = replace(bare, id=ItemId(rule=OWN, component=RecordId("own-7")))

    (occurrence,) = occurrences(car(own))

    assert occurrence.rule == "own-7"


def test_an_item_without_a_day_has_no_event() -> None:
    this = car(item(None, binds=Binds.DISTANCE))
    (occurrence,) = occurrences(this)

    assert item_candidate(occurrence, this.car.vehicle, Audience.GARAGE, FACTS) is None


@pytest.mark.parametrize("binds", [Binds.DATE, Binds.AGE, Binds.SEASON])
def test_a_calendar_side_is_exact(binds: Binds) -> None:
    assert event(item("2027-06-12", binds=binds)).is_exact


def test_distance_and_wear_are_not_exact() -> None:
    assert not event(item("2027-06-12", binds=Binds.DISTANCE)).is_exact
    assert not event(item("2027-06-12", binds=Binds.MEASUREMENT)).is_exact


def test_a_point_some_way_after_an_event_is_as_inexact_as_any_distance() -> None:
    at_once = item("2026-11-20", binds=Binds.EVENT)
    at_distance = replace(at_once, due_on=None)

    assert event(at_once).is_exact
    assert not event(at_distance).is_exact


# titles


def test_a_title_names_car_thing_and_places() -> None:
    assert (
        event(item("2027-06-12", where="LF"), item("2027-06-12", where="RF")).summary
        == "Blue wagon: wheel bearings, repack LF RF"
    )


def test_places_of_two_words_have_commas() -> None:
    candidate = event(item("2027-06-12", where="LF upper"), item("2027-06-12", where="LF lower"))

    assert candidate.summary == "Blue wagon: wheel bearings, repack LF lower, LF upper"


def test_a_long_name_is_cut_to_twenty_and_a_title_to_sixty() -> None:
    candidate = event(
        item("2027-06-12", of=rule("t", "trailing arm bushings and their bolts, renew them all")),
        name="Wendlecot Millrace sedan 1956",
    )

    assert candidate.summary == "Wendlecot Millrace…: trailing arm bushings and their bolts…"
    assert len(candidate.summary) == 59


def test_a_capital_that_is_no_words_beginning_stays() -> None:
    assert event(item("2027-06-12", of=rule("u", "U-bolts, torque"))).summary == (
        "Blue wagon: U-bolts, torque"
    )
    assert event(item("2027-06-12", of=rule("o", "Oil, change"))).summary == (
        "Blue wagon: oil, change"
    )


def test_a_declined_item_keeps_its_event_and_says_so_at_the_end_of_the_title() -> None:
    long = rule("t", "trailing arm bushings and their bolts, renew", tolerance=0)

    candidate = event(item("2027-06-12", of=long, state=State.DECLINED, reckoned=State.DUE))

    assert candidate.summary == "Blue wagon: trailing arm bushings and their… (declined)"
    assert candidate.alarms == ()


def test_one_of_two_declined_leaves_the_event_open() -> None:
    candidate = event(
        item("2027-05-01", where="LF", state=State.DECLINED, reckoned=State.DUE),
        item("2027-06-12", where="RF"),
    )

    assert candidate.summary == "Blue wagon: wheel bearings, repack LF RF"
    assert candidate.on == day("2027-06-12")


def test_names_of_nothing_are_untitled() -> None:
    assert event(item("2027-06-12"), name=" \u202e ").summary == (
        "Untitled: wheel bearings, repack"
    )


# texts


def whole_item() -> Item:
    bare = item(
        "2027-05-03",
        of=rule(cautions=["lift"], source="course notes"),
        binds=Binds.DISTANCE,
        due_on="2027-06-12",
    )
    return replace(
        bare,
        expected=DateBand(p10=day("2027-04-08"), p50=day("2027-05-03"), p90=day("2027-06-02")),
        window=Window(opens_on=day("2027-05-01"), closes_on=day("2027-07-30")),
        shown=ShownWindow(
            due_at=Shown(Decimal(84500)),
            opens_at=Shown(Decimal(80000)),
            closes_at=Shown(Decimal(88000)),
        ),
        component=replace(bare.component, part="A-1204"),
        working=(
            *(step for step in bare.working if isinstance(step, Anchored)),
            *item("2027-05-03", base=None, months=24).working,
            Shortened(exposure="wet", factor=Fraction(1, 2), distance=None, months=12, days=None),
            Judged(
                measure="play",
                record=RecordId("m-1"),
                on=day("2026-05-03"),
                at=None,
                value=Decimal("2.9"),
                limit=Decimal("1.6"),
                is_at_least=True,
                unit="mm",
                passes=True,
            ),
        ),
    )


def test_the_text_tells_all_in_its_order() -> None:
    assert text(replace(event(whole_item()), longest=None)) == [
        "Due 12 Jun 2027 or at 84,500 km, whichever comes first.",
        "Expected 3 May 2027 (8 Apr to 2 Jun), by distance.",
        "Window 1 May to 30 Jul 2027, 80,000 to 88,000 km.",
        "Limit 1.6 mm; measured 2.9 mm on 3 May 2026.",
        "Every 24 months; halved: wet.",
        "Last done 12 Jun 2026 at 74,500 km.",
        "Part A-1204.",
        (
            "Firm level ground, wheels chocked, stands at points that hold; a jack lifts, it does"
            " not hold. Shake the car before going under."
        ),
        "Source: course notes.",
        "The vehicle's own service manual comes first.",
    ]


def test_the_owner_reads_whom_to_ask_and_no_part_number() -> None:
    lines = text(replace(event(whole_item(), audience=Audience.OWNER), longest=None))

    assert "Penmarrow Garage, 3 Quay Lane, 555 0142." in lines
    assert not any("A-1204" in line for line in lines)


def test_the_garages_text_has_300_characters_and_the_owners_450() -> None:
    garage, owner = event(whole_item()), event(whole_item(), audience=Audience.OWNER)

    assert len(garage.description(garage.expected)) <= 300
    assert text(garage)[-1].endswith(" …")
    assert 300 < len(owner.description(owner.expected)) <= 450


def test_a_day_alone_is_told_alone() -> None:
    assert text(event(item("2027-06-12")))[0] == "Due 12 Jun 2027."


def test_the_year_stands_beside_a_day_of_another_year() -> None:
    band = DateBand(p10=day("2026-12-20"), p50=day("2027-01-30"), p90=day("2027-04-01"))
    candidate = event(replace(item("2027-01-30", binds=Binds.MEASUREMENT), expected=band))

    assert candidate.expected == "Expected 30 Jan 2027 (20 Dec 2026 to 1 Apr), by wear."


def test_a_band_without_ends_tells_the_day_alone() -> None:
    band = DateBand(p10=None, p50=day("2027-01-30"), p90=None)
    candidate = event(replace(item("2027-01-30", binds=Binds.DISTANCE), expected=band))

    assert candidate.expected == "Expected 30 Jan 2027, by distance."


def test_a_day_already_reached_has_no_band() -> None:
    candidate = event(item("2026-10-01", binds=Binds.DISTANCE, state=State.OVERDUE))

    assert candidate.expected == "Expected 1 Oct 2026, by distance."


def at_dial(figure: int) -> ShownWindow:
    return ShownWindow(due_at=Shown(Decimal(figure)), opens_at=None, closes_at=None)


def test_what_an_event_made_due_at_once_is_due_on_its_day_alone() -> None:
    at_once = replace(item("2026-11-20", binds=Binds.EVENT), shown=at_dial(84500))

    assert text(event(at_once))[0] == "Due 20 Nov 2026."


def test_a_point_after_an_event_is_due_on_either_side() -> None:
    point = replace(
        item("2026-12-12", binds=Binds.EVENT, due_on="2028-10-06"), shown=at_dial(84500)
    )

    assert text(event(point))[0] == "Due 6 Oct 2028 or at 84,500 km, whichever comes first."


def test_a_point_after_an_event_is_told_with_its_event() -> None:
    pointed = Pointed(rule="wheel-nuts", number=1, of=1, distance=Decimal(80), after="wheel-off")
    bare = item("2026-12-01", binds=Binds.EVENT, base=None)

    lines = text(event(replace(bare, working=(pointed,))))

    assert "80 km after wheel-off." in lines


def test_hours_are_for_the_garage_alone_and_counted_by_wheel() -> None:
    from castlenut.domain.rules.rule import Per

    by_wheel = replace(rule(), hours=Fraction(4, 5), per=Per.WHEEL)
    items = [item("2027-06-12", of=by_wheel, where=where) for where in ("LF", "RF")]

    assert "1.6 h." in text(event(*items))
    assert "1.6 h." not in text(event(*items, audience=Audience.OWNER))


# alarms


@pytest.mark.parametrize(
    ("alarms", "tolerance", "rings"),
    [
        (Alarms.VISITS, 0, True),
        (Alarms.VISITS, 10, False),
        (Alarms.ALL, 10, True),
        (Alarms.NONE, 0, False),
    ],
)
def test_an_item_rings_where_nothing_is_left_after_its_day_or_all_shall(
    alarms: Alarms, tolerance: int, *, rings: bool
) -> None:
    candidate = event(item("2027-06-12", of=rule(tolerance=tolerance)), facts=with_alarms(alarms))

    assert candidate.alarms == ((WEEK_BEFORE,) if rings else ())


def test_what_a_component_is_called_on_paper_is_not_in_the_title() -> None:
    part = Component(record=RecordId("c"), kind="wheel bearing", part="SECRET-1")

    candidate = event(replace(item("2027-06-12"), component=part), audience=Audience.OWNER)

    assert "SECRET-1" not in candidate.summary + candidate.description(candidate.expected)
