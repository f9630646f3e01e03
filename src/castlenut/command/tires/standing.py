"""tires: what stands where on a car, how deep, how old, how far it ran, and what is off it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.domain.car import as_of
from castlenut.domain.ground import ground
from castlenut.domain.tires.standing import seen_tires
from castlenut.garage.tires import tires_of
from castlenut.words import amiss, depth, patterns, plans, reasons, tire_answers
from castlenut.words import tires as words
from castlenut.words.cautions import DEFERRING_LINE
from castlenut.words.table import table_lines

if TYPE_CHECKING:
    from castlenut.command.call import Call
    from castlenut.domain.tires.depths import Seen
    from castlenut.domain.tires.today import TiresToday
    from castlenut.garage.garage import Garage
    from castlenut.words.answers import Answer


def answer_tires(call: Call) -> int:
    """Answer what stands where on a car."""
    garage = call.garage()
    tires = tires_of(garage, garage.find(call.text("vehicle")))
    unit = garage.settings.depth_unit
    seen = _seen(tires, garage) if call.flag("history") else ()
    if call.as_json:
        output.write_json(_answer(tires, seen, depth_unit=unit, with_history=call.flag("history")))
        return output.FINE
    vehicle = tires.car.vehicle
    output.write(
        f"{vehicle.description}  tires on {tires.today.isoformat()},"
        f" depths in {depth.unit_words(unit)}, distances in {tires.unit.value}"
    )
    if not tires.standing or all(
        each.tire is None and each.wheel is None for each in tires.standing
    ):
        output.write("no tire is recorded: castlenut fit puts one on")
    else:
        output.write(
            *table_lines(words.HEAD, words.standing_rows(tires, depth_unit=unit), kept=2),
            *words.detail_lines(tires),
            *words.tin_lines(tires),
        )
    off = list(words.off_lines(tires, depth_unit=unit))
    if off:
        output.write("off the car:", *(f"  {line}" for line in off))
    look_at = words.look_at_sentences(tires, depth_unit=unit)
    if look_at:
        output.write("look at:", *(f"  {sentence}" for sentence in look_at))
    if tires.factor_offered is not None:
        output.write(amiss.factor(tires.factor_offered))
    if tires.wheels is not None:
        output.write(_rotation_line(tires))
    if seen:
        lines = words.history_lines(seen, unit=tires.unit.value, depth_unit=unit)
        output.write("history:", *(f"  {line}" for line in lines))
    output.write(DEFERRING_LINE)
    return output.FINE


def _rotation_line(tires: TiresToday) -> str:
    if tires.none_possible:
        return reasons.none_possible(tires.none_possible)
    return f"patterns left {patterns.count_left(tires.patterns)}"


def _seen(tires: TiresToday, garage: Garage) -> tuple[Seen, ...]:
    car = as_of(tires.car, tires.today)
    return seen_tires(car, ground(car, today=tires.today, south=garage.settings.south))


def _answer(
    tires: TiresToday, seen: tuple[Seen, ...], *, depth_unit: str, with_history: bool
) -> dict[str, Answer]:
    drive = tires.drive
    found: dict[str, Answer] = {
        "vehicle": tires.car.vehicle.slug,
        "unit": tires.unit.value,
        "drive": None if drive is None else drive.value,
        "limit_mm": tires.rules.limit_mm,
        "assemblies": [tire_answers.standing_answer(each, tires.today) for each in tires.standing],
        "missing": [spot.value for spot in tires.missing],
        "off": [tire_answers.off_answer(each) for each in tires.off],
        "rates_mm_per_1000": plans.by_corner(tires.wear.rates),
        "rates_sd": plans.by_corner(tires.wear.deviations),
        "measured_pairs": tires.wear.learned_from,
        "set_aside": plans.set_aside_answer(tires.wear),
        "patterns_left": len(tires.left),
        "none_possible": (
            reasons.none_possible(tires.none_possible) if tires.none_possible else None
        ),
        "factor_offered": tire_answers.factor_answer(tires.factor_offered),
        "look_at": [*words.look_at_sentences(tires, depth_unit=depth_unit)],
    }
    if with_history:
        found["history"] = tire_answers.history_answer(seen)
    return found
