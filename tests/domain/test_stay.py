"""What stands against handing a car over: every cause, and the order."""

from castlenut.domain.car import Car
from castlenut.domain.findings import Decided, Finding
from castlenut.domain.frozen import replace
from castlenut.domain.happenings import Decline
from castlenut.domain.place import place
from castlenut.domain.stay import Against, Cause, against_rolling, is_ready
from tests.builders import (
    book,
    car,
    day,
    happened,
    item_of,
    job,
    measured,
    part,
    reading,
    record,
    stay,
    today,
)

READINGS = (reading("2026-10-26", 61300), reading("2026-11-25", 61600))


def standing(of: Car, on: str = "2026-11-25") -> tuple[Against, ...]:
    return against_rolling(today(of, book(), on), book())


def told(of: Car, on: str = "2026-11-25") -> list[tuple[str, str]]:
    return [
        (each.cause.value, each.items[0].rule.id if each.items else "") for each in standing(of, on)
    ]


def refused(item: str, on: str = "2026-11-25") -> Decline:
    return Decline(record=record(f"no-{item}"), item=item_of(item), on=day(on))


def test_a_car_with_nothing_on_it_is_ready() -> None:
    assert standing(car(readings=READINGS)) == ()
    assert is_ready(())


def test_a_point_at_0_blocks_in_work_and_out_of_it() -> None:
    arm = part("bushing", "LF", on="2026-11-20", at=61550, material="rubber")
    alignment = part("alignment", on="2020-01-01", at=1000)
    done = job("2026-11-01", 61400, "align~alignment")
    loosened = happened("suspension", "2026-11-20", 61550)
    out_of_work = car(arm, alignment, readings=READINGS, jobs=[done], happenings=[loosened])
    in_work = replace(out_of_work, stays=(stay("2026-11-15"),))

    # toe, camber and caster of this car were never entered, and the alignment needs them
    assert told(in_work) == [("point at 0", "align"), ("no limit known", "align")]
    assert told(out_of_work) == told(in_work)
    assert not is_ready(standing(in_work))


def test_no_record_blocks_up_to_rank_2() -> None:
    """Brake fluid is rank 1, the parking cable 2; the first coolant test too; leaf shackles 4."""
    fluid = part("brake fluid", fluid="DOT 4")
    shackle = part("spring", "LR", type="leaf", shackle="with fittings", on="2026-11-24", at=61599)

    found = standing(car(fluid, shackle, readings=READINGS))

    assert {each.items[0].rank for each in found if each.cause is Cause.NO_RECORD} == {1}
    assert [each.items[0].rule.id for each in found] == ["brake-level", "brake-fluid"]


def test_overdue_blocks_where_it_is_dangerous_and_not_else() -> None:
    """A timing belt past its months is danger 1; engine oil past its months is not."""
    belt = part("timing belt", on="2015-01-01", at=20000)
    oil = part("engine oil", on="2015-01-01", at=20000)

    assert told(car(belt, oil, readings=READINGS)) == [("overdue", "timing-belt")]


def test_parts_that_exclude_each_other_block() -> None:
    mixed = car(
        part("brake fluid", name="one", fluid="DOT 4", on="2026-11-01", at=61400),
        part("brake fluid", name="two", fluid="DOT 5", on="2026-11-01", at=61400),
        readings=READINGS,
    )

    conflicts = [each for each in standing(mixed) if each.cause is Cause.CONFLICT]

    assert [(each.blocks, each.danger) for each in conflicts] == [(True, 1)]


def test_a_finding_to_be_mended_blocks_until_it_is_mended() -> None:
    seam = Finding(
        record=record("seam"),
        what="sill seam",
        on=day("2026-11-20"),
        place=place("L"),
        decided=Decided.MEND,
    )
    mended = Finding(
        record=record("seam"),
        what="sill seam",
        on=day("2026-11-20"),
        place=place("L"),
        decided=Decided.MEND,
        mended_by=record("repair"),
    )

    assert told(car(findings=[seam], readings=READINGS)) == [("to be mended", "own")]
    assert told(car(findings=[mended], readings=READINGS)) == []


def test_a_finding_the_owner_refuses_does_not_block() -> None:
    seam = Finding(
        record=record("seam"), what="sill seam", on=day("2026-11-20"), decided=Decided.MEND
    )

    assert told(car(findings=[seam], declines=[refused("own~seam")], readings=READINGS)) == []


def test_a_declined_item_is_told_where_it_is_dangerous_and_does_not_block() -> None:
    belt = part("timing belt", on="2015-01-01", at=20000)
    oil = part("engine oil", on="2015-01-01", at=20000)
    noes = [refused("timing-belt~timing belt"), refused("oil~engine oil")]

    found = standing(car(belt, oil, declines=noes, readings=READINGS))

    assert [(each.cause, each.items[0].rule.id) for each in found] == [
        (Cause.DECLINED, "timing-belt")
    ]
    assert is_ready(found)


def test_the_causes_come_in_their_order_and_dangerous_things_first_in_each() -> None:
    belt = part("timing belt", on="2015-01-01", at=20000)
    fluid = part("brake fluid", fluid="DOT 4")
    coolant = part("coolant", type="green")
    spring = part("spring", "LF", on="2026-11-20", at=61550, type="coil")
    lights = part("lights", on="2026-11-20", at=61550)
    seam = Finding(
        record=record("seam"), what="sill seam", on=day("2026-11-20"), decided=Decided.MEND
    )

    found = told(
        car(
            belt,
            fluid,
            coolant,
            spring,
            lights,
            findings=[seam],
            happenings=[happened("spring", "2026-11-20", 61550)],
            stays=[stay("2026-11-15")],
            readings=READINGS,
        )
    )

    assert found == [
        ("point at 0", "lights"),
        ("point at 0", "lamp-aim"),
        ("no record", "brake-level"),
        ("no record", "brake-fluid"),
        ("no record", "coolant-green"),
        ("no record", "coolant-test"),
        ("overdue", "timing-belt"),
        ("to be mended", "own"),
    ]


def test_items_that_stand_alike_are_one_thing() -> None:
    pads = [part("brake pad", at, on="2015-01-01", at=20000) for at in ("LF", "RF")]
    worn = [
        measured("pad_thickness", "2026-11-20", 61550, "1", unit="mm", where=at)
        for at in ("LF", "RF")
    ]

    found = standing(car(*pads, measurements=worn, readings=READINGS))

    assert [len(each.items) for each in found if each.cause is Cause.OVERDUE] == [2]
