"""What a change of tires or wheels does: patterns left, life and tires bought, before and after."""

from castlenut.domain.frozen import dataclass
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import Tread
from castlenut.domain.tires.axle import Axle, axle_of
from castlenut.domain.tires.cost import AxleRates
from castlenut.domain.tires.fitment import AxleFitment, Bought, Fitment, bought_of
from castlenut.domain.tires.legality import PatternVerdict
from castlenut.domain.tires.reasons import Answer
from castlenut.domain.tires.rotation.tread import rate_at
from castlenut.domain.tires.speedometer import FactorOffered
from castlenut.domain.tires.today import TiresToday


@dataclass(frozen=True, slots=True, kw_only=True)
class TiresChange:
    """The tires of a car before and after a change.

    `blocked` are the patterns it takes away, with their reasons. `bought_before` and
    `bought_after` tell the life of a new set like it and the tires bought over 100,000; None where
    a size or a new depth is not known.
    """

    patterns_before: int
    patterns_after: int
    blocked: tuple[PatternVerdict, ...]
    bought_before: Bought | None
    bought_after: Bought | None
    factor_offered: FactorOffered | None

    @property
    def tells(self) -> bool:
        """Tell whether there is anything to be told."""
        return (
            self.patterns_before != self.patterns_after
            or bool(self.blocked)
            or self.bought_before != self.bought_after
            or self.factor_offered is not None
        )


def tires_after(before: TiresToday, after: TiresToday) -> TiresChange:
    """Hold the tires of a car as they would be against those now on it.

    Both are reckoned with the wear by place known now.
    """
    had = {each.pattern for each in before.left}
    offered = after.factor_offered
    return TiresChange(
        patterns_before=len(before.left),
        patterns_after=len(after.left),
        blocked=tuple(
            each for each in after.patterns if each.pattern in had and each.answer is not Answer.YES
        ),
        bought_before=_bought(before, before),
        bought_after=_bought(after, before),
        factor_offered=None if offered == before.factor_offered else offered,
    )


def fitment_of(tires: TiresToday) -> Fitment | None:
    """Give how a car is shod now, as ways to shoe it are compared.

    None where a road tire is missing, a size is not read, or the tires of an axle differ in size.
    """
    front, rear = _axle(tires, Axle.FRONT), _axle(tires, Axle.REAR)
    if front is None or rear is None:
        return None
    road = [each for each in tires.standing if each.spot is not Spot.SP]
    return Fitment(
        front=front,
        rear=rear,
        is_directional=any(each.tread is Tread.DIRECTIONAL for each in road),
    )


def axle_rates(tires: TiresToday, axle: Axle) -> AxleRates:
    """Give the wear of an axle by side, mm per 1,000 of distance."""
    left, right = (Spot.LF, Spot.RF) if axle is Axle.FRONT else (Spot.LR, Spot.RR)
    rates = tires.wear.rates
    return AxleRates(left=rate_at(rates, left), right=rate_at(rates, right))


def _axle(tires: TiresToday, axle: Axle) -> AxleFitment | None:
    here = [
        each for each in tires.standing if each.spot is not Spot.SP and axle_of(each.spot) is axle
    ]
    sizes = {each.size.key: each.size for each in here if each.size is not None}
    if len(sizes) != 1 or any(each.size is None for each in here):
        return None
    rims = {None if each.assembly is None else each.assembly.rim_width_in for each in here}
    offsets = {None if each.assembly is None else each.assembly.offset_mm for each in here}
    depths = [each.new_depth_mm for each in here if each.new_depth_mm is not None]
    return AxleFitment(
        size=next(iter(sizes.values())),
        rim_width_in=rims.pop() if len(rims) == 1 else None,
        offset_mm=offsets.pop() if len(offsets) == 1 else None,
        new_depth_mm=min(depths) if len(depths) == len(here) else None,
    )


def _bought(tires: TiresToday, by: TiresToday) -> Bought | None:
    fitment = fitment_of(tires)
    if fitment is None:
        return None
    return bought_of(
        fitment,
        tires.patterns,
        front_rates=axle_rates(by, Axle.FRONT),
        rear_rates=axle_rates(by, Axle.REAR),
        limit_mm=tires.rules.limit_mm,
    )
