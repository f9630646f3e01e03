"""The tires of a car on the screen. All cars, tires and figures are invented."""

from collections.abc import Sequence

import pytest
from rich.cells import cell_len
from textual.pilot import Pilot

from castlenut.garage.garage import Garage
from castlenut.garage.tires import tires_of
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.car import TIRES, CarPage
from castlenut.screens.forms.rotation import RotationForm
from castlenut.screens.forms.tread import TreadForm
from castlenut.screens.tires.compare import ComparePage
from castlenut.screens.tires.plan import PlanPage
from castlenut.screens.tires.told import BoundPage, ReasonsPage
from castlenut.words.cautions import DEFERRING_LINE
from tests.screens import tire_garages
from tests.screens.conftest import USUAL, pressed, settled, shown, typed

SMALL, WIDE = (60, 20), (120, 36)


async def at(pilot: Pilot[int], slug: str, *keys: str) -> None:
    """Open page 3 of a car, then press further keys."""
    await settled(pilot)
    assert isinstance(pilot.app.screen, Board)
    pilot.app.screen.cars.put_cursor(slug)
    await pressed(pilot, "enter", "3", *keys)


def words(app: CastlenutApp) -> str:
    """Give what stands on the terminal with single blanks."""
    return " ".join(shown(app).split())


async def test_3_opens_the_tires_and_every_pattern_is_listed(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "torvane-cresset")

        told = shown(app)
        assert isinstance(app.screen, CarPage)
        assert app.screen.number == TIRES
        for name in ("rearward cross", "forward cross", "X ", "front to rear", "side to side"):
            assert name in told
        assert "five-tire rearward no: temporary" in told
        assert "yes, with a warning" in told


async def test_the_cursor_redraws_where_each_tire_goes(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop, ascii_only=True)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite")
        cross = shown(app).splitlines()
        await pressed(pilot, "down", "down", "down", "down")
        across = shown(app).splitlines()

        assert cross[6].startswith("  to RR             to LR ")
        assert cross[7].startswith("     ^   \\                 /   ^ ")
        assert across[6].startswith("  to RF  <--------> to LF ")


async def test_a_tire_says_its_depths_and_how_much_is_left(tire_shop: Garage) -> None:
    """11/32 new, 2/32 the limit: at 8/32 six ninths are left, five of eight cells."""
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite")

        told = shown(app)
        assert "LF 205/65R15" in told
        assert "8 8 8 #####---" in told


async def test_a_tire_at_the_limit_carries_the_mark(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "stanwick-fulmar")

        assert "!! 2 2 2 ------" in shown(app)


async def test_the_reasons_against_the_pattern_stand_beside_with_what_lifts_them(
    tire_shop: Garage,
) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "stanwick-fulmar")

        told = words(app)
        assert "-- rearward cross --" in told
        assert "rotation: none possible, because sizes" in told
        assert "more lines: w" in told


async def test_w_tells_every_reason_and_what_lifts_it(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "stanwick-fulmar", "w")

        assert isinstance(app.screen, ReasonsPage)
        told = app.screen.told
        assert "LF carries 205/60R15; the rear axle takes 225/60R15." in told
        assert "RR carries 225/60R15; the front axle takes 205/60R15." in told
        assert "Wheel LF has rim width 6 in; the rear takes 7 in." in told
        assert any(each.lower().startswith("lifted by: one size all round") for each in told)
        assert told[-1] == DEFERRING_LINE


async def test_the_row_on_the_first_page_says_how_the_car_may_be_rotated(
    tire_shop: Garage,
) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "1")
        even = shown(app)
        await pressed(pilot, "escape")
        await at(pilot, "stanwick-fulmar", "1")
        worn = shown(app)
        await pressed(pilot, "escape")
        await at(pilot, "marlholme-ox", "1")
        dual = shown(app)

        assert "rotation: rearward cross" in even
        assert "rotation: none possible, because sizes differ, rim widths differ" in worn
        assert "rotation: front side to side, inside to outside" in dual


