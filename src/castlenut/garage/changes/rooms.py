"""The room measured round a wheel, put on the record."""

from decimal import Decimal
from functools import partial

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.place import Spot
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.tires.room import LEAST_LEFT_MM, When
from castlenut.domain.tires.rooms import set_at
from castlenut.garage.changes.placing import find_kind, read_places
from castlenut.garage.drafting import Drafting, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage

_WIDEST_MM = Decimal(500)


def draft_room(
    garage: Garage,
    slug: str,
    place: str,
    *,
    inner: str | None,
    outer: str | None,
    caliper: str | None = None,
    when: str | None = None,
    aligned: str | None = None,
    on: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record the gaps of the set that is on now, at one place or several.

    Raises:
        BadInput: no such place, no tire there, another set was on that day, or a figure that cannot
            be; with every fault.
    """
    new = Drafting(garage, slug)
    spots = new.read(lambda: _spots(place, garage.book, dual=new.car.vehicle.dual)) or ()
    day = new.past_day(on)
    gaps = {
        name: new.read(partial(_gap, text, name))
        for name, text in (("inner", inner), ("outer", outer), ("caliper", caliper))
        if text is not None
    }
    for name, text in (("inner", inner), ("outer", outer)):
        if text is None:
            new.fault("is missing", where=f"--{name}", remedy="measure the gap, in mm")
    stance = new.read(lambda: _when(when)) or When.STRAIGHT
    is_aligned = new.read(lambda: _yes_or_no(aligned))
    for spot in spots:
        then, now = set_at(new.car, spot, on=day), set_at(new.car, spot)
        if now is None:
            new.fault(
                f"no tire stands at {spot.value}",
                where="place",
                remedy="room is measured for the tire now on: fit it first",
            )
        elif then != now:
            new.fault(
                f"another set stood at {spot.value} on {day.isoformat()} than is on now",
                where="place",
                remedy="measure the set that is on now",
            )
        new.add(
            "room",
            {
                "place": spot.value,
                **{name: number(value) for name, value in gaps.items()},
                "when": stance.value,
                "aligned": is_aligned,
                "on": day.isoformat(),
                "note": note,
            },
        )
    for name, value in gaps.items():
        if value is not None and value < Decimal(str(LEAST_LEFT_MM)):
            new.told.append(f"{name}: less than {LEAST_LEFT_MM:g} mm: does it touch anywhere?")
    if is_aligned is False:
        new.told.append("measured before the alignment: measure again after it")
    if stance is not When.FULL_LOCK and any(spot in {Spot.LF, Spot.RF} for spot in spots):
        new.told.append('in front the gap at full lock counts too: --when "full lock"')
    where = ", ".join(spot.value for spot in spots)
    told = ", ".join(f"{name} {value} mm" for name, value in gaps.items())
    return new.draft(f"room at {where}, {stance.value}: {told}")


def _spots(text: str, book: RuleBook, *, dual: bool) -> tuple[Spot, ...]:
    places = read_places(text, book.kinds[find_kind("tire", book)], dual=dual)
    return tuple(each.spot for each in places if each is not None and each.spot is not None)


def _gap(text: str, name: str) -> Decimal:
    plain = text.strip().lower().removesuffix("mm").strip()
    is_number = plain.count(".") <= 1 and plain.replace(".", "").isdecimal()
    if not is_number or Decimal(plain) > _WIDEST_MM:
        raise BadInput(Fault(f"{text!r} is no gap", f"--{name}", "give millimeters, as 12 or 8.5"))
    return Decimal(plain)


def _when(text: str | None) -> When:
    if text is None:
        return When.STRAIGHT
    plain = " ".join(text.lower().replace("-", " ").split())
    for when in When:
        if when.value == plain:
            return when
    names = ", ".join(when.value for when in When)
    raise BadInput(Fault(f"{text!r} is no stance of a wheel", "--when", f"give {names}"))


def _yes_or_no(text: str | None) -> bool | None:
    if text is None:
        return None
    if text.strip().lower() not in {"yes", "no"}:
        raise BadInput(Fault(f"{text!r} is neither yes nor no", "--aligned", "give yes or no"))
    return text.strip().lower() == "yes"
