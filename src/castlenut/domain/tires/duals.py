"""Dual rear wheels: which may stand beside each other, and whether front and rear mix."""

from collections.abc import Iterator

from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import (
    SLACK_MM,
    TRAITS,
    Assembly,
    CarWheels,
    size_key,
)
from castlenut.domain.tires.axle import Axle, axle_of, beside
from castlenut.domain.tires.reasons import (
    Answer,
    Code,
    DepthNotKnown,
    Differs,
    Found,
    OwnNotKnown,
    PairDiffers,
    PairUneven,
)

_PAIR_MM = 12.7  # 1.13: 1/2 in between the diameters of dual wheels


def against_duals(wheels: CarWheels, assembly: Assembly, to: Spot) -> Iterator[Found]:
    """Judge a move on a car with dual rear wheels.

    Front and rear of other tread or service do not mix (4.12), and the two of a side must match
    after the move (1.13). A pair that stays together is not judged by a depth that is not known.
    """
    axle = axle_of(to)
    if assembly.at is Spot.SP or axle_of(assembly.at) is not axle:
        yield from _front_tread(wheels, assembly, axle)
    next_to = beside(to)
    if next_to is None:
        return
    is_paired_now = next_to is assembly.at
    other = wheels.at(to if is_paired_now else next_to)
    if other is None:
        return
    for code, trait in TRAITS[:2]:
        has, others = trait(assembly), trait(other)
        if has is not None and others is not None and has != others:
            detail = PairDiffers(other=other.id, code=code, has=str(has), others=str(others))
            yield Code.PAIR, Answer.NO, detail
    if assembly.thinnest_mm is None or other.thinnest_mm is None:
        if not is_paired_now:
            missing = tuple(each.id for each in (assembly, other) if each.thinnest_mm is None)
            yield Code.PAIR, Answer.NOT_KNOWN, DepthNotKnown(tires=missing)
    elif size_key(assembly) == size_key(other):
        difference = 2 * abs(assembly.thinnest_mm - other.thinnest_mm)
        if difference > _PAIR_MM + SLACK_MM:
            yield (
                Code.PAIR,
                Answer.NO,
                PairUneven(other=other.id, difference_mm=difference, limit_mm=_PAIR_MM),
            )


def _front_tread(wheels: CarWheels, assembly: Assembly, axle: Axle) -> Iterator[Found]:
    """Keep front and rear apart where tread or service differ (4.12)."""
    now = wheels.on(axle)
    has = _tread_and_service(assembly)
    takes = next((each for each in map(_tread_and_service, now) if has and each != has), None)
    if has is None or any(_tread_and_service(each) is None for each in now):
        yield Code.FRONT_TREAD, Answer.NOT_KNOWN, OwnNotKnown()
    elif takes is not None:
        yield Code.FRONT_TREAD, Answer.NO, Differs(axle=axle, has=has, takes=takes)


def _tread_and_service(assembly: Assembly) -> str | None:
    """Give tread and service as one text; None when any of it is not known."""
    tread, index, symbol = assembly.tread, assembly.load_index, assembly.speed_symbol
    if tread is None or index is None or symbol is None:
        return None
    return f"{tread.value} {index}{symbol}"
