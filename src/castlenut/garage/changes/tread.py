"""Tread depths as one walks round the car, kept with the tire and not with the place."""

from collections.abc import Sequence
from datetime import date
from functools import partial

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId, RecordId, short
from castlenut.domain.measures import MEASURES, MM, Quantity, in_unit, quantity
from castlenut.domain.place import Spot
from castlenut.domain.tires.assembly import SLACK_MM
from castlenut.domain.tires.depths import MEASURE, new_depth_mm
from castlenut.domain.tires.in_force import TREAD
from castlenut.domain.tires.standing import DEEPER_BY_MM, NEW_SLACK_MM, Standing
from castlenut.domain.tires.today import TiresToday, tires_today
from castlenut.domain.wheels import Tire
from castlenut.garage.changes.placing import wheel_place
from castlenut.garage.drafting import DialThen, Drafting, noted, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.values import Value
from castlenut.words import depth as words

_SHORT = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What was typed for one tire, read. `spot` None: it is off the car."""

    tire: Tire
    spot: Spot | None
    found: Quantity
    last_mm: float | None
    new_mm: float | None

    @property
    def thinnest_mm(self) -> float:
        """Give the depth of the thinnest groove."""
        return min(_mm(self.found))

    @property
    def is_deeper_than_new(self) -> bool:
        """Tell whether it is deeper than it can be."""
        return self.new_mm is not None and self.thinnest_mm > self.new_mm + NEW_SLACK_MM

    @property
    def has_grown(self) -> bool:
        """Tell whether it is deeper than last time by more than a gauge may be off."""
        return self.last_mm is not None and self.thinnest_mm > self.last_mm + DEEPER_BY_MM


def draft_tread(
    garage: Garage,
    slug: str,
    entries: Sequence[tuple[str, str]],
    *,
    on: str | None = None,
    at: str | None = None,
    by: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record tread depths: for each tire its place, or the end of its id, and up to three grooves.

    A tire is that which stood there on the day. A depth that cannot be is kept, and told.

    Raises:
        BadInput: with every fault of every place and depth.
    """
    new = Drafting(garage, slug)
    day = new.past_day(on)
    then = new.dial_then(at, day)
    remark = "; ".join(each for each in (note, f"by {by.strip()}" if by else None) if each)
    tires = tires_then(new, day)
    measured = read_tread(new, tires, entries)
    add_tread(new, measured, tires, day=day, then=then, job=None, note=remark or None)
    names = ", ".join(_name(each) for each in measured)
    return new.draft(f"tread measured at {names} on {day.isoformat()}")


def tires_then(new: Drafting, day: date) -> TiresToday:
    """Give the tires of the car as they stood on a day."""
    return tires_today(new.car, new.garage.book, today=day, south=new.garage.settings.south)


def read_tread(
    new: Drafting, tires: TiresToday, entries: Sequence[tuple[str, str]]
) -> tuple[Measured, ...]:
    """Read depths as typed; every fault is kept."""
    if not entries:
        new.fault("no depth is given", where="tread", remedy="write LF 7, or LF '7 7 6'")
    found: dict[RecordId, Measured] = {}
    for where, text in entries:
        one = new.read(partial(_one, new, tires, where, text))
        if one is None:
            continue
        if one.tire.record in found:
            new.fault("is given twice", where=where, remedy="give each tire once")
        found[one.tire.record] = one
    return tuple(found.values())


def add_tread(
    new: Drafting,
    measured: Sequence[Measured],
    tires: TiresToday,
    *,
    day: date,
    then: DialThen,
    job: str | None,
    note: str | None,
) -> None:
    """Add what was measured to a change, and say what does not fit."""
    for each in measured:
        _tell(new, each, tires)
        figures: list[Value] = [number(value) for value in each.found.values]
        new.add(
            "measurement",
            {
                "measure": MEASURE,
                "item": str(ItemId(rule=TREAD, component=each.tire.record)),
                "place": each.spot.value if each.spot is not None else None,
                "value": figures[0] if len(figures) == 1 else figures,
                "unit": each.found.unit,
                "resolution": number(each.found.resolution),
                "on": day.isoformat(),
                "at": number(then.at),
                "job": job,
                "note": noted(note, is_estimated=then.is_estimated and job is None),
            },
        )


def _one(new: Drafting, tires: TiresToday, where: str, text: str) -> Measured:
    tire, spot, depths, as_new = _tire(tires, where)
    try:
        read = quantity(text, MEASURES[MEASURE], depth_unit=new.garage.settings.depth_unit)
    except BadInput as bad:
        raise BadInput(*(Fault(each.what, where, each.remedy) for each in bad.faults)) from bad
    if not read.values:
        raise BadInput(Fault(f"{text!r} is no depth", where, "write 7, 7/32, 5.6mm or 7 7 6"))
    return Measured(tire=tire, spot=spot, found=read, last_mm=depths, new_mm=as_new)


def _tire(tires: TiresToday, where: str) -> tuple[Tire, Spot | None, float | None, float | None]:
    """Give the tire meant, where it stands, what it measured last and when new."""
    typed = where.strip().lower()
    for off in tires.off:
        if off.tire is not None and len(typed) >= _SHORT and off.tire.record.endswith(typed):
            last = None if off.depths is None else off.depths.thinnest_mm
            return off.tire, None, last, new_depth_mm(off.tire)
    for each in tires.standing:
        if each.tire is not None and len(typed) >= _SHORT and each.tire.record.endswith(typed):
            return each.tire, each.spot, _last(each), each.new_depth_mm
    spot = wheel_place(where, dual=tires.car.vehicle.dual)
    here = tires.at(spot)
    if here is None or here.tire is None:
        raise BadInput(Fault("no tire stands there", spot.value, "fit one first"))
    return here.tire, spot, _last(here), here.new_depth_mm


def _last(here: Standing) -> float | None:
    return None if here.depths is None else here.depths.thinnest_mm


def _tell(new: Drafting, each: Measured, tires: TiresToday) -> None:
    unit = each.found.unit or new.garage.settings.depth_unit
    name = _name(each)
    if each.is_deeper_than_new and each.new_mm is not None:
        then = words.with_unit(each.new_mm, unit)
        new.told.append(f"{name}: deeper than new ({then}): tire changed? Kept as typed")
    elif each.has_grown and each.last_mm is not None:
        then = words.with_unit(each.last_mm, unit)
        new.told.append(f"{name}: deeper than last time ({then}): tire changed? Kept as typed")
    limit = tires.rules.limit_mm
    if each.thinnest_mm <= limit + SLACK_MM:
        found, least = words.with_unit(each.thinnest_mm, unit), words.with_unit(limit, unit)
        new.told.append(f"{name}: {found} is at or under the limit of {least}: renew the tire")


def _name(each: Measured) -> str:
    return each.spot.value if each.spot is not None else short(each.tire.record)


def _mm(found: Quantity) -> tuple[float, ...]:
    unit = found.unit or MM
    return tuple(
        float(depth) for value in found.values if (depth := in_unit(value, unit, MM)) is not None
    )
