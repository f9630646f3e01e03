"""What a change does to the schedule, and which parts a conversion ends and begins."""

from datetime import date

from castlenut.domain.conversion import difference, parts_of
from tests.builders import book, car, happened, part, reading, today

ON = date(2026, 11, 25)
STEADY = (reading("2026-01-01", 50000), reading("2026-11-01", 53040))


def places(kind: str, name: str, *parts: object) -> list[str]:
    this = car(*(each for each in parts if each is not None))  # type: ignore[arg-type]
    found = parts_of(book().conversions[name], this, book().kinds, on=ON)
    return [str(each.place) for each in found.begins if each.kind == kind]


def test_front_drums_end_and_rear_ones_stay() -> None:
    this = car(part("brake shoe", "LF"), part("brake shoe", "LR"), part("drum", "RF"))

    found = parts_of(book().conversions["front-discs"], this, book().kinds, on=ON)

    assert [each.record for each in found.ends] == ["brake shoe LF", "drum RF"]
    assert [str(each.place) for each in found.begins if each.kind == "brake pad"] == ["LF", "RF"]


def test_new_bushings_come_where_the_old_ones_stood() -> None:
    old = (
        part("bushing", "LF upper", material="rubber"),
        part("bushing", "RF upper", material="rubber"),
    )

    assert places("bushing", "poly-bushings", *old) == ["LF upper", "RF upper"]


def test_a_part_of_another_attribute_stays_on() -> None:
    this = car(
        part("bushing", "LF", material="polyurethane"), part("bushing", "RF", material="rubber")
    )

    found = parts_of(book().conversions["poly-bushings"], this, book().kinds, on=ON)

    assert [each.record for each in found.ends] == ["bushing RF"]


def test_a_part_nobody_knows_the_attribute_of_goes() -> None:
    this = car(part("bushing", "LF"))

    found = parts_of(book().conversions["poly-bushings"], this, book().kinds, on=ON)

    assert [each.record for each in found.ends] == ["bushing LF"]


def test_what_the_car_has_once_begins_without_a_place() -> None:
    assert places("generator", "alternator", part("generator", type="DC generator")) == ["None"]


def test_items_of_the_old_part_leave_and_those_of_the_new_join() -> None:
    drums = car(part("brake shoe", "LF", on="2026-01-01", at=50000), readings=STEADY)
    discs = car(part("brake pad", "LF", on="2026-11-20", at=53200), readings=STEADY)

    found = difference(today(drums, book(), "2026-11-25"), today(discs, book(), "2026-11-25"))

    assert "shoe-measure" in {item.id.rule for item in found.leaves}
    assert "pad-measure" in {item.id.rule for item in found.joins}
    assert {item.id.component for item in found.due_now} == {"brake pad LF"}


def test_an_event_makes_due_what_stays_on_the_schedule() -> None:
    wheel = part("wheel", "LF", on="2026-01-01", at=50000)
    before = car(wheel, readings=STEADY)
    after = car(wheel, readings=STEADY, happenings=(happened("curb-hit", "2026-11-25", 53280),))

    found = difference(today(before, book(), "2026-11-25"), today(after, book(), "2026-11-25"))

    assert (found.leaves, found.joins) == ((), ())
    assert [item.id.rule for item in found.due_now] == ["wheel-look"]


def test_a_change_that_changes_nothing_is_empty() -> None:
    this = today(car(part("brake fluid", on="2026-01-01", at=50000)), book(), "2026-11-25")

    found = difference(this, this)

    assert (found.leaves, found.joins, found.due_now) == ((), (), ())


def test_an_event_makes_due_what_nobody_knew_of() -> None:
    """A wheel with no record and a curb hit today: the look is due, no longer unknown."""
    wheel = part("wheel", "LF")
    before = car(wheel, readings=STEADY)
    after = car(wheel, readings=STEADY, happenings=(happened("curb-hit", "2026-11-25", 53280),))

    found = difference(today(before, book(), "2026-11-25"), today(after, book(), "2026-11-25"))

    assert [item.id.rule for item in found.due_now] == ["wheel-look"]
