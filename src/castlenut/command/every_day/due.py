"""What is due: the items asked for, as lines or as JSON, worst first."""

from __future__ import annotations

import re
from operator import itemgetter
from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.every_day.cars import CarsAsked
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.months import months_after
from castlenut.domain.order import rows, sort_key
from castlenut.domain.trip import distance_after, falls_due
from castlenut.domain.units import Unit, convert
from castlenut.domain.working import State
from castlenut.garage.entry import day, number
from castlenut.words.answers import item_answer
from castlenut.words.cautions import DEFERRING_LINE

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from datetime import date
    from typing import TypeAlias

    from castlenut.command.call import Call
    from castlenut.domain.due import CarToday
    from castlenut.domain.item import Item
    from castlenut.domain.order import SortKey
    from castlenut.garage.garage import Garage
    from castlenut.words.answers import Answer

    Place: TypeAlias = tuple[SortKey, str]

_WITHIN = re.compile(r"(\d{1,4}) ?([dwmy])")
_CALLS = frozenset({State.OVERDUE, State.DUE, State.NO_RECORD})  # what --check stands up for


def answer_due(call: Call) -> int:
    """Answer what is due, and give the exit code."""
    is_wanted = _wanted(call)
    garage = call.garage()
    asked = CarsAsked(call, garage)
    found: list[tuple[CarToday, Item]] = []
    answers: list[tuple[Place, str]] = []
    left_out = 0
    stands_up = False
    for slug, record in asked:
        if record.car.vehicle.sold_on is not None and call.maybe("vehicle") is None:
            continue
        today = garage.reckoned(record.car)
        wanted = [item for item in today.items if is_wanted(item, today)]
        left_out += len(today.items) - len(wanted)
        stands_up = stands_up or any(map(_stands_up, wanted))
        if call.as_json:
            # As texts at once: 300 cars are eight times as large as items, with their working.
            answers.extend(
                (_place(item, slug), output.json_text(_answer(item, today, garage)))
                for item in wanted
            )
        else:
            found.extend((today, item) for item in wanted)
    if call.as_json:
        answers.sort(key=itemgetter(0))
        output.write_json_list(text for _, text in answers)
    else:
        found.sort(key=lambda each: _place(each[1], each[0].car.vehicle.slug))
        _write_lines(call, garage, found, left_out)
    if call.flag("check") and (asked.unread or stands_up):
        return output.WARNING
    return output.FINE


def _place(item: Item, slug: str) -> Place:
    return sort_key(item), slug


def _answer(item: Item, today: CarToday, garage: Garage) -> Mapping[str, Answer]:
    vehicle = today.car.vehicle
    return item_answer(item, vehicle.slug, vehicle.dial, garage.book)


def _stands_up(item: Item) -> bool:
    return item.state in _CALLS and not item.rule.is_own_check


def _wanted(call: Call) -> Callable[[Item, CarToday], bool]:
    """Give the test of what is to be told: all of one car, what is open of all, or by a day."""
    today = call.today()
    if (by := call.maybe("by")) is not None:
        last = day(by, today=today, past=False, field="--by")
        return _on_trip(call, last)
    if call.maybe("miles") is not None or call.maybe("km") is not None:
        raise BadInput(Fault("no day is given", "--by", "add --by DATE, the last day of the trip"))
    if (within := call.maybe("within")) is not None:
        until = _until(within, today)
        return lambda item, _: item.state is not State.AHEAD or _falls_due(item, until)
    if call.as_json or call.maybe("vehicle") is not None:
        return lambda *_: True
    return lambda item, _: item.state is not State.AHEAD or item.may_be is not None


def _until(within: str, today: date) -> date:
    found = _WITHIN.fullmatch(within.strip().lower())
    if found is None:
        raise BadInput(
            Fault(f'"{within}" is no length of time', "--within", "write 90d, 12w, 6m or 1y")
        )
    length = int(found[1])
    try:
        match found[2]:
            case "m":
                return months_after(today, length)
            case "y":
                return months_after(today, 12 * length)
            case unit:
                return _days_after(today, length * (7 if unit == "w" else 1))
    except (BadInput, OverflowError):
        raise BadInput(
            Fault(f'"{within}" ends beyond the calendar', "--within", "give a shorter time")
        ) from None


def _days_after(today: date, days: int) -> date:
    from datetime import timedelta

    return today + timedelta(days=days)


def _falls_due(item: Item, until: date) -> bool:
    return any(when is not None and when <= until for when in (item.due_on, item.expected.p50))


def _on_trip(call: Call, last: date) -> Callable[[Item, CarToday], bool]:
    driven = _driven(call)

    def is_wanted(item: Item, today: CarToday) -> bool:
        if driven is None:
            return falls_due(item, by=last, at=None)
        length, unit = driven
        far = convert(length, given=unit, wanted=today.car.vehicle.dial.unit)
        return falls_due(item, by=last, at=distance_after(today, far))

    return is_wanted


def _driven(call: Call) -> tuple[float, Unit] | None:
    for name, unit in (("miles", Unit.MI), ("km", Unit.KM)):
        if (text := call.maybe(name)) is not None:
            return float(number(text, field=f"--{name}")), unit
    return None


def _write_lines(
    call: Call, garage: Garage, found: Sequence[tuple[CarToday, Item]], left_out: int
) -> None:
    # Imported here: to answer as JSON it has no use.
    from castlenut.words.listing import row_line

    has_one_car = call.maybe("vehicle") is not None
    by_car: dict[str, tuple[CarToday, list[Item]]] = {}
    for today, item in found:
        by_car.setdefault(today.car.vehicle.slug, (today, []))[1].append(item)
    lines = [
        (sort_key(row.first), row_line(row, today, has_car=not has_one_car))
        for today, items in by_car.values()
        for row in rows(items)
    ]
    lines.sort(key=lambda each: each[0])
    output.write(*(line for _, line in lines))
    if not garage.slugs():
        output.write("no car yet: castlenut add SLUG takes one in")
    elif not lines and not left_out:
        output.write("nothing is recorded yet that could fall due: castlenut intake or fit begins")
    elif not lines:
        output.write("nothing is due")
    if left_out:
        told = f"{left_out:,} more ahead"
        output.write(told if has_one_car else f"{told}: castlenut due VEHICLE lists them")
    if lines:
        output.write(DEFERRING_LINE)
