"""The geometry of a size: height, diameter, turns per mile, and what a change of size does."""

from math import pi

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.tires.size import Size
from castlenut.domain.units import MM_PER_IN

_IN_PER_MILE = 63_360


def diameter_mm(size: Size) -> float | None:
    """Give the overall diameter (3.01), the printed one where a table or the marking holds it.

    None for a letter size without a table: the letter holds no width (3.15).
    """
    if size.nominal_diameter_in is not None:
        return size.nominal_diameter_in * MM_PER_IN
    if size.width_mm is None or size.aspect is None:
        return None
    return size.rim_in * MM_PER_IN + 2 * size.width_mm * size.aspect / 100


def section_height_mm(size: Size) -> float | None:
    """Give the height from the rim to the tread; None where the diameter is not known."""
    across = diameter_mm(size)
    return None if across is None else (across - size.rim_in * MM_PER_IN) / 2


def revs_per_mile(size: Size) -> float | None:
    """Give turns per mile of the unloaded circle (3.03); a rolling tire turns about 3 % more."""
    across = diameter_mm(size)
    return None if across is None else _IN_PER_MILE / (pi * across / MM_PER_IN)


def odometer_factor(calibrated: Size, fitted: Size) -> float:
    """Give true over shown distance with another size than the dial was made for (10.10).

    The loaded radius cancels in the ratio (3.04).

    Raises:
        BadInput: the diameter of one of them is not known.
    """
    before, after = diameter_mm(calibrated), diameter_mm(fitted)
    faults = [
        Fault(
            f"{size.designation} has no diameter that its marking or a table tells",
            where,
            "measure the tire, or give a size that tells it",
        )
        for size, across, where in ((calibrated, before, "from"), (fitted, after, "to"))
        if across is None
    ]
    if before is None or after is None:
        raise BadInput(*faults)
    return after / before
