"""The order in which items are told, and which of them make one line."""

from castlenut.domain.order import rows, sort_key, state_rank, worst
from castlenut.domain.working import State
from tests.builders import car, checked, exposed, job, only, part, reading, today

STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))  # 10 mi a day


def rule(name: str, kind: str, *lines: str) -> str:
    return "\n".join(
        (
            "[[rule]]",
            f'id = "test-{name.replace(" ", "-")}"',
            f'title = "{name}"',
            'part = "Engine"',
            f'component = "{kind}"',
            *lines,
            "",
        )
    )


LOOK = 'intake = { rank = 2, act = "look" }'


def test_worse_states_come_first() -> None:
    """Overdue, due, no record, declined, ahead; a state that may be worse stands between."""
    text = "".join(
        (
            rule("overdue", "engine oil", "every = { months = 1 }", LOOK),
            rule("due", "engine", "every = { months = 4 }", LOOK),
            rule("unknown", "exhaust", "every = { months = 4 }", LOOK),
            rule("ahead", "coolant", "every = { months = 12 }", LOOK),
        )
    )
    this = car(
        part("coolant", on="2026-01-01", at=50000),
        part("exhaust"),
        part("engine oil", on="2026-01-01", at=50000),
        part("engine", on="2026-01-01", at=50000),
        readings=STEADY,
    )

    found = today(this, only(text), "2026-04-25")

    assert [item.rule.title for item in found.items] == ["overdue", "due", "unknown", "ahead"]


def test_what_may_be_overdue_comes_between_overdue_and_due() -> None:
    uneven = (
        reading("2026-01-01", 50000),
        reading("2026-01-31", 50300),
        reading("2026-03-02", 51500),
    )
    text = rule("may be", "engine", "every = { miles = 2600 }", "lead = 10", LOOK)
    this = car(part("engine", on="2026-01-01", at=50000), readings=uneven)

    item = today(this, only(text), "2026-04-19").items[0]

    assert (item.state, item.may_be) == (State.DUE, State.OVERDUE)
    assert state_rank(item) == 1


def test_inside_a_state_danger_comes_before_the_close_of_the_window() -> None:
    """Danger 1 are brakes, steering, wheels; then what closes first; then the title."""
    text = "".join(
        (
            rule("b soon", "engine", "every = { months = 5 }", "danger = 2"),
            rule("a later", "engine", "every = { months = 9 }", "danger = 1"),
            rule("c later", "engine", "every = { months = 9 }", "danger = 2"),
            rule("a alike", "engine", "every = { months = 9 }", "danger = 2"),
            rule("looks", "engine", "every = { months = 5 }", "danger = 3"),
        )
    )
    this = car(part("engine", on="2026-01-01", at=50000), readings=STEADY)

    found = today(this, only(text), "2026-04-11")

    assert [item.rule.title for item in found.items] == [
        "a later",
        "b soon",
        "a alike",
        "c later",
        "looks",
    ]


def test_by_distance_the_expected_day_is_the_close() -> None:
    """3,000 mi at 10 a day end on 28 October, before twelve months."""
    text = "".join(
        (
            rule("a year", "engine", "every = { months = 12 }", LOOK),
            rule("b distance", "engine", "every = { miles = 3000 }", LOOK),
        )
    )
    this = car(part("engine", on="2026-01-01", at=50000), readings=STEADY)

    found = today(this, only(text), "2026-04-11")

    assert [item.rule.title for item in found.items] == ["b distance", "a year"]


def test_no_record_goes_by_rank_before_danger() -> None:
    """Rank 1 before it moves under its own power; 4 when next reached."""
    text = "".join(
        (
            rule(
                "fourth",
                "engine",
                "every = { months = 1 }",
                "danger = 1",
                'intake = { rank = 4, act = "ask" }',
            ),
            rule(
                "first",
                "engine",
                "every = { months = 1 }",
                "danger = 3",
                'intake = { rank = 1, act = "look" }',
            ),
            rule(
                "second",
                "engine",
                "every = { months = 1 }",
                "danger = 1",
                'intake = { rank = 2, act = "renew" }',
            ),
        )
    )

    found = today(car(part("engine"), readings=STEADY), only(text), "2026-04-11")

    assert [(item.rule.title, item.rank) for item in found.items] == [
        ("first", 1),
        ("second", 2),
        ("fourth", 4),
    ]


HOSE = rule("hose", "brake hose", "every = { months = 6 }", LOOK)


def test_parts_that_stand_alike_make_one_line() -> None:
    this = car(
        part("brake hose", "R", on="2026-01-01", at=50000),
        part("brake hose", "L", on="2026-01-01", at=50000),
        part("brake hose", "rear", on="2026-02-01", at=50310),
        readings=STEADY,
    )

    lines = rows(today(this, only(HOSE), "2026-04-11").items)

    assert [row.places for row in lines] == ["L R", "rear"]
    assert [str(row.first.place) for row in lines] == ["L", "rear"]


def test_a_part_found_bad_makes_a_line_of_its_own() -> None:
    this = car(
        part("brake hose", "L", on="2026-01-01", at=50000, name="left"),
        part("brake hose", "R", on="2026-01-01", at=50000, name="right"),
        readings=STEADY,
        measurements=[checked("test-hose~right", "2026-03-01", 50590, good=False)],
    )

    lines = rows(today(this, only(HOSE), "2026-04-11").items)

    assert [(row.places, row.first.state) for row in lines] == [
        ("R", State.OVERDUE),
        ("L", State.AHEAD),
    ]


def test_the_owners_own_checks_are_never_the_worst() -> None:
    """They never color the board."""
    text = "".join(
        (
            rule("own", "engine", "every = { months = 1 }", 'access = ["own"]', LOOK),
            rule("garage", "engine", "every = { months = 12 }", 'access = ["lift"]', LOOK),
        )
    )
    this = car(part("engine", on="2026-01-01", at=50000), readings=STEADY)

    found = today(this, only(text), "2026-04-11")
    first = worst(found.items)

    assert first is not None
    assert first.rule.title == "garage"
    assert not any(item.is_open for item in found.items)


def test_without_items_nothing_is_worst() -> None:
    assert worst(()) is None


def test_the_sorting_key_ends_in_the_item_itself() -> None:
    """So that no two items ever change places by chance."""
    this = car(
        part("brake hose", "L", on="2026-01-01", name="b", at=50000),
        part("brake hose", "L", on="2026-01-01", name="a", at=50000),
        readings=STEADY,
        exposures=[exposed("salt", "2025-01-01")],
        jobs=[job("2026-02-01", 50310, "test-hose~a", "test-hose~b")],
    )

    found = today(this, only(HOSE), "2026-04-11")

    assert [item.component.record for item in found.items] == ["a", "b"]
    assert len({sort_key(item) for item in found.items}) == 2
