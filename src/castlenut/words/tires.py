"""What stands where on a car: in lines as one walks round it."""

from collections.abc import Iterator, Sequence
from datetime import date

from castlenut.domain.ids import short
from castlenut.domain.place import Spot
from castlenut.domain.tires.depths import Depths, Seen
from castlenut.domain.tires.standing import Standing, age_of
from castlenut.domain.tires.stints import Run
from castlenut.domain.tires.tin import Made
from castlenut.domain.tires.today import TiresToday
from castlenut.domain.wheels import Tire, Wheel
from castlenut.words import amiss, depth, figures, reasons

HEAD = ("size", "depth", "left", "age", "here since", "run")
UNKNOWN = "-"


def standing_rows(tires: TiresToday, *, depth_unit: str) -> list[tuple[str, Sequence[str]]]:
    """Give a row a place in walking order: size, depths, tread left, age, since when, run."""
    rows: list[tuple[str, Sequence[str]]] = []
    for each in tires.standing:
        if each.tire is None:
            what = "no tire on the wheel" if each.wheel else "none recorded"
            rows.append((each.spot.value, (what, *[""] * (len(HEAD) - 1))))
            continue
        rows.append(
            (
                each.spot.value,
                (
                    each.tire.size,
                    _depths(each, tires, depth_unit),
                    UNKNOWN if each.left is None else f"{figures.decimals(100 * each.left)} %",
                    _age(each.made, tires.today),
                    _since(each),
                    _run_total(each.run),
                ),
            )
        )
    return rows


def _depths(here: Standing, tires: TiresToday, depth_unit: str) -> str:
    if here.depths is None:
        return "not measured"
    told = " ".join(depth.grooves(here.depths.mm, depth_unit))
    limit = tires.rules.front_limit_mm if here.spot in {Spot.LF, Spot.RF} else tires.rules.limit_mm
    return f"{told} !!" if here.depths.thinnest_mm <= limit + 1e-6 else told


def _age(made: Made | None, today: date) -> str:
    """Give the age in years; of a number that leaves several weeks open, each."""
    if made is None or not made.weeks:
        return UNKNOWN
    ages = [age_of(week, today) for week in made.weeks]
    if len(ages) == 1:
        return f"{figures.decimals(ages[0], 1)} y"
    *first, last = (figures.decimals(age) for age in ages)
    return f"{', '.join(first)} or {last} y"


def _since(here: Standing) -> str:
    day = None if here.since_on is None else here.since_on.isoformat()
    at = None if here.since_at is None else f"{here.since_at:,f}"
    return " at ".join(part for part in (day, at) if part) or UNKNOWN


def _run_total(run: Run | None) -> str:
    if run is None or not run.by_spot:
        return UNKNOWN
    return f"{figures.decimals(run.on_road)}{'' if run.is_whole else ' or more'}"


def run_words(run: Run | None, unit: str) -> str:
    """Say how far something ran at each place: `3,800 mi at LF, 6,000 at RR`; empty if unknown."""
    if run is None:
        return ""
    parts = [
        f"{figures.decimals(far)} {'carried' if spot is Spot.SP else 'at'} {spot.value}".replace(
            "carried SP", "carried as spare"
        )
        for spot, far in run.by_spot.items()
        if far > 0
    ]
    if not parts:
        return ""
    first, *rest = parts
    return ", ".join((first.replace(" ", f" {unit} ", 1), *rest))


def detail_lines(tires: TiresToday) -> Iterator[str]:
    """Say of each tire the rest: ids, wheel, service, tread, make, and where it ran."""
    for each in tires.standing:
        if each.tire is None and each.wheel is None:
            continue
        parts = [
            *([_tire_words(each.tire)] if each.tire else []),
            *([wheel_words(each.wheel)] if each.wheel else []),
        ]
        yield f"{each.spot.value}: {'; '.join(parts)}"
        if each.run is not None and len([far for far in each.run.by_spot.values() if far > 0]) > 1:
            yield f"    ran {run_words(each.run, tires.unit.value)}"
    yield from _measured_lines(tires)


