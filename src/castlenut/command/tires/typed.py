"""What is typed at the tire counter, read with every fault collected."""

from collections.abc import Callable
from decimal import Decimal
from typing import TypeVar

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.measures import MEASURES, MM, Quantity, in_unit, quantity

T = TypeVar("T")

LEAST_RIM_IN, MOST_RIM_IN = 2.0, 30.0
MOST_OFFSET_MM = 300.0
MOST_SPACER_MM = 100.0
DEEPEST_MM = 40.0
NOT_KNOWN = "-"


class Typed:
    """Reads one thing after the other; what cannot be read is kept until all is read."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def read(self, reading: Callable[[], T]) -> T | None:
        """Read one thing; None where it cannot be."""
        try:
            return reading()
        except BadInput as bad:
            self.faults.extend(bad.faults)
            return None

    def check(self) -> None:
        """Refuse what could not be read.

        Raises:
            BadInput: with every fault met.
        """
        if self.faults:
            raise BadInput(*dict.fromkeys(self.faults))


def figure(text: str, where: str, *, least: float, most: float, unit: str) -> float:
    """Read a figure that may have its unit behind it.

    Raises:
        BadInput: it is none, or out of its range.
    """
    plain = text.strip().lower().removesuffix(unit).strip()
    try:
        value = float(plain)
    except ValueError:
        value = float("nan")
    if not least <= value <= most:
        raise BadInput(
            Fault(f"{text!r} is no figure here", where, f"give {least:g} to {most:g} {unit}")
        )
    return value


def rim_width(text: str) -> float:
    """Read the width of a rim in inches."""
    return figure(text, "--rim", least=LEAST_RIM_IN, most=MOST_RIM_IN, unit="in")


def offset(text: str) -> float:
    """Read the offset of a wheel in millimeters, inward of the center line above 0."""
    return figure(text, "--offset", least=-MOST_OFFSET_MM, most=MOST_OFFSET_MM, unit="mm")


def spacer(text: str) -> float:
    """Read how thick a spacer is, in millimeters."""
    return figure(text, "--spacer", least=0, most=MOST_SPACER_MM, unit="mm")


def new_depth(text: str, depth_unit: str) -> float:
    """Read the depth of a new tread, in millimeters; without a unit it is in the garage's."""
    deep = depth_mm(quantity(text, MEASURES["tread_depth"], depth_unit=depth_unit))
    if not 0 < deep <= DEEPEST_MM:
        raise BadInput(
            Fault(f"{text!r} is no depth of a new tire", "--new-depth", "write 8mm or 11/32")
        )
    return deep


def depth_mm(found: Quantity) -> float:
    """Give the least of the figures of a depth in millimeters."""
    exact = in_unit(min(found.values, default=Decimal(0)), found.unit or MM, MM)
    return 0.0 if exact is None else float(exact)
