"""What is said of a car itself: its kind, its owner, its dial, its distance today."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.domain.units import Distance
from castlenut.words import figures

if TYPE_CHECKING:
    from collections.abc import Callable
    from decimal import Decimal

    from castlenut.domain.car import Car
    from castlenut.domain.due import CarToday


def kind_of_car(car: Car) -> str:
    """Give description and drive: `sedan 1976, rear drive`."""
    drive = car.vehicle.drive
    return f"{_name_and_year(car)}, {drive.value} drive" if drive else _name_and_year(car)


def _name_and_year(car: Car) -> str:
    name, year = car.vehicle.description, car.vehicle.year
    return f"{name} {year}" if year and str(year) not in name else name


def owner_of_car(car: Car) -> str:
    """Give owner and telephone."""
    phone = f"tel. {car.vehicle.phone}" if car.vehicle.phone else ""
    return "  ".join(part for part in (car.vehicle.owner or "", phone) if part)


def dial_lines(today: CarToday) -> tuple[str, ...]:
    """Give the dial and the distance today on one line, then shorter ones for less room."""
    about, near = distance_today(today), distance_today(today, with_band=False)
    drums, near_drums = dial_as_drums(today), dial_as_drums(today, with_year=False)
    return (
        f"{drums}   {about}",
        f"{near_drums}  {about}",
        f"{drums}   {near}",
        f"{near_drums}  {near}",
    )


def dial_as_drums(today: CarToday, *, with_year: bool = True) -> str:
    """Give the last sound reading as on the drums of its dial: `dial [6][1][6] mi 2026-11-24`."""
    last, dial = today.odometer.last(), today.odometer.dial
    if last is None:
        return f"dial {'[ ]' * dial.digits} {dial.unit.value}, no reading yet"
    whole, _, tenth = f"{last.shown:f}".partition(".")
    drums = "".join(f"[{digit}]" for digit in whole.zfill(dial.digits)[-dial.digits :])
    on = last.reading.on.isoformat() if with_year else f"{last.reading.on:%m-%d}"
    tenths = f".[{(tenth or '0')[0]}]" if dial.tenths else ""
    return f"dial {drums}{tenths} {dial.unit.value} {on}"


def distance_today(today: CarToday, *, with_band: bool = True) -> str:
    """Give the distance today with its band: `today about 61,610 (61,602 to 61,625) mi`."""
    band, meter = today.use.distance_on(today.today), today.odometer
    if band is None:
        return "distance today not known"
    p10, p50, p90 = (
        figures.shown(meter.shown_of(each), meter.dial) for each in (band.p10, band.p50, band.p90)
    )
    ends = f" ({p10} to {p90})" if with_band and p10 != p90 else ""
    return f"today {'' if p10 == p90 else 'about '}{p50}{ends} {meter.dial.unit.value}"


def since_in_work(today: CarToday) -> str:
    """Give since when the car is in work; empty where it is not."""
    stay = today.car.stay_on(today.today)
    return f"in work since {stay.since}" if stay else ""


def head_of_car(today: CarToday) -> str:
    """Give the car in the head of its screen; in work it leaves room for since when."""
    car, stay = today.car, today.car.stay_on(today.today)
    if stay is None:
        return kind_of_car(car)
    since = f"{stay.since:%m-%d}" if stay.since.year == today.today.year else f"{stay.since}"
    return f"{_name_and_year(car)}  in work since {since}"


def last_reading(today: CarToday) -> str:
    """Give the last sound reading: `last 61,600 on 2026-11-24`."""
    last = today.odometer.last()
    if last is None:
        return "no reading yet"
    return f"last {figures.shown(last.shown, today.odometer.dial)} on {last.reading.on}"


def estimate_today(today: CarToday) -> Decimal | None:
    """Give what the dial is thought to show today; None where nothing tells."""
    band = today.use.distance_on(today.today)
    return None if band is None else today.odometer.shown_of(band.p50)


def dial_after(today: CarToday) -> Callable[[float], str]:
    """Give what the dial will show after a distance from now; where that is not known, how far."""
    now, meter = today.use.distance_on(today.today), today.odometer

    def told(far: float) -> str:
        if now is None:
            return f"{figures.decimals(far)} {meter.dial.unit.value} from now"
        return f"{shown_after(today, Distance(now.p50 + far))} {meter.dial.unit.value}"

    return told


def shown_after(today: CarToday, distance: Distance) -> str:
    """Give what the dial will show at a true distance: `27,657 (past 99,999)` once it is round."""
    meter, now = today.odometer, today.use.distance_on(today.today)
    shown = figures.shown(meter.shown_of(distance), meter.dial)
    if now is None or not meter.starts_again(now.p50, distance):
        return shown
    return f"{shown} (past {figures.shown(meter.capacity - 1, meter.dial)})"


def about_car(today: CarToday) -> tuple[str, ...]:
    """Give what stands beside the lists on a wide terminal: the car, its owner, its distance."""
    return (
        kind_of_car(today.car),
        owner_of_car(today.car),
        "",
        dial_as_drums(today),
        distance_today(today),
        since_in_work(today),
    )