async def test_sizes_that_differ_leave_side_to_side_on_the_first_page(
    tire_shop: Garage,
) -> None:
    """The row of screens.md section 3: a new tire at RR of the staggered car."""
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "stanwick-fulmar", "t", "equals_sign", "enter", "tab", "tab", "tab")
        await pressed(pilot, "tab", "tab", "tab", "tab", "tab", "tab")
        await typed(pilot, "4")
        await pressed(pilot, "ctrl+s", "1")

        assert "rotation: side to side (sizes differ, rim widths differ)" in shown(app)


async def test_dual_wheels_stand_in_pairs_and_may_change_inside_to_outside(
    tire_shop: Garage,
) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "marlholme-ox", "down")

        told = shown(app)
        assert "LRO     LRI       RRI     RRO" in told
        assert "to LRI  to LRO    to RRO  to RRI" in told
        assert "inside to outside  yes" in told


async def test_a_place_without_a_tire_says_which_key_fits_one(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "quenby-marsh")

        told = shown(app)
        assert "LF -- none" in told
        assert "No tire is recorded: f fits one" in told


@pytest.mark.long
async def test_tread_is_typed_as_one_walks_round_the_car(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "t")
        assert isinstance(app.screen, TreadForm)
        places = [each.name for each in app.screen.typed if len(str(each.name)) == 2]
        await typed(pilot, "=")
        await pressed(pilot, "enter")
        for figures in ("7", "7", "6", "7", "", "6", "5", "5", "5", "", "11", ""):
            await typed(pilot, figures)
            await pressed(pilot, "enter")
        await pressed(pilot, "ctrl+s")

        standing = {each.spot.value: each for each in tires_of(tire_shop, "ellersby-kite").standing}
        assert places == ["on", "at", "LF", "RF", "LR", "RR", "SP"]
        found = {spot: each.depths for spot, each in standing.items() if each.depths is not None}
        assert [str(value) for value in found["LF"].values] == ["7", "7", "6"]
        assert [str(value) for value in found["RF"].values] == ["7"]
        assert [str(value) for value in found["LR"].values] == ["6", "5", "5"]
        assert "saved: tread measured at LF, RF, LR" in shown(app)


async def test_a_depth_that_cannot_be_is_said_at_its_field_and_kept(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "t")
        await typed(pilot, "=")
        await pressed(pilot, "enter")
        await typed(pilot, "12")
        lines = shown(app).splitlines()
        at_field = next(number for number, line in enumerate(lines) if "LF  " in line)
        await pressed(pilot, "ctrl+s")

        assert "~ deeper than new (11/32): tire changed?" in lines[at_field + 1]
        standing = tires_of(tire_shop, "ellersby-kite").standing[0]
        assert standing.depths is not None
        assert [str(value) for value in standing.depths.values] == ["12"]


async def test_a_depth_that_cannot_be_read_is_a_fault_at_its_field(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "t")
        await typed(pilot, "=")
        await pressed(pilot, "enter")
        await typed(pilot, "x")
        await pressed(pilot, "ctrl+s")

        assert isinstance(app.screen, TreadForm)
        assert app.screen.field("LF").has_fault
        assert tires_of(tire_shop, "ellersby-kite").standing[0].depths is not None


async def test_the_form_asks_for_the_dial_figure(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "t", "enter")
        await typed(pilot, "7")
        await pressed(pilot, "ctrl+s")

        assert isinstance(app.screen, TreadForm)
        assert "what did the dial show? = takes the estimate" in words(app)


