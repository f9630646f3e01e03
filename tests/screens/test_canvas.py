"""Lines, points and words in rows of text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from castlenut.screens.widgets.canvas import Canvas, Scale, Stroke, words_along

PLACES = st.tuples(st.floats(min_value=-50, max_value=50), st.floats(min_value=-50, max_value=50))


def test_a_falling_line_of_one_row_uses_four_dots_down_and_two_across() -> None:
    canvas = Canvas(4, 1)

    canvas.line((0, 0), (3.5, 0.75))

    assert canvas.rows() == ("⠉⠑⠢⢄",)


def test_in_ascii_a_line_is_stars_and_a_dotted_one_points() -> None:
    canvas = Canvas(6, 2, ascii_only=True)

    canvas.line((0, 0), (5.9, 0))
    canvas.line((0, 1), (5.9, 1), Stroke.DOTTED)

    assert canvas.rows() == ("******", "......")


def test_in_ascii_links_are_drawn_by_their_slope() -> None:
    canvas = Canvas(7, 3, ascii_only=True)

    canvas.line((2.5, 0.5), (6.5, 2.5), Stroke.LINK)
    canvas.line((6.5, 0.5), (2.5, 2.5), Stroke.LINK)
    canvas.line((0.5, 2.5), (0.5, 0.5), Stroke.LINK)

    assert canvas.rows() == ("| \\   /", "|   X  ", "| /   \\")


def test_in_ascii_a_level_link_is_a_dash_a_column() -> None:
    canvas = Canvas(5, 1, ascii_only=True)

    canvas.line((1, 0), (3, 0), Stroke.LINK)

    assert canvas.rows() == (" --- ",)


def test_words_cover_lines() -> None:
    canvas = Canvas(6, 1, ascii_only=True)

    canvas.line((0, 0), (5.9, 0))
    canvas.write(2, 0, "LF")

    assert canvas.rows() == ("**LF**",)


def test_two_labels_at_one_place_stand_below_each_other() -> None:
    canvas = Canvas(4, 3)

    canvas.label(2, 1, "LF")
    canvas.label(2, 1, "RF")

    assert canvas.rows() == ("  RF", "  LF", "    ")


def test_a_label_stays_inside_the_canvas() -> None:
    canvas = Canvas(4, 1)

    canvas.label(3, 5, "RR")

    assert canvas.rows() == ("  RR",)


def test_a_label_without_a_free_row_is_left_out() -> None:
    canvas = Canvas(2, 1)

    canvas.label(0, 0, "LF")
    canvas.label(0, 0, "RF")

    assert canvas.rows() == ("LF",)


def test_a_scale_puts_its_ends_in_the_middle_of_the_outer_cells() -> None:
    across = Scale(low=0, high=10, cells=21)
    down = Scale(low=0, high=10, cells=21, is_down=True)

    assert (across.at(0), across.at(5), across.at(10)) == (0.5, 10.5, 20.5)
    assert (down.at(0), down.at(5), down.at(10)) == (20.5, 10.5, 0.5)


def test_a_scale_of_one_value_puts_it_in_the_middle() -> None:
    assert Scale(low=3, high=3, cells=5).at(3) == 2.5


def test_words_under_a_chart_are_centered_and_kept_inside() -> None:
    assert words_along(20, [(0, "today"), (10, "5,000"), (20, "10,000")]) == "today   5,000 10,000"


def test_a_word_that_would_touch_another_is_left_out() -> None:
    assert words_along(12, [(0, "today"), (6, "5,000"), (12, "mi")]) == "today     mi"


@pytest.mark.parametrize("ascii_only", [False, True])
@given(
    lines=st.lists(st.tuples(PLACES, PLACES, st.sampled_from(Stroke)), max_size=4),
    texts=st.lists(st.tuples(st.integers(-9, 30), st.integers(-9, 9), st.text()), max_size=3),
)
def test_every_row_is_as_wide_as_the_canvas(
    ascii_only: bool,  # noqa: FBT001 (pytest names it)
    lines: list[tuple[tuple[float, float], tuple[float, float], Stroke]],
    texts: list[tuple[int, int, str]],
) -> None:
    canvas = Canvas(24, 6, ascii_only=ascii_only)

    for start, end, stroke in lines:
        canvas.line(start, end, stroke)
    for across, down, text in texts:
        canvas.write(across, down, text)
        canvas.label(across, down, text)

    assert [cell_len(row) for row in canvas.rows()] == [24] * 6
    assert all(cell_len(sign) == 1 for row in canvas.rows() for sign in row)
