"""rotation VEHICLE: the next move of a car's wheels and why, what may be done, and the plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.ground import ground
from castlenut.domain.tires.advice import TreadsApart
from castlenut.domain.tires.outlook import plan_of, why_no_plan
from castlenut.domain.tires.prospect import MoveSet
from castlenut.domain.units import Distance
from castlenut.garage.tires import tires_of
from castlenut.words import figures, patterns, plans, reasons, tire_answers
from castlenut.words.cautions import DEFERRING_LINE, sentences
from castlenut.words.in_short import WARNED
from castlenut.words.tires import look_at_sentences

if TYPE_CHECKING:
    from collections.abc import Callable

    from castlenut.command.call import Call
    from castlenut.domain.tires.outlook import Outlook
    from castlenut.domain.tires.today import TiresToday
    from castlenut.garage.garage import Garage
    from castlenut.words.answers import Answer

CAUTIONS = ("lift",)


def answer_for_car(call: Call) -> int:
    """Answer which wheels of a car may change places and which move comes next.

    Raises:
        BadInput: no such car, or no such set of moves.
    """
    moves = _moves(call)
    garage = call.garage()
    tires = tires_of(garage, garage.find(call.text("vehicle")))
    outlook = _outlook(tires, moves, use_spare=not call.flag("no_spare"))
    if call.as_json:
        output.write_json(_answer(tires, outlook, depth_unit=garage.settings.depth_unit))
    else:
        _write(call, garage, tires, outlook)
    if call.flag("check") and tires.changed_since:
        return output.WARNING
    return output.FINE


def _moves(call: Call) -> MoveSet:
    text = call.maybe("moves")
    if text is None:
        return MoveSet.ANY
    try:
        return MoveSet(text.strip().lower())
    except ValueError:
        raise BadInput(
            Fault(f"{text!r} is no set of moves", "--moves", "give any or patterns")
        ) from None


def _outlook(tires: TiresToday, moves: MoveSet, *, use_spare: bool) -> Outlook | None:
    if tires.wheels is None or tires.exchanges or why_no_plan(tires):
        return None
    return plan_of(tires, moves=moves, use_spare=use_spare)


def _dial_at(tires: TiresToday, garage: Garage) -> Callable[[float], str]:
    """Give what the dial will show after a distance; where that is not known, the distance."""
    rests_on = ground(tires.car, today=tires.today, south=garage.settings.south)
    now, dial = rests_on.distance_today, tires.car.vehicle.dial

    def told(far: float) -> str:
        shown = None if now is None else rests_on.odometer.shown_of(Distance(now.p50 + far))
        if shown is None:
            return f"{figures.decimals(far)} {dial.unit.value} from now"
        return figures.with_unit(shown, dial)

    return told


def _write(call: Call, garage: Garage, tires: TiresToday, outlook: Outlook | None) -> None:
    unit = garage.settings.depth_unit
    if tires.wheels is None:
        output.write("no tire is recorded: castlenut fit puts one on")
        return
    dial_at = _dial_at(tires, garage)
    if tires.none_possible:
        output.write(reasons.none_possible(tires.none_possible))
    elif outlook is not None:
        output.write(*plans.next_lines(outlook, tires, dial_at=dial_at, depth_unit=unit))
    faults = () if tires.exchanges else why_no_plan(tires)
    if faults:
        output.write("no plan yet:", *(f"  {fault}" for fault in faults))
    if call.flag("plan") and outlook is not None:
        output.write(*plans.plan_lines(outlook, tires, dial_at=dial_at, depth_unit=unit))
        output.write(*plans.wear_notes(tires.wear))
    if tires.exchanges:
        output.write(*patterns.exchange_lines(tires.exchanges))
    else:
        output.write(
            f"patterns left {patterns.count_left(tires.patterns)}",
            *patterns.pattern_lines(tires.patterns, warned=_warned(tires)),
        )
    output.write(*_changed(tires))
    output.write(*(f"look at: {each}" for each in look_at_sentences(tires, depth_unit=unit)))
    output.write(*(f"caution: {each}" for each in sentences(CAUTIONS)), DEFERRING_LINE)


def _warned(tires: TiresToday) -> str | None:
    """Give what is said of a pattern while the treads of an all-wheel drive are too far apart."""
    return WARNED if any(isinstance(each, TreadsApart) for each in tires.advice) else None


def _changed(tires: TiresToday) -> list[str]:
    """Say what the latest change of tires or wheels has blocked."""
    if not tires.changed_since:
        return []
    names = ", ".join(each.pattern.value for each in tires.changed_since)
    against = patterns.one_a_code(reason for each in tires.changed_since for reason in each.reasons)
    because = "; ".join(each.rstrip(".") for each in against)
    return [f"blocked by the latest change of tires or wheels: {names}, because {because}"]


def _answer(tires: TiresToday, outlook: Outlook | None, *, depth_unit: str) -> dict[str, Answer]:
    found = None if outlook is None else outlook.prospect
    drive = tires.drive
    return {
        "vehicle": tires.car.vehicle.slug,
        "unit": tires.unit.value,
        "drive": None if drive is None else drive.value,
        "usual": tires.usual.value,
        "limit_mm": tires.rules.limit_mm,
        "interval": tires.interval,
        "tire_ids": dict(tire_answers.tire_ids(tires)),
        "verdicts": [patterns.verdict_answer(each) for each in tires.verdicts],
        "patterns": [patterns.pattern_answer(each) for each in tires.patterns],
        "patterns_left": len(tires.left),
        "exchanges": [
            patterns.exchange_answer(name, each) for name, each in tires.exchanges.items()
        ],
        "none_possible": (
            reasons.none_possible(tires.none_possible) if tires.none_possible else None
        ),
        "changed_since": [each.pattern.value for each in tires.changed_since],
        "spare_joins": found is not None and found.joins,
        "rates_mm_per_1000": {spot.value: rate for spot, rate in tires.rates.items()},
        "rates_sd": plans.by_corner(tires.wear.deviations),
        "set_aside": plans.set_aside_answer(tires.wear),
        "next": None if outlook is None else plans.next_answer(outlook),
        "life": None if found is None else plans.life_answer(found),
        "life_band": (
            None if outlook is None else {"p10": outlook.life_p10, "p90": outlook.life_p90}
        ),
        "plan": None if found is None else plans.plan_answer(found),
        "no_plan": [str(fault) for fault in why_no_plan(tires)],
        "notes": [*look_at_sentences(tires, depth_unit=depth_unit), *plans.wear_notes(tires.wear)],
    }
