"""Items, cars and parts as plain lines: the state first, then words two blanks apart."""

from datetime import date

from castlenut.domain.component import Component
from castlenut.domain.dial import Dial
from castlenut.domain.due import CarToday
from castlenut.domain.ids import OWN
from castlenut.domain.item import Item
from castlenut.domain.naming import item_name
from castlenut.domain.order import Row
from castlenut.domain.vehicle import Vehicle
from castlenut.domain.working import State
from castlenut.words import figures, states
from castlenut.words.answers import component_state
from castlenut.words.escape import one_line
from castlenut.words.steps import left

GAP = "  "


def stamped(item: Item) -> str:
    """Give mark and state of an item: `!! overdue`, `! due before it rolls`."""
    stamp = states.stamp_of(item)
    told = f"{stamp.mark} {stamp.word}"
    return f"{told} {states.BEFORE_IT_ROLLS}" if item.before_it_rolls else told


def titled(title: str, places: str) -> str:
    """Give a title with its places: `spring U-bolts, rear`."""
    return one_line(f"{title}, {places}" if places else title)


def heading(item: Item, among: tuple[Item, ...]) -> str:
    """Give the line above the working of an item."""
    place = str(item.place) if item.place else ""
    return GAP.join((stamped(item), titled(item.rule.title, place), item_name(item, among)))


def due_point(item: Item, dial: Dial) -> str:
    """Give the due point in a few words: `61,530 mi or 2027-10-06`; empty where there is none."""
    parts = []
    if item.shown.due_at is not None:
        parts.append(f"at {figures.with_unit(item.shown.due_at, dial)}")
    if item.due_on is not None:
        parts.append(f"on {item.due_on.isoformat()}")
    return f"due {' or '.join(parts)}" if parts else ""


def how_it_stands(item: Item, dial: Dial, *, today: date) -> str:
    """Give what a state has to say beside the due point: what is left, the rank, the refusal."""
    match item.state:
        case State.NO_RECORD:
            return "" if item.rank is None else f"rank {item.rank}: {states.RANKS[item.rank]}"
        case State.DECLINED:
            said = "" if item.declined is None else f"on {item.declined.on.isoformat()}, "
            return f"{said}without that: {item.reckoned.value}"
        case State.DUE if item.rule.is_own_check:
            # nobody calls the owner in for his own checks, so nothing is over
            return ""
        case State.OVERDUE | State.DUE:
            is_overdue = item.state is State.OVERDUE
            return left(item.days_left, item.distance_left, dial, is_overdue=is_overdue)
        case State.AHEAD:
            is_told = item.expected.p10 == item.expected.p90 == item.due_on
            if item.expected.p50 is None or is_told:
                return left(item.days_left, item.distance_left, dial, is_overdue=False)
            return f"expected {figures.about(item.expected, today=today)}"


def row_line(row: Row, today: CarToday, *, has_car: bool) -> str:
    """Give items that stand alike as one line, ending with what to type for them."""
    item, vehicle = row.first, today.car.vehicle
    names = dict.fromkeys(item_name(each, today.items) for each in row.items)
    parts = (
        stamped(item),
        vehicle.slug if has_car else "",
        titled(item.rule.title, _places(row)),
        due_point(item, vehicle.dial),
        how_it_stands(item, vehicle.dial, today=today.today),
        _no_rotation(item),
        f"[{_together(row, names, today)}]",
    )
    return GAP.join(part for part in parts if part)


def _no_rotation(item: Item) -> str:
    if not item.against:
        return ""
    # Imported here: it loads all that judges tires, which most lines have no use for.
    from castlenut.words.in_short import no_rotation

    return no_rotation(item.against)


def _places(row: Row) -> str:
    """Give the places of a row, each once: two parts at one place may share a row."""
    return " ".join(dict.fromkeys(str(each.place) for each in row.items if each.place is not None))


def _together(row: Row, names: dict[str, None], today: CarToday) -> str:
    """Give the rule alone where it stands for just these items; own notes each by its name."""
    if row.first.id.rule == OWN:
        return " ".join(names)
    of_rule = sum(1 for each in today.items if each.id.rule == row.first.id.rule)
    return row.first.id.rule if of_rule == len(row.items) else " ".join(names)


def next_line(item: Item, today: CarToday) -> str:
    """Give when an item falls due next, told after it was done."""
    place = str(item.place) if item.place else ""
    dial = today.car.vehicle.dial
    point = due_point(item, dial) or stamped(item)
    return f"next: {titled(item.rule.title, place)}{GAP}{point}"


def component_line(component: Component, vehicle: Vehicle, today: date) -> str:
    """Give a part as one line: state, car, kind and place, since when, part number, id."""
    place = component.place_on(today)
    attributes = ", ".join(f"{name} {value}" for name, value in component.attributes.items())
    since = [] if component.on is None else [component.on.isoformat()]
    if component.at is not None:
        since.append(f"at {figures.with_unit(component.at, vehicle.dial)}")
    until = "" if component.removed_on is None else f"off {component.removed_on.isoformat()}"
    stamp = ", ".join(f"{name} {value}" for name, value in component.stamped.items())
    parts = (
        component_state(component, today),
        vehicle.slug,
        titled(component.kind, str(place) if place else ""),
        one_line(attributes),
        f"since {' '.join(since)}" if since else "since not known",
        until,
        one_line(f"part {component.part}") if component.part else "",
        one_line(f"stamped {stamp}") if stamp else "",
        component.record[-8:],
    )
    return GAP.join(part for part in parts if part)
