"""Tread depth over distance as text. All figures are invented."""

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from castlenut.screens.widgets.tread_chart import Axis, Curve, tread_chart

DEPTHS = Axis(words=((0.0, "0"), (4.0, "4"), (8.0, "8")))
DISTANCES = Axis(words=((0.0, "0"), (20.0, "now"), (40.0, "40,000")))
LF = Curve(label="LF", measured=((0, 8), (20, 4)), expected=((20, 4), (40, 0)))


def chart(*curves: Curve, width: int = 40, height: int = 11) -> tuple[str, ...]:
    return tread_chart(
        curves,
        limit=2.0,
        depths=DEPTHS,
        distances=DISTANCES,
        rotations=(0.0, 20.0),
        width=width,
        height=height,
        ascii_only=True,
    )


def test_a_curve_is_solid_where_measured_and_dotted_where_expected() -> None:
    found = chart(LF)

    assert [row.rstrip() for row in found] == [
        "8 ***",
        "    *****",
        "        *****",
        "            *****",
        "4               ***.",
        "                    ....",
        "  - - - - - - - - - - - ....- - - -",
        "                            ....",
        "0                               ... LF",
        "  |---------------|----------------",
        "  0              now            40,000",
    ]


def test_each_curve_has_its_name_at_its_end() -> None:
    rear = Curve(label="RR", measured=((0, 8), (20, 4)), expected=((20, 4), (40, 0)))

    found = chart(LF, rear)

    assert found[8].rstrip().endswith("LF")
    assert found[7].rstrip().endswith("RR")


def test_a_tire_measured_once_has_its_name_beside_the_point() -> None:
    found = chart(LF, Curve(label="SP", measured=((0, 6),)))

    assert "SP" in found[2]


def test_without_room_or_points_there_is_no_chart() -> None:
    assert chart(LF, width=20) == ()
    assert chart(LF, height=4) == ()
    assert chart() == ()


@given(
    depths=st.lists(st.floats(min_value=0.5, max_value=20), min_size=2, max_size=6),
    size=st.tuples(st.integers(30, 130), st.integers(6, 30)),
)
def test_every_row_is_as_wide_as_asked(depths: list[float], size: tuple[int, int]) -> None:
    measured = tuple((float(number), depth) for number, depth in enumerate(depths))

    found = chart(Curve(label="LRO", measured=measured), width=size[0], height=size[1])

    assert [cell_len(row) for row in found] == [size[0]] * size[1]
