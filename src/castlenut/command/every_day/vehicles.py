"""The cars of the garage, worst first, as the board has them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.domain.car import as_of
from castlenut.domain.ground import ground
from castlenut.garage.answers import BoardRow, board_order, board_row
from castlenut.words import states
from castlenut.words.answers import distance_answer, vehicle_answer
from castlenut.words.escape import one_line
from castlenut.words.figures import plain_number
from castlenut.words.listing import GAP

if TYPE_CHECKING:
    from castlenut.command.call import Call
    from castlenut.domain.car import Car
    from castlenut.garage.garage import Garage
    from castlenut.words.answers import Answer


def answer_vehicles(call: Call) -> int:
    """Answer which cars there are, sold ones only when asked for."""
    garage = call.garage()
    has_sold = call.flag("all")
    found: list[tuple[BoardRow, dict[str, Answer]]] = []
    for slug in garage.slugs():
        row = board_row(garage, slug)
        if has_sold or not row.is_sold:
            found.append((row, _answer(garage, row) if call.as_json else {}))
    found.sort(key=lambda each: board_order(each[0]))
    if call.as_json:
        output.write_json([answer for _, answer in found])
    elif found:
        output.write(*(_line(row) for row, _ in found))
    else:
        output.write("no car yet: castlenut add SLUG takes one in")
    return output.FINE


def _line(row: BoardRow) -> str:
    if row.fault is not None:
        stamp = states.CANNOT_BE_READ
        return GAP.join((f"{stamp.mark} {stamp.word}", f"vehicles/{row.slug}.json", row.fault))
    stamp = states.AHEAD if row.state is None else states.stamp(row.state, row.may_be)
    parts = (
        f"{stamp.mark} {stamp.word}",
        row.slug,
        one_line(row.description) if row.description != row.slug else "",
        "in work" if row.in_work else "",
        f"first: {row.first}" if row.first else "nothing recorded",
        f"{row.open} open",
        f"next visit {row.next_on.isoformat()}" if row.next_on else "",
        "sold" if row.is_sold else "",
    )
    return GAP.join(part for part in parts if part)


def _answer(garage: Garage, row: BoardRow) -> dict[str, Answer]:
    standing: dict[str, Answer] = {
        "state": row.state.value if row.state else None,
        "may_be": row.may_be.value if row.may_be else None,
        "first": row.first,
        "open": row.open,
        "next": row.next_on.isoformat() if row.next_on else None,
        "in_work": row.in_work,
        "fault": row.fault,
    }
    if row.fault is not None:
        return {"vehicle": row.slug, "description": None, **standing}
    car = garage.car(row.slug).car
    return {**vehicle_answer(car.vehicle), **standing, **_distance(car, garage)}


def _distance(car: Car, garage: Garage) -> dict[str, Answer]:
    """Give the distance today and the last reading that fits."""
    today = garage.surroundings.today
    rests_on = ground(as_of(car, today), today=today, south=garage.settings.south)
    last = rests_on.use.basis.last
    return {
        "distance_today": distance_answer(rests_on.distance_today, rests_on.odometer),
        "reading": None
        if last is None
        else {"on": last.on.isoformat(), "figure": plain_number(last.shown, car.vehicle.dial)},
    }
