"""Depth of tread in the garage's unit, 1/32 in or mm."""

from collections.abc import Sequence

from castlenut.domain.measures import THIRTY_SECOND
from castlenut.words import figures

MM_PER_THIRTY_SECOND = 25.4 / 32


def depth(depth_mm: float, unit: str) -> str:
    """Give a depth as a bare figure, to the tenth: `8`, `7.1`, `5.6`."""
    value = depth_mm / MM_PER_THIRTY_SECOND if unit == THIRTY_SECOND else depth_mm
    return figures.decimals(value, 1).removesuffix(".0")


def grooves(depths_mm: Sequence[float], unit: str) -> tuple[str, ...]:
    """Give the depths of grooves, outer, middle, inner, as bare figures."""
    return tuple(depth(each, unit) for each in depths_mm)


def with_unit(depth_mm: float, unit: str) -> str:
    """Give a depth with its unit: `7/32`, `5.6 mm`."""
    return f"{depth(depth_mm, unit)}{'/32' if unit == THIRTY_SECOND else ' mm'}"


def unit_words(unit: str) -> str:
    """Name the unit: `32nds`, `mm`."""
    return "32nds" if unit == THIRTY_SECOND else "mm"