async def test_enter_records_the_pattern_under_the_cursor(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        before = tires_of(tire_shop, "ellersby-kite")
        await at(pilot, "ellersby-kite", "enter")
        assert isinstance(app.screen, RotationForm)
        await typed(pilot, "52425")
        told = words(app)
        await pressed(pilot, "ctrl+s")

        after = tires_of(tire_shop, "ellersby-kite")
        was = {each.spot.value: each.tire for each in before.standing}
        now = {each.spot.value: each.tire for each in after.standing}
        assert "next: lug nuts, torque, all 4 due at 52,475 mi" in told
        assert "caution: Firm level ground" in told
        assert (now["RR"], now["LR"]) == (was["LF"], was["RF"])
        assert (now["LF"], now["RF"]) == (was["LR"], was["RR"])
        assert "saved: rotated rearward cross" in shown(app)


async def test_what_is_not_allowed_is_refused_but_for_what_was_done_already(
    tire_shop: Garage,
) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "stanwick-fulmar", "enter")
        await typed(pilot, "=")
        await pressed(pilot, "ctrl+s")
        refused = isinstance(app.screen, RotationForm)
        told = words(app).replace(" │ │ ", " ")
        tick = app.screen.query_one("Tick")
        tick.focus()
        await pressed(pilot, "space", "ctrl+s")

        assert refused
        assert "LF carries 205/60R15; the rear axle takes 225/60R15" in told
        assert isinstance(app.screen, CarPage)
        spots = {each.spot.value: each for each in tires_of(tire_shop, "stanwick-fulmar").standing}
        assert spots["LF"].tire is not None
        assert spots["LF"].tire.size == "225/60R15"


async def test_l_shows_the_next_move_and_every_rotation_to_the_end(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "l")

        told = shown(app)
        assert isinstance(app.screen, PlanPage)
        assert told.splitlines()[1].startswith(" next, now: ")
        assert "so the set lasts about" in told
        assert "at the limit: a new set" in told
        assert " LF LR---" in told


async def test_w_on_the_plan_tells_the_bound_and_what_it_is_held_against(
    tire_shop: Garage,
) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "l", "w")

        assert isinstance(app.screen, BoundPage)
        told = words(app)
        assert "which no schedule can pass" in told
        assert "proved the best at this interval" in told
        assert "no rotation" in told


async def test_space_on_the_plan_asks_for_other_moves(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "l", "space")
        patterns = shown(app)
        await pressed(pilot, "space")
        without = shown(app)

        assert "the trade's patterns only" in patterns.splitlines()[0]
        assert "five-tire rearward cross: " in " ".join(patterns.split())
        assert "any moves, without the spare" in without.splitlines()[0]
        assert " SP SP" not in without


async def test_a_rotation_of_the_plan_is_recorded_as_it_stands_there(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "l", "enter")

        assert isinstance(app.screen, RotationForm)
        assert app.screen.text("moves") == "LF=LR,LR=LF,RR=SP,SP=RR"


async def test_where_no_plan_can_be_made_it_says_what_is_missing(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "stanwick-fulmar", "l")

        assert "RR: has 1.6 mm: at the limit; renew it first" in shown(app)


async def test_a_shows_tread_over_distance_and_again_as_a_table(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop, ascii_only=True)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "a")
        chart = shown(app)
        await pressed(pilot, "a")
        table = shown(app)
        await pressed(pilot, "y")

        assert "limit 2 " in chart
        assert "40,000" in chart
        assert " now " in chart
        assert "   52,400  8      7      6      5      11" in table
        assert app.clipboard.splitlines()[0].split() == ["at", "LF", "RF", "LR", "RR", "SP"]


async def test_c_holds_typed_sizes_against_what_the_car_has(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=WIDE) as pilot:
        await at(pilot, "ellersby-kite", "c")
        await typed(pilot, "205/65R15/225/60R15 rim 6/7")
        await pressed(pilot, "enter", "enter")

        told = words(app)
        assert isinstance(app.screen, ComparePage)
        assert "patterns left 5 of 7 < 1 of 7" in told
        assert "widest that fits: " in told
        await pressed(pilot, "w")
        assert any("A: Wheel LF has rim width" in each for each in _told(app))


def _told(app: CastlenutApp) -> tuple[str, ...]:
    assert isinstance(app.screen, ReasonsPage)
    return app.screen.told


async def test_a_size_that_cannot_be_read_is_said_at_its_field(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "c")
        await typed(pilot, "19X")

        lines = shown(app).splitlines()
        assert lines[2].startswith(" x '19X' cannot be")
        assert "now" in words(app)


