"""Ways to shoe a car held against each other: what each gives, loses and costs."""

from collections.abc import Callable, Sequence
from decimal import Decimal

from castlenut.domain.frozen import dataclass
from castlenut.domain.place import CORNERS
from castlenut.domain.tires.assembly import LEAST_TREAD_MM, Assembly, CarWheels, Tread
from castlenut.domain.tires.axle import Axle, axle_of, side_of
from castlenut.domain.tires.cost import OVER, AxleRates, axle_life, set_life
from castlenut.domain.tires.geometry import diameter_mm
from castlenut.domain.tires.legality import PatternVerdict, pattern_verdicts
from castlenut.domain.tires.reasons import Answer, Code
from castlenut.domain.tires.rim import RimRange, rim_range, section_width_mm
from castlenut.domain.tires.room import EdgeChange, Stance, edge_change
from castlenut.domain.tires.rotation.moves import MOVES
from castlenut.domain.tires.size import Size
from castlenut.domain.vehicle import Drive


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleFitment:
    """What an axle would carry. None is not known; a price is of one tire.

    `spacer_mm` is of spacers that would come under the wheels beside those there now.
    """

    size: Size
    rim_width_in: float | None = None
    offset_mm: float | None = None
    new_depth_mm: float | None = None
    price: Decimal | None = None
    spacer_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitment:
    """A way to shoe a car."""

    front: AxleFitment
    rear: AxleFitment
    is_directional: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleCompared:
    """What a fitment comes to on one axle. `change` is against the present one."""

    diameter_mm: float | None
    section_width_mm: float | None
    rims: RimRange | None
    is_in_range: bool | None
    change: EdgeChange | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """Life of the set, or of the axle worn first; tires bought over 100,000, and their price."""

    life: float
    tires: float
    money: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What a fitment comes to. None where something that it needs is not known.

    `factor` is true over shown distance. `assumed` are figures known of neither axle and taken to
    be alike. `life` is of the set that is rotated, or of the axle that is worn first.
    """

    fitment: Fitment
    front: AxleCompared
    rear: AxleCompared
    factor: float | None
    patterns: tuple[PatternVerdict, ...]
    assumed: tuple[Code, ...]
    life: float | None
    tires_bought: float | None
    money: Decimal | None

    @property
    def patterns_left(self) -> int:
        """Count the patterns that may be done."""
        return sum(each.answer is Answer.YES for each in self.patterns)


def compared(
    now: Fitment,
    other: Fitment,
    *,
    drive: Drive,
    front_rates: AxleRates,
    rear_rates: AxleRates,
    limit_mm: float = LEAST_TREAD_MM,
    calibrated: Size | None = None,
) -> Compared:
    """Hold a fitment against the present one; the present one against itself gives its own row.

    Rates are of the corners and taken to be the same with any fitment. The dial is taken to be
    driven by the driven axle, by the rear where all are, and to be made for the present size unless
    the one it was calibrated for is given.
    """
    wheels, assumed = shod(other, drive)
    patterns = pattern_verdicts(wheels)
    bought = bought_of(
        other, patterns, front_rates=front_rates, rear_rates=rear_rates, limit_mm=limit_mm
    )
    driving = _front if drive is Drive.FRONT else _rear
    before = diameter_mm(calibrated or driving(now).size)
    after = diameter_mm(driving(other).size)
    return Compared(
        fitment=other,
        front=_axle(now.front, other.front),
        rear=_axle(now.rear, other.rear),
        factor=None if before is None or after is None else after / before,
        patterns=patterns,
        assumed=assumed,
        life=None if bought is None else bought.life,
        tires_bought=None if bought is None else bought.tires,
        money=None if bought is None else bought.money,
    )


def shod(fitment: Fitment, drive: Drive) -> tuple[CarWheels, tuple[Code, ...]]:
    """Give a car on new tires so shod, and what is known of neither axle and taken to be alike."""
    axles = (fitment.front, fitment.rear)
    unknown: list[tuple[Code, Callable[[AxleFitment], object]]] = [
        (Code.RIM_WIDTH, lambda axle: axle.rim_width_in),
        (Code.OFFSET, lambda axle: axle.offset_mm),
        (Code.LOAD, lambda axle: axle.size.load_index),
        (Code.SPEED, lambda axle: axle.size.speed_symbol),
    ]
    assumed = tuple(code for code, of in unknown if all(of(axle) is None for axle in axles))
    assemblies = []
    for spot in CORNERS:
        axle = fitment.front if axle_of(spot) is Axle.FRONT else fitment.rear
        size = axle.size
        assemblies.append(
            Assembly(
                id=spot.value,
                at=spot,
                size=size,
                construction=size.construction,
                rim_width_in=0.0 if Code.RIM_WIDTH in assumed else axle.rim_width_in,
                rim_diameter_in=size.rim_in,
                offset_mm=0.0 if Code.OFFSET in assumed else axle.offset_mm,
                tread=Tread.DIRECTIONAL if fitment.is_directional else Tread.SYMMETRIC,
                turns=side_of(spot) if fitment.is_directional else None,
                load_index=60 if Code.LOAD in assumed else size.load_index,
                speed_symbol="L" if Code.SPEED in assumed else size.speed_symbol,
                depths_mm=(axle.new_depth_mm or UNWORN_MM,),
            )
        )
    return CarWheels(assemblies=tuple(assemblies), drive=drive), assumed


UNWORN_MM = 8.0  # only so that a new tire of unknown depth does not count as worn


def _front(fitment: Fitment) -> AxleFitment:
    return fitment.front


def _rear(fitment: Fitment) -> AxleFitment:
    return fitment.rear


def _axle(now: AxleFitment, other: AxleFitment) -> AxleCompared:
    takes = rim_range(other.size)
    rim = other.rim_width_in
    # An offset known of neither is that of the same wheel, and cancels.
    alike = 0.0 if now.offset_mm is None and other.offset_mm is None else None
    before, after = _stance(now, alike), _stance(other, alike)
    return AxleCompared(
        diameter_mm=diameter_mm(other.size),
        section_width_mm=section_width_mm(other.size, rim_width_in=rim),
        rims=takes,
        is_in_range=None if takes is None or rim is None else takes.holds(rim),
        change=None if before is None or after is None else edge_change(before, after),
    )


def _stance(axle: AxleFitment, offset_mm: float | None) -> Stance | None:
    width = section_width_mm(axle.size, rim_width_in=axle.rim_width_in)
    offset_mm = axle.offset_mm if axle.offset_mm is not None else offset_mm
    if width is None or offset_mm is None or axle.rim_width_in is None:
        return None
    return Stance(section_width_mm=width, offset_mm=offset_mm, spacer_mm=axle.spacer_mm)


def bought_of(
    fitment: Fitment,
    patterns: Sequence[PatternVerdict],
    *,
    front_rates: AxleRates,
    rear_rates: AxleRates,
    limit_mm: float = LEAST_TREAD_MM,
) -> Bought | None:
    """Give what a fitment costs in tires; None where a new depth is not known.

    Where a pattern changes the axles the four are bought together, else each axle by the pair.
    """
    depths = (fitment.front.new_depth_mm, fitment.rear.new_depth_mm)
    if depths[0] is None or depths[1] is None or min(depths[0], depths[1]) <= limit_mm:
        return None
    changes_axles = any(
        each.answer is Answer.YES
        and any(axle_of(start) is not axle_of(to) for start, to in MOVES[each.pattern].items())
        for each in patterns
    )
    if changes_axles:
        life = set_life(front_rates, rear_rates, min(depths[0], depths[1]) - limit_mm)
        pairs = (2 * OVER / life, 2 * OVER / life)
    else:
        lives = [
            axle_life(rates, depth - limit_mm, is_directional=fitment.is_directional)
            for rates, depth in ((front_rates, depths[0]), (rear_rates, depths[1]))
        ]
        life = min(lives)
        pairs = (2 * OVER / lives[0], 2 * OVER / lives[1])
    prices = (fitment.front.price, fitment.rear.price)
    money = None
    if prices[0] is not None and prices[1] is not None:
        money = Decimal(pairs[0]) * prices[0] + Decimal(pairs[1]) * prices[1]
    return Bought(life=life, tires=sum(pairs), money=money)
