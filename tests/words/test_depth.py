"""Depth of tread in the garage's unit."""

import pytest

from castlenut.domain.measures import MM, THIRTY_SECOND
from castlenut.words.depth import depth, grooves, unit_words, with_unit


@pytest.mark.parametrize(
    ("depth_mm", "told"),
    # 8/32 in is 6.35 mm, 2/32 is 1.5875; the trade writes the limit as 1.6
    [(6.35, "8"), (1.5875, "2"), (1.6, "2"), (5.6, "7.1")],
)
def test_a_depth_in_thirty_seconds(depth_mm: float, told: str) -> None:
    assert depth(depth_mm, THIRTY_SECOND) == told


def test_a_depth_in_mm_has_one_decimal_at_most() -> None:
    assert grooves((5.6, 6.0, 5.55), MM) == ("5.6", "6", "5.6")


def test_a_depth_with_its_unit() -> None:
    assert with_unit(6.35, THIRTY_SECOND) == "8/32"
    assert with_unit(5.6, MM) == "5.6 mm"


def test_the_unit_by_its_name() -> None:
    assert (unit_words(THIRTY_SECOND), unit_words(MM)) == ("32nds", "mm")
