"""The ways to shoe a car as typed: sizes, and options that stand once for all or once for each."""

from __future__ import annotations

import re
from functools import partial
from typing import TYPE_CHECKING, TypeVar

from castlenut.command.tires.typed import NOT_KNOWN, Typed, new_depth, offset, rim_width, spacer
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.comparison import USUAL_NEW_MM
from castlenut.domain.tires.fitment import AxleFitment, Fitment
from castlenut.domain.tires.per_axle import per_axle, read_pair
from castlenut.garage.entry import money
from castlenut.words import figures

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

    from castlenut.command.call import Call
    from castlenut.domain.tires.size import Size

T = TypeVar("T")

_LIKE_A_SIZE = re.compile(r"\s*(LT|[PTS])?\s*\d{2,3}\s*/|\s*\d\S*[Rr-]\s*\d\d|\s*[A-N]R?\d\d-")


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleTyped:
    """What was typed of an axle beside its size; None was not given."""

    rim_width_in: float | None
    offset_mm: float | None
    new_depth_mm: float | None
    price: Decimal | None
    spacer_mm: float | None


def reads_as_size(text: str) -> bool:
    """Tell whether a text is a size, or one for each axle."""
    try:
        read_pair(text)
    except BadInput:
        return False
    return True


def looks_like_size(text: str) -> bool:
    """Tell whether a text that cannot be read was probably meant as a size, not as a car."""
    return _LIKE_A_SIZE.match(text) is not None


def read_sizes(typed: Typed, texts: Sequence[str]) -> list[tuple[Size, Size]]:
    """Read the sizes of each way; those that cannot be read are left out, their faults kept."""
    read = [typed.read(partial(read_pair, text)) for text in texts]
    return [pair for pair in read if pair is not None]


def read_options(
    call: Call, typed: Typed, count: int, *, depth_unit: str
) -> list[tuple[AxleTyped, AxleTyped]]:
    """Read the options of so many ways, front and rear."""
    rims = _each(call, typed, "rim", count, rim_width)
    offsets = _each(call, typed, "offset", count, offset)
    depths = _each(call, typed, "new_depth", count, lambda text: new_depth(text, depth_unit))
    prices = _each(call, typed, "price", count, _price)
    spacers = _each(call, typed, "spacer", count, spacer)
    return [
        (_axle(0, each), _axle(1, each))
        for each in zip(rims, offsets, depths, prices, spacers, strict=True)
    ]


def _axle(
    number: int,
    pairs: tuple[
        tuple[float | None, float | None],
        tuple[float | None, float | None],
        tuple[float | None, float | None],
        tuple[Decimal | None, Decimal | None],
        tuple[float | None, float | None],
    ],
) -> AxleTyped:
    rim, off, deep, price, thick = pairs
    return AxleTyped(
        rim_width_in=rim[number],
        offset_mm=off[number],
        new_depth_mm=deep[number],
        price=price[number],
        spacer_mm=thick[number],
    )


def fitment_of(
    sizes: tuple[Size, Size],
    options: tuple[AxleTyped, AxleTyped],
    *,
    is_directional: bool,
) -> Fitment:
    """Give a way to shoe a car; a new depth that was not given is the usual one."""
    front, rear = (
        AxleFitment(
            size=size,
            rim_width_in=axle.rim_width_in,
            offset_mm=axle.offset_mm,
            new_depth_mm=USUAL_NEW_MM if axle.new_depth_mm is None else axle.new_depth_mm,
            price=axle.price,
            spacer_mm=axle.spacer_mm or 0.0,
        )
        for size, axle in zip(sizes, options, strict=True)
    )
    return Fitment(front=front, rear=rear, is_directional=is_directional)


def _price(text: str) -> Decimal:
    from decimal import Decimal

    return Decimal(money(text, field="--price"))


def _each(
    call: Call, typed: Typed, name: str, count: int, read: Callable[[str], T]
) -> list[tuple[T | None, T | None]]:
    """Read an option for each way: none, one for all, or as many as there are ways."""
    texts = call.texts(name)
    option = f"--{name.replace('_', '-')}"
    if len(texts) not in {0, 1, count}:
        typed.faults.append(
            Fault(
                f"{len(texts)} are given for {figures.count(count, 'way')}",
                option,
                "give it once for all, or once for each in their order",
            )
        )
        return [(None, None)] * count
    pairs = [
        typed.read(partial(per_axle, text, lambda part: _maybe(part, read))) or (None, None)
        for text in texts
    ]
    return pairs if len(pairs) == count else (pairs or [(None, None)]) * count


def _maybe(text: str, read: Callable[[str], T]) -> T | None:
    return None if text.strip() == NOT_KNOWN else read(text)
