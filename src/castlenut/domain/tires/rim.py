"""Tire and rim: the measuring rim, the width on another rim, and which rims a size goes on."""

from collections.abc import Mapping
from enum import Enum
from math import floor
from types import MappingProxyType

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.size import Size, SizeType
from castlenut.domain.units import MM_PER_IN

_METRIC = frozenset(
    {SizeType.METRIC, SizeType.P_METRIC, SizeType.LT_METRIC, SizeType.TEMPORARY}
    | {SizeType.WITHOUT_ASPECT}
)
_GROWTH = 0.4  # 3.05, 3.06: of what the rim is wider


class Trust(Enum):
    """How far a rim range is known."""

    PUBLISHED = "published"
    FROM_MEMORY = "from memory"
    BY_WIDTH = "trade table by width, aspect ratio ignored"


@dataclass(frozen=True, slots=True, kw_only=True)
class RimRange:
    """The rim widths that a size goes on, ends included, and how far that is known."""

    least_in: float
    most_in: float
    trust: Trust

    def holds(self, rim_width_in: float) -> bool:
        """Tell whether a rim is neither too narrow nor too wide."""
        return self.least_in <= rim_width_in <= self.most_in


def measuring_rim_in(size: Size) -> float | None:
    """Give the rim width on which the section width is measured (3.08), to the half inch.

    None for sizes that are not metric: their rim is not told by the marking.
    """
    if size.type not in _METRIC or size.width_mm is None or size.aspect is None:
        return None
    return floor(2 * _rim_share(size.aspect) * size.width_mm / MM_PER_IN + 0.5) / 2


def section_width_mm(size: Size, *, rim_width_in: float | None = None) -> float | None:
    """Give the section width on a rim, on the measuring rim without one (3.05-3.07).

    A printed table width is for its own rim, which the table does not tell: None on any other.
    """
    if size.table_width_in is not None:
        return None if rim_width_in is not None else size.table_width_in * MM_PER_IN
    rim = measuring_rim_in(size) if rim_width_in is None else rim_width_in
    if size.type not in _METRIC or rim is None or size.width_mm is None or size.aspect is None:
        return None
    design_rim = _design_share(size.aspect) * size.width_mm
    return size.width_mm + _GROWTH * (rim * MM_PER_IN - design_rim)


def rim_range(size: Size) -> RimRange | None:
    """Give the rims that a size goes on: published, from memory, or by width alone (3.10-3.12).

    None where neither the size nor its width stands in a table.
    """
    if size.type not in _METRIC or size.width_mm is None or size.aspect is None:
        return None
    width = int(size.width_mm)
    name = f"{width}/{size.aspect}R{size.rim_in:g}"
    for table, trust in ((_PUBLISHED, Trust.PUBLISHED), (_FROM_MEMORY, Trust.FROM_MEMORY)):
        if name in table:
            least, most = table[name]
            return RimRange(least_in=least, most_in=most, trust=trust)
    rims = [rim for rim, (least, most) in _BY_RIM.items() if least <= width <= most]
    if not rims:
        return None
    return RimRange(least_in=min(rims), most_in=max(rims), trust=Trust.BY_WIDTH)


def _rim_share(aspect: int) -> float:
    """Give the measuring rim over the section width (3.08)."""
    if aspect >= 75:
        return 0.70
    if aspect >= 60:
        return 0.75
    if aspect >= 50:
        return 0.80
    return 0.85 if aspect >= 45 else 0.90


def _design_share(aspect: int) -> float:
    """Give the theoretical rim over the nominal width (3.07, from memory)."""
    if aspect >= 50:
        return 0.70
    return 0.85 if aspect >= 45 else 0.90


_PUBLISHED: Mapping[str, tuple[float, float]] = MappingProxyType(  # 3.10
    {"205/60R15": (5.5, 7.5), "195/65R15": (5.5, 7.0), "245/45R20": (7.5, 9.0)}
)
_FROM_MEMORY: Mapping[str, tuple[float, float]] = MappingProxyType(  # 3.11
    {
        "195/60R15": (5.5, 7.0),
        "215/60R15": (6.0, 8.0),
        "215/65R15": (6.0, 7.5),
        "225/60R15": (6.0, 8.0),
        "235/60R15": (6.5, 8.5),
        "245/60R15": (6.5, 8.5),
        "255/60R15": (7.0, 9.0),
        "275/60R15": (7.5, 9.5),
        "185/70R14": (4.5, 6.0),
        "195/70R14": (5.0, 6.5),
        "205/70R14": (5.0, 7.0),
        "225/70R14": (6.0, 7.5),
        "215/70R15": (5.5, 7.0),
        "225/70R15": (6.0, 7.5),
        "235/70R15": (6.0, 8.0),
        "255/70R15": (6.5, 8.5),
        "215/75R15": (5.5, 7.0),
        "235/75R15": (6.0, 8.0),
        "195/75R14": (5.0, 6.5),
        "295/50R15": (8.0, 10.0),
    }
)
_BY_RIM: Mapping[float, tuple[int, int]] = MappingProxyType(  # 3.12, least and most width in mm
    {
        5.0: (155, 185),
        5.5: (165, 195),
        6.0: (175, 205),
        6.5: (185, 215),
        7.0: (195, 225),
        7.5: (205, 235),
        8.0: (215, 245),
        8.5: (225, 255),
        9.0: (235, 265),
        9.5: (245, 275),
        10.0: (255, 285),
    }
)