def _measured_lines(tires: TiresToday) -> Iterator[str]:
    """Say when the tires were measured, once for those measured together."""
    places: dict[str, list[str]] = {}
    for each in tires.standing:
        if each.depths is not None and each.depths.on is not None and not each.depths.is_new:
            told = f"measured {each.depths.on.isoformat()}{_at(each.depths)}"
            places.setdefault(told, []).append(each.spot.value)
    for told, spots in places.items():
        yield f"{told}: {' '.join(spots)}"


def tin_lines(tires: TiresToday) -> Iterator[str]:
    """Say what the identification numbers leave open, each note once with the places it is of."""
    places: dict[str, list[str]] = {}
    for each in tires.standing:
        for note in each.made.notes if each.made else ():
            places.setdefault(note.value, []).append(each.spot.value)
    for told, spots in places.items():
        yield f"tin of {' '.join(spots)}: {told}"


def _at(depths: Depths) -> str:
    return "" if depths.at is None else f" at {depths.at:,f}"


def _tire_words(tire: Tire) -> str:
    parts = [
        f"tire {short(tire.record)}",
        tire.make,
        tire.service,
        tire.tread,
        "temporary" if tire.is_temporary else None,
        "studded" if tire.is_studded else None,
    ]
    return " ".join(part for part in parts if part)


def wheel_words(wheel: Wheel) -> str:
    """Say what a wheel is: `wheel 9f2c61d0, 6 x 15 in, offset 10 mm`."""
    sides = [
        None if side is None else f"{figures.number(side)}"
        for side in (wheel.rim_width_in, wheel.rim_diameter_in)
    ]
    told = [f"wheel {short(wheel.record)}"]
    if any(sides):
        told.append(f"{' x '.join(side or '?' for side in sides)} in")
    if wheel.offset_mm is not None:
        told.append(f"offset {figures.number(wheel.offset_mm)} mm")
    if wheel.type is not None:
        told.append(wheel.type)
    return ", ".join(told)


def off_lines(tires: TiresToday, *, depth_unit: str) -> Iterator[str]:
    """Say what is off the car, where it stood last, how deep it is and how far it ran."""
    for each in tires.off:
        parts = []
        if each.tire is not None:
            parts.append(f"{each.tire.size}, {_tire_words(each.tire)}")
        if each.wheel is not None:
            parts.append(wheel_words(each.wheel))
        if each.stood is not None:
            on = "" if each.off_on is None else f" until {each.off_on.isoformat()}"
            parts.append(f"stood at {each.stood.value}{on}")
        if each.depths is not None:
            told = " ".join(depth.grooves(each.depths.mm, depth_unit))
            parts.append(f"{told} {depth.unit_words(depth_unit)}")
        ran = run_words(each.run, tires.unit.value)
        if ran:
            parts.append(f"ran {ran}")
        yield "; ".join(parts)


def look_at_sentences(tires: TiresToday, *, depth_unit: str) -> list[str]:
    """Say all that is to be looked at: what does not fit, what is missing, what to mind."""
    return [
        *(amiss.look_at(each, depth_unit=depth_unit) for each in tires.look_at),
        *(
            f"No tire is recorded at {spot.value}."
            for spot in tires.missing
            if (here := tires.at(spot)) is None or here.wheel is None
        ),
        *(reasons.advised(each, depth_unit=depth_unit) for each in tires.advice),
    ]


def history_lines(seen: Sequence[Seen], *, unit: str, depth_unit: str) -> Iterator[str]:
    """Say of each tire where it stood from when on, and what was measured on it."""
    for each in seen:
        yield f"{each.tire.size}, {_tire_words(each.tire)}"
        for stint in each.course:
            day = "day not known" if stint.placement.on is None else stint.placement.on.isoformat()
            at = "" if stint.placement.at is None else f" at {stint.placement.at:,f}"
            far = ""
            if stint.since is not None and stint.until is not None and stint.spot is not None:
                far = f", {figures.decimals(max(0.0, stint.until - stint.since))} {unit}"
            where = "off the car" if stint.spot is None else stint.spot.value
            turns = f", turns {stint.placement.turns}" if stint.placement.turns else ""
            yield f"  {day}{at}  {where}{turns}{far}"
        for found in each.depths:
            day = "day not known" if found.on is None else found.on.isoformat()
            told = " ".join(depth.grooves(found.mm, depth_unit))
            new = "new, " if found.is_new else ""
            yield f"  {day}{_at(found)}  {new}{told} {depth.unit_words(depth_unit)}"
