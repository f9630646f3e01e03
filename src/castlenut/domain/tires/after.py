"""What a change of tires or wheels does: patterns left, life and tires bought, before and after."""

from collections.abc import Sequence

from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import Tread
from castlenut.domain.tires.axle import Axle, axle_of
from castlenut.domain.tires.cost import AxleRates
from castlenut.domain.tires.fitment import UNWORN_MM, AxleFitment, Bought, Fitment, bought_of
from castlenut.domain.tires.legality import PatternVerdict, pattern_verdicts
from castlenut.domain.tires.reasons import Answer
from castlenut.domain.tires.rotation.moves import Pattern
from castlenut.domain.tires.rotation.tread import rate_at
from castlenut.domain.tires.speedometer import FactorOffered
from castlenut.domain.tires.today import TiresToday


@dataclass(frozen=True, slots=True, kw_only=True)
class TiresChange:
    """The tires of a car before and after a change.

    `patterns` and `bought` of each: the verdicts, and the life of a new set like it with the tires
    bought over 100,000; None where a size or a new depth is not known. `factor_offered` is what
    the dial would be off by from then on, where the change makes it so. `unmeasured` are places
    whose tread nobody measured: it is taken as not worn here, since the change is what is asked
    about.
    """

    patterns_before: tuple[PatternVerdict, ...]
    patterns_after: tuple[PatternVerdict, ...]
    bought_before: Bought | None
    bought_after: Bought | None
    factor_offered: FactorOffered | None
    unmeasured: tuple[Spot, ...]

    @property
    def blocked(self) -> tuple[PatternVerdict, ...]:
        """Give the patterns that the change takes away, with their reasons."""
        had = _may(self.patterns_before)
        return tuple(each for each in self.patterns_after if each.pattern in had - self._left)

    @property
    def changes_patterns(self) -> bool:
        """Tell whether other patterns are left than before."""
        return _may(self.patterns_before) != self._left

    @property
    def _left(self) -> frozenset[Pattern]:
        return _may(self.patterns_after)


def tires_after(before: TiresToday, after: TiresToday) -> TiresChange:
    """Hold the tires of a car as they would be against those now on it.

    Both are reckoned with the wear by place known now.
    """
    offered = after.factor_offered
    return TiresChange(
        patterns_before=_patterns(before),
        patterns_after=_patterns(after),
        bought_before=_bought(before, before),
        bought_after=_bought(after, before),
        factor_offered=None if offered == before.factor_offered else offered,
        unmeasured=tuple(
            each.at for each in (after.wheels.road if after.wheels else ()) if not each.depths_mm
        ),
    )


def _patterns(tires: TiresToday) -> tuple[PatternVerdict, ...]:
    """Give the verdicts, tread that nobody measured taken as not worn."""
    wheels = tires.wheels
    if wheels is None or all(each.depths_mm for each in wheels.assemblies):
        return tires.patterns
    measured = tuple(
        each if each.depths_mm else replace(each, depths_mm=(UNWORN_MM,))
        for each in wheels.assemblies
    )
    return pattern_verdicts(replace(wheels, assemblies=measured))


def _may(patterns: Sequence[PatternVerdict]) -> frozenset[Pattern]:
    return frozenset(each.pattern for each in patterns if each.answer is Answer.YES)


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
        _patterns(tires),
        front_rates=axle_rates(by, Axle.FRONT),
        rear_rates=axle_rates(by, Axle.REAR),
        limit_mm=tires.rules.limit_mm,
    )
