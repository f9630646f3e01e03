"""Which tire stands where over distance, as text. All figures are invented."""

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from castlenut.screens.widgets.timeline import Lane, timeline

FRONT = Lane(label="LF", places=("LF", "LF", "RR"), end="2")
SPARE = Lane(label="SP", places=("SP", "LR", "LR"), end="4.5")


def test_a_place_is_written_where_a_tire_comes_to_it() -> None:
    found = timeline(
        [FRONT, SPARE],
        starts=(0, 5000, 10000),
        until=15000,
        words=("now", "57,400", "62,400", "67,400"),
        width=41,
    )

    assert [row.rstrip() for row in found] == [
        "    now     57,400    62,400     67,400",
        " LF LF---------+---------RR---------| 2",
        " SP SP.........LR--------+----------| 4.5",
    ]


def test_rotations_without_room_are_counted() -> None:
    places = ("LF", "RF") * 10
    starts = tuple(range(0, 100_000, 5_000))

    found = timeline(
        [Lane(label="LF", places=places, end="2")],
        starts=starts,
        until=100_000,
        words=tuple(str(start) for start in (*starts, 100_000)),
        width=36,
    )

    assert found[1].rstrip() == " LF LF--RF--LF--RF---LF--RF--LF--..."
    assert found[2].strip() == "... and 13 more rotations"


def test_without_room_there_is_no_timeline() -> None:
    found = timeline([FRONT], starts=(0, 1, 2), until=3, words=("now", "1", "2", "3"), width=20)

    assert found == ()


@given(
    starts=st.lists(st.floats(min_value=1, max_value=1e5), max_size=30, unique=True),
    width=st.integers(40, 130),
)
def test_every_row_is_as_wide_as_asked(starts: list[float], width: int) -> None:
    begins = (0.0, *sorted(starts))
    lane = Lane(label="LRO", places=("LRO",) * len(begins), end="11.5")

    found = timeline(
        [lane],
        starts=begins,
        until=2e5,
        words=tuple(f"{start:,.0f}" for start in (*begins, 2e5)),
        width=width,
    )

    assert {cell_len(row) for row in found} == {width}
