"""What stands at each place of a car: tire and wheel with all that is known of them."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import TypeVar

from castlenut.domain.car import Car
from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import dataclass
from castlenut.domain.ground import Ground
from castlenut.domain.ids import RecordId
from castlenut.domain.place import CORNERS, DUAL_CORNERS, Spot
from castlenut.domain.tires.amiss import (
    Amiss,
    DeeperThanNew,
    NoSuchPlace,
    NotRead,
    OtherConstruction,
    TireWithoutWheel,
    TreadGrew,
    TwoAtOnePlace,
    WheelWithoutTire,
)
from castlenut.domain.tires.assembly import Assembly, Tread
from castlenut.domain.tires.axle import Side
from castlenut.domain.tires.depths import Depths, Seen, as_new, depths_of, new_depth_mm
from castlenut.domain.tires.service import Service, read_service
from castlenut.domain.tires.size import Construction, Size, read_size
from castlenut.domain.tires.stints import Run, Stint, placements_of, run, stints
from castlenut.domain.tires.tin import Made, Week, first_day, made
from castlenut.domain.units import Unit, convert
from castlenut.domain.wheels import Tire, Wheel, turned

DEEPER_BY_MM = 0.5
"""A tire that measures deeper than last time by more than this was measured wrong, or changed."""

OLD_READING_MI = 1000.0
"""A depth measured farther back than this is old."""

T = TypeVar("T")

_DAYS_IN_YEAR = 365.25
NEW_SLACK_MM = 0.2
"""By so little a gauge may show more than the new depth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One place of a car, and what stands there now. What is not known is None.

    `since_on` and `since_at` (what the dial showed) tell when the tire came to this place. `made`
    holds every week that its number may mean; `age_years` counts from manufacture where that is
    one week. `run` is how far the tire ran at each place since it was new. `left` is the share of
    its tread above the limit that is left. `measured_ago` is the distance since `depths`.
    """

    spot: Spot
    tire: Tire | None = None
    wheel: Wheel | None = None
    size: Size | None = None
    construction: Construction | None = None
    service: Service | None = None
    tread: Tread | None = None
    turns: Side | None = None
    since_on: date | None = None
    since_at: Decimal | None = None
    made: Made | None = None
    age_years: float | None = None
    depths: Depths | None = None
    measured_ago: float | None = None
    new_depth_mm: float | None = None
    run: Run | None = None
    left: float | None = None

    @property
    def assembly(self) -> Assembly | None:
        """Give it as verdicts take it, named by its place; None without a tire."""
        if self.tire is None:
            return None
        wheel, size = self.wheel, self.size
        index = symbol = None
        if self.service is not None:
            index, symbol = self.service.load_index, self.service.speed_symbol
        elif size is not None:
            index, symbol = size.load_index, size.speed_symbol
        return Assembly(
            id=self.spot.value,
            at=self.spot,
            size=size,
            construction=self.construction,
            rim_width_in=None if wheel is None else _float(wheel.rim_width_in),
            rim_diameter_in=None if wheel is None else _float(wheel.rim_diameter_in),
            offset_mm=None if wheel is None else _float(wheel.offset_mm),
            tread=self.tread,
            turns=self.turns,
            load_index=index,
            speed_symbol=symbol,
            is_marked_temporary=self.tire.is_temporary,
            is_studded=self.tire.is_studded,
            age_years=self.age_years,
            depths_mm=() if self.depths is None else self.depths.mm,
        )


def walk(*, dual: bool) -> tuple[Spot, ...]:
    """Give the places in the order in which one walks round the car, the spare last."""
    return (*(DUAL_CORNERS if dual else CORNERS), Spot.SP)


def seen_tires(car: Car, ground: Ground) -> tuple[Seen, ...]:
    """Give every tire on record with where it stood and what was measured."""
    found: list[Seen] = []
    for tire in car.tires:
        course = stints(placements_of(tire.record, car.placements), ground)
        found.append(Seen(tire=tire, course=course, depths=depths_of(tire, course, ground)))
    return tuple(found)


def standing(
    car: Car, seen: Sequence[Seen], ground: Ground, *, limit_mm: float
) -> tuple[tuple[Standing, ...], tuple[Amiss, ...]]:
    """Give what stands at each place in walking order, and what does not fit.

    The spare's place is among them where something stands there.
    """
    amiss: list[Amiss] = []
    tires = _at_places("tire", car, [(each.tire.record, each.course) for each in seen], amiss)
    wheels = _at_places(
        "wheel",
        car,
        [
            (each.record, stints(placements_of(each.record, car.placements), ground))
            for each in car.wheels
        ],
        amiss,
    )
    seen_by_id = {each.tire.record: each for each in seen}
    wheel_by_id = {each.record: each for each in car.wheels}
    found: list[Standing] = []
    for spot in walk(dual=car.vehicle.dual):
        tire, wheel = tires.get(spot), wheels.get(spot)
        if spot is Spot.SP and tire is None and wheel is None:
            continue
        if tire is None and wheel is not None:
            amiss.append(WheelWithoutTire(spot=spot, wheel=wheel))
        if tire is not None and wheel is None:
            amiss.append(TireWithoutWheel(spot=spot, tire=tire))
        here = None if wheel is None else wheel_by_id[wheel]
        if tire is None:
            found.append(Standing(spot=spot, wheel=here))
            continue
        found.append(_standing(spot, seen_by_id[tire], here, car, ground, limit_mm, amiss))
    return tuple(found), tuple(amiss)


def age_of(week: Week, today: date) -> float:
    """Give the years since the first day of a week of make."""
    return (today - first_day(week)).days / _DAYS_IN_YEAR


def _at_places(
    kind: str,
    car: Car,
    courses: Sequence[tuple[RecordId, Sequence[Stint]]],
    amiss: list[Amiss],
) -> Mapping[Spot, RecordId]:
    """Give which tire or wheel stands at each place: of several the one that was put there last."""
    order = {each.record: number for number, each in enumerate(car.placements)}
    there: dict[Spot, list[tuple[int, RecordId]]] = {}
    for record, course in courses:
        last = course[-1] if course else None
        if last is None or last.spot is None:
            continue
        there.setdefault(last.spot, []).append((order[last.placement.record], record))
    places = walk(dual=car.vehicle.dual)
    found: dict[Spot, RecordId] = {}
    for spot, records in there.items():
        records.sort()
        if spot not in places:
            amiss.extend(NoSuchPlace(spot=spot, kind=kind, record=record) for _, record in records)
            continue
        if len(records) > 1:
            amiss.append(
                TwoAtOnePlace(spot=spot, kind=kind, records=tuple(each for _, each in records))
            )
        found[spot] = records[-1][1]
    return found


def _standing(
    spot: Spot,
    seen: Seen,
    wheel: Wheel | None,
    car: Car,
    ground: Ground,
    limit_mm: float,
    amiss: list[Amiss],
) -> Standing:
    tire, course = seen.tire, seen.course
    size = _read(lambda: read_size(tire.size), spot, tire, amiss)
    text = tire.service
    service = None if text is None else _read(lambda: read_service(text), spot, tire, amiss)
    here = _came_here(course)
    weeks = _made(tire, course)
    now = None if ground.distance_today is None else ground.distance_today.p50
    last = _last_depths(seen, ground)
    new = new_depth_mm(tire)
    amiss.extend(_depths_amiss(spot, seen, new))
    ago = None
    if last is not None and last.distance is not None and now is not None:
        ago = max(0.0, now - last.distance)
    return Standing(
        spot=spot,
        tire=tire,
        wheel=wheel,
        size=size,
        construction=_construction(spot, tire, size, amiss),
        service=service,
        tread=next((each for each in Tread if each.value == tire.tread), None),
        turns=_side(turned(car.placements, tire.record)),
        since_on=here.placement.on if here else None,
        since_at=here.placement.at if here else None,
        made=weeks,
        age_years=(
            age_of(weeks.weeks[0], ground.today)
            if weeks is not None and len(weeks.weeks) == 1
            else None
        ),
        depths=last,
        measured_ago=ago,
        new_depth_mm=new,
        run=run(course, until=now),
        left=(
            None
            if last is None or new is None or new <= limit_mm
            else max(0.0, min(1.0, (last.thinnest_mm - limit_mm) / (new - limit_mm)))
        ),
    )


def _read(reading: Callable[[], T], spot: Spot, tire: Tire, amiss: list[Amiss]) -> T | None:
    try:
        return reading()
    except BadInput as bad:
        amiss.extend(NotRead(spot=spot, tire=tire.record, fault=fault) for fault in bad.faults)
        return None


def _last_depths(seen: Seen, ground: Ground) -> Depths | None:
    """Give what was measured last; a tire fitted new counts as measured while it ran little."""
    if seen.depths:
        return seen.depths[-1]
    new, now = as_new(seen.tire, seen.course), ground.distance_today
    if new is None or new.distance is None or now is None:
        return None
    ran = now.p50 - new.distance
    return new if ran <= convert(OLD_READING_MI, given=Unit.MI, wanted=ground.unit) else None


def _came_here(course: Sequence[Stint]) -> Stint | None:
    """Give the stint since which it has stood where it stands, a turn on its rim not counted."""
    here: Stint | None = None
    for stint in reversed(course):
        if here is not None and stint.spot is not here.spot:
            break
        here = stint
    return here


def _made(tire: Tire, course: Sequence[Stint]) -> Made | None:
    if tire.tin is None:
        return None
    try:
        return made(tire.tin, looked_at=course[0].placement.on if course else None)
    except BadInput:
        return None


def _construction(
    spot: Spot, tire: Tire, size: Size | None, amiss: list[Amiss]
) -> Construction | None:
    recorded = next((each for each in Construction if each.value == tire.construction), None)
    marked = None if size is None else size.construction
    if recorded is not None and marked is not None and recorded is not marked:
        amiss.append(OtherConstruction(spot=spot, recorded=recorded, marked=marked))
    return recorded or marked


def _side(text: str | None) -> Side | None:
    return next((side for side in Side if side.value == text), None)


def _depths_amiss(spot: Spot, seen: Seen, new: float | None) -> Iterator[Amiss]:
    if not seen.depths:
        return
    last = seen.depths[-1]
    if new is not None and last.thinnest_mm > new + NEW_SLACK_MM:
        yield DeeperThanNew(spot=spot, tire=seen.tire.record, depth_mm=last.thinnest_mm, new_mm=new)
    if len(seen.depths) > 1:
        grew = last.thinnest_mm - seen.depths[-2].thinnest_mm
        if grew > DEEPER_BY_MM:
            yield TreadGrew(spot=spot, tire=seen.tire.record, by_mm=grew)


def _float(figure: Decimal | None) -> float | None:
    return None if figure is None else float(figure)
