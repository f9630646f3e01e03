"""Load index and speed symbol: what one tire may carry, and how fast."""

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass

LEAST_LOAD_INDEX, MOST_LOAD_INDEX = 60, 126

# Table 3.A (3.21): indices to 123 are published, 124 to 126 from memory.
_KG = (
    *(250, 257, 265, 272, 280, 290, 300, 307, 315, 325),
    *(335, 345, 355, 365, 375, 387, 400, 412, 425, 437),
    *(450, 462, 475, 487, 500, 515, 530, 545, 560, 580),
    *(600, 615, 630, 650, 670, 690, 710, 730, 750, 775),
    *(800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030),
    *(1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360),
    *(1400, 1450, 1500, 1550, 1600, 1650, 1700),
)

LOAD_KG: Mapping[int, int] = MappingProxyType(
    dict(zip(range(LEAST_LOAD_INDEX, MOST_LOAD_INDEX + 1), _KG, strict=True))
)
"""What one tire of each load index may carry, kg."""

_SYMBOLS = "BCDEFGJKLMNPQRSTUHVWY"
_KMH = (50, 60, 65, 70, 80, 90, *range(100, 220, 10), 240, 270, 300)

SPEED_KMH: Mapping[str, int] = MappingProxyType(
    {f"A{step}": 5 * step for step in range(1, 9)} | dict(zip(_SYMBOLS, _KMH, strict=True))
)
"""Speed symbols by speed (3.23): H stands between U and V, so never sort them by letter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """A service description such as 91H, or 112/109S for a tire that may also run in pairs."""

    load_index: int
    dual_load_index: int | None
    speed_symbol: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleLoad:
    """What the tires of one axle carry together, and how fast: the weakest and slowest decide.

    `margin_kg` is what the weakest has to spare over the need of one tire; None without a need.
    """

    each_kg: tuple[int, ...]
    axle_kg: int
    speed_kmh: int
    margin_kg: float | None

    @property
    def is_enough(self) -> bool | None:
        """Tell whether the weakest carries the need, exactly enough included; None without one."""
        return None if self.margin_kg is None else self.margin_kg >= 0


def read_service(text: str, *, where: str = "tire") -> Service:
    """Read a service description.

    Raises:
        BadInput: it is none, its load index is not in table 3.A, or its symbol is none.
    """
    found = re.fullmatch(
        r"\(?(\d{2,3})(?:/(\d{2,3}))?([A-Z][1-8]?)\)?",
        re.sub(r"\s", "", text.upper()),
        re.ASCII,
    )
    if found is None:
        raise BadInput(
            Fault(f"{text!a} is no service description", where, "write load index and symbol: 91H")
        )
    faults = [
        Fault(
            f"load index {index} has no figure here",
            where,
            f"give one from {LEAST_LOAD_INDEX} to {MOST_LOAD_INDEX}",
        )
        for index in (found[1], found[2])
        if index is not None and int(index) not in LOAD_KG
    ]
    if found[3] not in SPEED_KMH:
        faults.append(
            Fault(f"{found[3]} is no speed symbol", where, f"use one of {', '.join(SPEED_KMH)}")
        )
    if faults:
        raise BadInput(*faults)
    return Service(
        load_index=int(found[1]),
        dual_load_index=int(found[2]) if found[2] else None,
        speed_symbol=found[3],
    )


def axle_load(tires: Sequence[Service], *, need_kg: float | None = None) -> AxleLoad:
    """Give what the tires of one axle carry: the weakest of them, as often as there are tires.

    More than two tires on an axle stand in pairs, and then the second load index counts where a
    tire has one. `need_kg` is on one tire.
    """
    in_pairs = len(tires) > 2
    each = tuple(
        LOAD_KG[tire.dual_load_index if in_pairs and tire.dual_load_index else tire.load_index]
        for tire in tires
    )
    return AxleLoad(
        each_kg=each,
        axle_kg=min(each) * len(each),
        speed_kmh=min(SPEED_KMH[tire.speed_symbol] for tire in tires),
        margin_kg=None if need_kg is None else min(each) - need_kg,
    )