@pytest.mark.long
async def test_wider_wheels_tell_which_patterns_fall_before_they_are_saved(
    tire_shop: Garage,
) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite", "2", "f", "tab")
        await typed(pilot, "wheel")
        await pressed(pilot, "enter")
        await typed(pilot, "rear")
        await pressed(pilot, "ctrl+s")
        await typed(pilot, "disc")
        await pressed(pilot, "enter")
        for figure in ("7", "15", "35"):
            await typed(pilot, figure)
            await pressed(pilot, "enter")
        await pressed(pilot, "ctrl+s")
        told = words(app)
        await pressed(pilot, "ctrl+s", "3")

        assert "patterns left 7 -> 1, because Wheel LF has rim width 6 in; the rear takes 7 in" in (
            told.replace(" │ │ ", " ")
        )
        after = shown(app)
        assert after.count("no: rim widths differ") == 6
        assert "side to side       yes" in after


async def test_a_wide_terminal_has_the_plan_beside_and_tread_below(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=WIDE) as pilot:
        await at(pilot, "ellersby-kite")

        told = shown(app)
        assert "-- plan ---" in told
        assert "next, now: " in told
        assert "limit 2" in told


WAYS = {
    "tires": (),
    "tires, another pattern": ("down", "down"),
    "reasons": ("w",),
    "plan": ("l",),
    "bound": ("l", "w"),
    "treads": ("a",),
    "treads as a table": ("a", "a"),
    "compare": ("c",),
    "tread form": ("t",),
    "rotation form": ("enter",),
}
CARS = ("ellersby-kite", "marlholme-ox", "torvane-cresset")


async def back(pilot: Pilot[int]) -> None:
    """Go back to the car."""
    while not isinstance(pilot.app.screen, CarPage):
        await pressed(pilot, "escape")


@pytest.mark.long
async def test_every_line_is_as_wide_as_the_terminal_and_no_letter_wider_than_a_cell(
    tire_shop: Garage,
) -> None:
    for slug in CARS:
        app = CastlenutApp(tire_shop)
        async with app.run_test(size=WIDE) as pilot:
            await at(pilot, slug)
            for way in WAYS.values() if slug == CARS[0] else [()]:
                await pressed(pilot, *way)
                for size in (USUAL, SMALL, WIDE):
                    await pilot.resize_terminal(*size)
                    await settled(pilot)

                    lines = shown(app).splitlines()
                    assert len(lines) == size[1]
                    assert {cell_len(line) for line in lines} == {size[0]}
                    assert all(cell_len(letter) == 1 for letter in "".join(lines))
                await back(pilot)


@pytest.mark.parametrize(
    "ways", [[()], pytest.param([*WAYS.values()], marks=pytest.mark.long)], ids=["page", "all"]
)
async def test_nothing_but_ascii_where_the_terminal_has_nothing_else(
    tire_shop: Garage, ways: Sequence[Sequence[str]]
) -> None:
    app = CastlenutApp(tire_shop, ascii_only=True)

    async with app.run_test(size=WIDE) as pilot:
        await at(pilot, CARS[0])
        for way in ways:
            await pressed(pilot, *way)

            assert shown(app).isascii()
            assert {len(line) for line in shown(app).splitlines()} == {WIDE[0]}
            await back(pilot)


async def test_no_text_of_a_tire_breaks_the_layout(tire_shop: Garage) -> None:
    """screens.md section 12, 4: control signs, markup, wide letters in what was typed once."""
    odd = "205/65R15 [/bold] \u8eca\u8f2a\u8eca\u8f2a"
    new = tire_garages.with_odd_size(tire_shop, odd)
    app = CastlenutApp(new)

    async with app.run_test(size=USUAL) as pilot:
        await at(pilot, "ellersby-kite")

        lines = shown(app).splitlines()
        assert {cell_len(line) for line in lines} == {USUAL[0]}
        assert "LF 205/65R15..." in lines[4]


async def test_a_small_terminal_keeps_the_drawing_and_the_bare_answers(tire_shop: Garage) -> None:
    app = CastlenutApp(tire_shop)

    async with app.run_test(size=SMALL) as pilot:
        await at(pilot, "torvane-cresset")

        told = shown(app)
        assert "rearward cross     yes ~" in told
        assert "five-tire forward  no" in told
        assert "LF 205/65R15" in told
