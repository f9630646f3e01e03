"""Lines of what is due: what a rotation that cannot be says of itself."""

from castlenut.domain.due import items_today
from castlenut.domain.order import rows
from castlenut.store.revisions import StoredRecord
from castlenut.words.listing import row_line
from tests.builders import book
from tests.domain.tires.recorded import TODAY, car_with, put, shod


def rotation(*records: StoredRecord) -> str:
    today = items_today(car_with(*records), book(), today=TODAY)
    row = next(each for each in rows(today.items) if each.first.id.rule == "tire-rotate")
    return row_line(row, today, has_car=False)


def test_what_is_not_known_is_named_once_for_all_wheels() -> None:
    places = ("LF", "RF", "LR", "RR")

    line = rotation(
        *shod(
            wheels={place: {"offset": None} for place in places},
            tires={place: {"new_depth": None} for place in places},
        )
    )

    assert "rotation: none possible, because offset and tread depth are not known" in line


def test_one_thing_missing_is_not_known() -> None:
    line = rotation(*shod(wheels={"LF": {"offset": None}, "LR": {"offset": None}}))

    assert "rotation: none possible, because offset is not known" in line


def test_a_plain_no_is_told_and_not_what_is_missing_beside_it() -> None:
    """Staggered and directional, an offset missing: the two noes alone."""
    turning = {
        place: {"tread": "directional", **({"size": "225/60R15"} if place[1] == "R" else {})}
        for place in ("LF", "RF", "LR", "RR")
    }
    sides = [
        put(f"tire-{place}+wheel-{place}", place, turns="left" if place[0] == "L" else "right")
        for place in turning
    ]

    line = rotation(*shod(tires=turning, wheels={"LF": {"offset": None}}), *sides)

    assert "none possible, because sizes differ, tires turn one way only" in line


def test_a_rotation_that_can_be_says_nothing_more() -> None:
    assert "rotation:" not in rotation(*shod())
