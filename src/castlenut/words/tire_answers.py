"""The tires of a car as JSON: what stands where, what is off the car, the history of each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from castlenut.domain.ids import RecordId
from castlenut.domain.tires.depths import Depths, Seen
from castlenut.domain.tires.off import OffTheCar
from castlenut.domain.tires.service import LOAD_KG, SPEED_KMH
from castlenut.domain.tires.speedometer import FactorOffered
from castlenut.domain.tires.standing import Standing, age_of
from castlenut.domain.tires.stints import Run
from castlenut.domain.tires.tin import Made, first_day, last_day
from castlenut.domain.tires.today import TiresToday
from castlenut.domain.wheels import Tire, Wheel
from castlenut.words import figures

if TYPE_CHECKING:
    from castlenut.words.answers import Answer


def standing_answer(here: Standing, today: date) -> dict[str, Answer]:
    """Give one place as JSON; `id` names the assembly in verdicts and plans."""
    found = here.assembly
    return {
        "id": here.spot.value,
        "at": here.spot.value,
        **_tire_answer(here.tire),
        **_wheel_answer(here.wheel),
        "size": None if here.size is None else here.size.designation,
        "construction": None if here.construction is None else here.construction.value,
        "tread": None if here.tread is None else here.tread.value,
        "turns": None if here.turns is None else here.turns.value,
        "load_index": None if found is None else found.load_index,
        "load_kg": None if found is None else LOAD_KG.get(found.load_index or 0),
        "speed_symbol": None if found is None else found.speed_symbol,
        "speed_kmh": None if found is None else SPEED_KMH.get(found.speed_symbol or ""),
        "temporary": found is not None and found.is_temporary,
        "studded": found is not None and found.is_studded,
        "made": _made_answer(here.made),
        "age_years": figures.to_places(here.age_years, 1),
        "ages_years": []
        if here.made is None
        else [figures.to_places(age_of(week, today), 1) for week in here.made.weeks],
        "depth_mm": _mm_answer(here.depths),
        "measured": _measured_answer(here.depths),
        "new_depth_mm": figures.to_places(here.new_depth_mm, 2),
        "left": figures.to_places(here.left, 4),
        "since": {
            "on": None if here.since_on is None else here.since_on.isoformat(),
            "at": _number(here.since_at),
        },
        "run": run_answer(here.run),
    }


def _tire_answer(tire: Tire | None) -> dict[str, Answer]:
    return {
        "tire_id": None if tire is None else tire.record,
        "marked": None if tire is None else tire.size,
        "service": None if tire is None else tire.service,
        "tin": None if tire is None else tire.tin,
        "make": None if tire is None else tire.make,
        "part": None if tire is None else tire.part,
    }


def _wheel_answer(wheel: Wheel | None) -> dict[str, Answer]:
    if wheel is None:
        names = ("wheel_id", "rim_width_in", "rim_diameter_in", "offset_mm", "wheel_type")
        return dict.fromkeys(names)
    return {
        "wheel_id": wheel.record,
        "rim_width_in": _number(wheel.rim_width_in),
        "rim_diameter_in": _number(wheel.rim_diameter_in),
        "offset_mm": _number(wheel.offset_mm),
        "wheel_type": wheel.type,
    }


def _number(figure: Decimal | None) -> float | None:
    return None if figure is None else figures.as_number(figure)


def _made_answer(made: Made | None) -> list[Answer]:
    if made is None:
        return []
    return [
        {"first": first_day(week).isoformat(), "last": last_day(week).isoformat()}
        for week in made.weeks
    ]


def _mm_answer(depths: Depths | None) -> list[Answer] | None:
    return None if depths is None else [figures.to_places(each, 2) for each in depths.mm]


def _measured_answer(depths: Depths | None) -> dict[str, Answer] | None:
    """Give a measurement as it was entered."""
    if depths is None:
        return None
    return {
        "on": None if depths.on is None else depths.on.isoformat(),
        "at": _number(depths.at),
        "values": [figures.as_number(value) for value in depths.values],
        "unit": depths.unit,
        "record": depths.record,
        "new": depths.is_new,
    }


def run_answer(run: Run | None) -> dict[str, Answer] | None:
    """Give the distance run by place, SP being what it was carried; `whole`: all of it is known."""
    if run is None:
        return None
    by_place: Mapping[str, Answer] = {
        spot.value: figures.to_places(far, 1) for spot, far in run.by_spot.items()
    }
    return {"by_place": by_place, "whole": run.is_whole}


def off_answer(off: OffTheCar) -> dict[str, Answer]:
    """Give a tire or wheel that is off the car."""
    return {
        **_tire_answer(off.tire),
        **_wheel_answer(off.wheel),
        "stood": None if off.stood is None else off.stood.value,
        "off": {
            "on": None if off.off_on is None else off.off_on.isoformat(),
            "at": _number(off.off_at),
        },
        "depth_mm": _mm_answer(off.depths),
        "measured": _measured_answer(off.depths),
        "run": run_answer(off.run),
    }


def factor_answer(offered: FactorOffered | None) -> dict[str, Answer] | None:
    """Give the odometer factor that is offered."""
    if offered is None:
        return None
    return {
        "factor": figures.to_places(offered.factor, 6),
        "from": offered.was.designation,
        "to": offered.size.designation,
        "since": None if offered.since is None else offered.since.isoformat(),
        "calibrated": offered.is_calibrated,
    }


def history_answer(seen: Sequence[Seen]) -> list[Answer]:
    """Give the places and the measurements of every tire on record."""
    return [
        {
            **_tire_answer(each.tire),
            "places": [
                {
                    "at": None if stint.spot is None else stint.spot.value,
                    "turns": stint.placement.turns,
                    "on": None if stint.placement.on is None else stint.placement.on.isoformat(),
                    "shown": _number(stint.placement.at),
                    "from": figures.to_places(stint.since, 1),
                    "to": figures.to_places(stint.until, 1),
                    "record": stint.placement.record,
                }
                for stint in each.course
            ],
            "measured": [
                {**(_measured_answer(found) or {}), "depth_mm": _mm_answer(found)}
                for found in each.depths
            ],
        }
        for each in seen
    ]


def tire_ids(tires: TiresToday) -> dict[str, RecordId]:
    """Give the record of the tire that each name in verdicts and plans stands for."""
    return {each.spot.value: each.tire.record for each in tires.standing if each.tire is not None}
