"""True distance over time as rows of text, drawn in ASCII signs. Figures are invented."""

from dataclasses import replace
from datetime import date

from castlenut.screens.widgets.use_chart import Fan, Picture, use_chart

READ = ((date(2025, 1, 1), 40_000.0), (date(2025, 7, 1), 41_000.0), (date(2026, 1, 1), 42_000.0))
BEGIN, END = (date(2026, 1, 1), 42_000.0), date(2026, 12, 31)
PICTURE = Picture(
    read=READ,
    flagged=(),
    replaced=(),
    fan=Fan(
        low=(BEGIN, (END, 43_000.0)),
        middle=(BEGIN, (END, 44_000.0)),
        high=(BEGIN, (END, 46_000.0)),
    ),
    level=None,
    laid_up=(),
    first=date(2025, 1, 1),
    today=date(2026, 2, 1),
    last=END,
    unit="mi",
)


def drawn(picture: Picture, *, width: int = 60, height: int = 11) -> tuple[str, ...]:
    return use_chart(picture, width=width, height=height, ascii_only=True)


def test_readings_stand_on_the_line_and_the_fan_ends_with_its_names() -> None:
    rows = drawn(PICTURE)

    assert len(rows) == 11
    assert "".join(rows).count("o") == len(READ) + 1  # and that of `today`
    assert [row.rstrip()[-3:] for row in rows if row.rstrip().endswith(("P10", "P50", "P90"))] == [
        "P90",
        "P50",
        "P10",
    ]
    assert "*" in "".join(rows)
    assert "." in "".join(rows)


def test_distances_stand_at_the_left_and_quarters_below() -> None:
    rows = drawn(PICTURE)

    assert [row[:6] for row in rows if row[:6].strip().replace(",", "").isdigit()] == [
        "46,000",
        "44,000",
        "42,000",
        "40,000",
    ]
    assert rows[-1].split() == ["2025-01", "2025-07", "2026-01", "2026-07"]


def test_the_higher_a_distance_the_higher_its_row() -> None:
    rows = drawn(PICTURE)

    marks = [row.index("o") for row in reversed(rows[:-2]) if "o" in row]
    assert marks == sorted(marks)
    assert len(marks) == len(READ)


def test_a_reading_left_out_stands_outside_the_line_and_inside_the_chart() -> None:
    rows = drawn(replace(PICTURE, flagged=((date(2025, 9, 1), 9.0),)))

    assert "?" in rows[-3]


def test_another_dial_has_its_mark_and_both_figures() -> None:
    rows = drawn(replace(PICTURE, replaced=((date(2025, 4, 1), 40_500.0, "40,500 to 12"),)))

    assert sum("^" in row for row in rows) == 1
    assert any("40,500 to 12" in row for row in rows)


def test_a_due_distance_is_a_level_with_its_name_if_it_lies_in_the_chart() -> None:
    inside = drawn(replace(PICTURE, level=(45_000.0, "brake fluid due")))
    outside = drawn(replace(PICTURE, level=(99_000.0, "brake fluid due")))

    assert any(" brake fluid due " in row and "- -" in row for row in inside)
    assert not any("brake fluid" in row for row in outside)


def test_a_lay_up_lies_on_the_axis_beside_today() -> None:
    rows = drawn(replace(PICTURE, laid_up=((date(2025, 9, 1), date(2026, 5, 1)),)), width=90)

    assert " laid up " in rows[-2]
    assert "|" in rows[-2]
    assert rows[-2].count("=") > 10


def test_a_lay_up_of_another_time_is_left_out() -> None:
    assert "=" not in drawn(replace(PICTURE, laid_up=((date(2020, 9, 1), date(2021, 5, 1)),)))[-2]


def test_a_car_that_stands_still_has_a_level_line() -> None:
    still = tuple((on, 40_000.0) for on, _ in READ)
    flat = (still[-1], (END, 40_000.0))

    rows = drawn(replace(PICTURE, read=still, fan=Fan(low=flat, middle=flat, high=flat)))

    assert sum("o" in row for row in rows[:-2]) == 1


def test_without_a_reading_or_without_room_nothing_is_drawn() -> None:
    assert drawn(replace(PICTURE, read=(), fan=None)) == ()
    assert drawn(PICTURE, width=30) == ()
    assert drawn(PICTURE, height=5) == ()
