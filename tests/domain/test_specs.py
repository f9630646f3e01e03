"""A check held against the car's own figures: told where they are entered, missed where not."""

from castlenut.domain.item import Item
from castlenut.domain.stay import Cause, against_rolling
from castlenut.domain.working import Checked
from castlenut.words.working import lines
from tests.builders import MILES, book, car, figure, happened, part, reading, stay, the_item, today

READINGS = [reading("2026-10-05", 40000), reading("2026-11-24", 40500)]


def item_of(rule: str, where: str, kind: str, *figures: object) -> Item:
    this = car(
        part(kind, where, on="2026-11-01", at=40300, adjust="manual"),
        readings=READINGS,
        figures=figures,
    )
    return the_item(today(this, book(), "2026-11-25"), rule)


def checked(item: Item) -> Checked:
    (found,) = (step for step in item.working if isinstance(step, Checked))
    return found


def must_hold(item: Item) -> str:
    (line,) = (each for each in lines(item, MILES) if each.startswith("must hold"))
    return line


def test_a_figure_nobody_entered_is_no_limit_known() -> None:
    item = item_of("wheel-nuts", "LF", "wheel")

    assert checked(item).missing == ("lug nut torque",)
    assert must_hold(item) == (
        "must hold: all in place and at the car's own torque, threads clean and dry;"
        " no limit known: enter lug nut torque; not checked yet"
    )


def test_a_figure_entered_is_told_with_its_source() -> None:
    own = figure("wheel nut torque", "75", "ft-lb")

    item = item_of("wheel-nuts", "LF", "wheel", own)

    assert checked(item).missing == ()
    assert "; wheel nut torque 75 ft-lb; " in must_hold(item)


def test_a_figure_of_another_place_is_not_this_ones() -> None:
    own = figure("lug nut torque", "90", "ft-lb", "rear")

    assert checked(item_of("wheel-nuts", "LF", "wheel", own)).missing == ("lug nut torque",)
    assert checked(item_of("wheel-nuts", "LR", "wheel", own)).missing == ()


def test_either_of_two_figures_will_do() -> None:
    item = item_of("points-set", "", "ignition points", figure("dwell", "48", "deg"))

    assert checked(item).missing == ()


def test_two_valves_may_have_a_figure_each() -> None:
    own = (
        figure("intake valve clearance", "0.012", "in"),
        figure("exhaust valve clearance", "0.015", "in"),
    )

    item = item_of("valve-clear", "", "valve train", *own)

    assert [each.name for each in checked(item).known] == [each.name for each in own]


def test_what_is_renewed_is_told_with_the_figures_of_its_kind() -> None:
    own = figure("engine oil amount", "4.5", "qt")

    assert "; engine oil amount 4.5 qt; " in must_hold(item_of("oil", "", "engine oil", own))


def test_a_point_before_it_rolls_without_its_figure_stands_against_handing_over() -> None:
    this = car(
        part("distributor", on="2020-01-01", at=30000),
        readings=READINGS,
        happenings=[happened("distributor-off", "2026-11-20", 40400)],
        stays=[stay("2026-11-19")],
    )

    found = against_rolling(today(this, book(), "2026-11-25"), book())

    assert Cause.NO_LIMIT in [each.cause for each in found]
