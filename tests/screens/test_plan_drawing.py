"""The tires of a car from above, as text. All sizes and depths are invented."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from castlenut.domain.place import Spot
from castlenut.domain.tires.rotation.moves import MOVES, Pattern
from castlenut.screens.widgets.plan_drawing import Box, Drawing, drawing

NONE = "-- none recorded, f fits one"


def box(spot: Spot, depths: str = "8 8 8", *, share: float = 0.6, size: str = "205/65R15") -> Box:
    return Box(
        spot=spot,
        size=size,
        depths=tuple(depths.split()),
        thinnest=min(depths.split()),
        share=share,
    )


CORNERS = (box(Spot.LF), box(Spot.RF), box(Spot.LR), box(Spot.RR, "6 6 6", share=0.4))
SPARE = box(Spot.SP, "7")


def drawn(pattern: Pattern | None, *boxes: Box, width: int = 36, height: int = 12) -> Drawing:
    goes = {} if pattern is None else MOVES[pattern]
    moved = [replace(each, goes=goes.get(each.spot)) for each in boxes]
    return drawing(moved, width, height, ascii_only=True)


def test_the_rearward_cross_as_arrows_and_words() -> None:
    found = drawn(Pattern.REARWARD_CROSS, *CORNERS)

    assert [row.rstrip() for row in found.rows] == [
        "                front",
        "  LF 205/65R15      RF 205/65R15",
        "  8 8 8 #####---    8 8 8 #####---",
        "  to RR             to LR",
        "     ^   \\                 /   ^",
        "     |        \\        /       |",
        "     |            X            |",
        "     |        /        \\       |",
        "     |   v                 v   |",
        "  LR 205/65R15      RR 205/65R15",
        "  8 8 8 #####---    6 6 6 ###-----",
        "  to LF             to RF",
    ]


def test_side_to_side_runs_between_the_tires_of_an_axle() -> None:
    found = drawn(Pattern.SIDE_TO_SIDE, *CORNERS)

    assert found.rows[3].rstrip() == "  to RF  <--------> to LF"
    assert found.rows[11].rstrip() == "  to RR  <--------> to LR"
    assert not "".join(found.rows[4:9]).strip()


def test_the_spare_stands_below_and_its_lines_run_along_the_edge() -> None:
    found = drawn(Pattern.FIVE_REARWARD_CROSS, *CORNERS, SPARE, height=15)

    assert [row.rstrip() for row in found.rows[9:15]] == [
        "| LR 205/65R15      RR 205/65R15   ^",
        "| 8 8 8 #####---    6 6 6 ###----- |",
        "| to LF             to RF          |",
        "->SP 205/65R15                     |",
        "  7 #####---     ------------------|",
        "  to RR",
    ]


def test_without_a_pattern_nothing_goes_anywhere() -> None:
    found = drawn(None, *CORNERS)

    assert not [row for row in found.rows if "to " in row]


def test_a_tire_at_the_limit_has_its_mark_and_color() -> None:
    worn = replace(box(Spot.RR, "2 2 2", share=0.0), mark="!!", color="overdue")

    found = drawn(None, *CORNERS[:3], worn)

    assert found.rows[10].rstrip() == "  8 8 8 #####---    !! 2 2 2 ------"
    (colored,) = found.colored
    assert found.rows[colored.row][colored.start : colored.end] == "!! 2 2 2 ------"
    assert colored.color == "overdue"


def test_a_last_bit_of_life_is_a_sign() -> None:
    found = drawn(None, box(Spot.LF, "3", share=0.01))

    assert found.rows[2].rstrip() == "  3 #-------"


def test_what_was_never_measured_says_so() -> None:
    bare = Box(spot=Spot.LF, size="205/65R15")

    found = drawn(None, bare)

    assert found.rows[2].rstrip() == "  not measured"


def test_a_missing_tire_says_which_key_fits_one() -> None:
    found = drawn(None, *CORNERS[:3], Box(spot=Spot.RR, missing=NONE))

    told = " ".join(row[19:].strip() for row in found.rows[9:])
    assert told == "RR -- none recorded, f fits one"


def test_grooves_too_long_for_the_box_give_way_to_the_thinnest() -> None:
    found = drawn(None, box(Spot.LF, "5.65 5.25 5.45"))

    assert found.rows[2].rstrip() == "  5.25 #####---"


def test_duals_stand_side_by_side_and_a_size_they_share_is_written_once() -> None:
    spots = (Spot.LF, Spot.RF, Spot.LRO, Spot.LRI, Spot.RRI)
    boxes = [box(spot, size="7.50R16 LT") for spot in spots]
    other = replace(box(Spot.RRO, size="7.00R16"), goes=Spot.RRI)

    found = drawing([*boxes, other], 36, 14, ascii_only=True)

    assert [row.rstrip() for row in found.rows[9:14]] == [
        "  LRO     LRI       RRI     RRO",
        "  7.50R16 LT        7.50... 7.00R16",
        "  8 8 8   8 8 8     8 8 8   8 8 8",
        "  ####--- ####---   ####--- ####---",
        "                            to RRI",
    ]


@pytest.mark.parametrize("ascii_only", [False, True])
@given(
    texts=st.lists(st.text(max_size=30), min_size=4, max_size=4),
    missing=st.text(max_size=30),
    pattern=st.sampled_from(Pattern),
    size=st.tuples(st.integers(20, 60), st.integers(8, 24)),
)
def test_no_text_of_a_record_breaks_the_drawing(
    ascii_only: bool,  # noqa: FBT001 (pytest names it)
    texts: list[str],
    missing: str,
    pattern: Pattern,
    size: tuple[int, int],
) -> None:
    """screens.md section 12, 4: no text of any record breaks a row's width."""
    spots = (Spot.LF, Spot.RF, Spot.LR, Spot.RR)
    boxes = [
        Box(spot=spot, size=text, depths=(text,), thinnest=text, goes=MOVES[pattern].get(spot))
        for spot, text in zip(spots, texts, strict=True)
    ]
    spare = Box(spot=Spot.SP, missing=missing)

    found = drawing([*boxes, spare], *size, ascii_only=ascii_only)

    assert [cell_len(row) for row in found.rows] == [size[0]] * size[1]
    assert all(each.end <= size[0] and each.row < size[1] for each in found.colored)
