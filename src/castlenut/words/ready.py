"""What stands against handing a car over, in words: the same for command, screens and paper."""

from collections.abc import Sequence

from castlenut.domain.conflicts import Conflict
from castlenut.domain.dial import Dial
from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.naming import item_name, unique_name
from castlenut.domain.stay import Against, Cause, is_ready
from castlenut.words import figures, states
from castlenut.words.answers import Answer
from castlenut.words.listing import GAP, how_it_stands, titled
from castlenut.words.states import RANKS


def head_line(standing: Sequence[Against]) -> str:
    """Give the answer in one line: ready or not, and how many things stand against it."""
    blocking = sum(each.blocks for each in standing)
    told = len(standing) - blocking
    aside = f"; {figures.count(told, 'declined item')} told" if told else ""
    if is_ready(standing):
        return f"ready: nothing stands against handing it over{aside}"
    verb = "stands" if blocking == 1 else "stand"
    return f"not ready: {figures.count(blocking, 'thing')} {verb} against handing it over{aside}"


def line(against: Against, today: CarToday) -> str:
    """Give one thing as a line: mark and cause first, what it is, what is known, what to type."""
    names = dict.fromkeys(item_name(each, today.items) for each in against.items)
    parts = (
        stamped(against),
        title(against),
        words(against, today),
        f"[{' '.join(names)}]" if names else "",
    )
    return GAP.join(part for part in parts if part)


def stamped(against: Against) -> str:
    """Give mark and cause: `!! overdue`, `! point at 0`."""
    return f"{_mark(against)} {against.cause.value}"


def title(against: Against) -> str:
    """Give what it is about: a title with its places, or the two parts."""
    if against.conflict is not None:
        return _two_parts(against.conflict)
    return titled(against.items[0].rule.title, _places(against.items))


def words(against: Against, today: CarToday) -> str:
    """Give what is known of it, and what would put it right."""
    dial = today.car.vehicle.dial
    match against.cause:
        case Cause.POINT_AT_0:
            return _since(against.items[0], dial)
        case Cause.NO_RECORD:
            return _rank(against.items[0])
        case Cause.OVERDUE:
            return how_it_stands(against.items[0], dial, today=today.today)
        case Cause.CONFLICT:
            return "never both: take one off"
        case Cause.TO_BE_MENDED:
            found = against.finding
            return "" if found is None else f"found {found.on.isoformat()}, not mended"
        case Cause.NO_LIMIT:
            return "enter the car's own figure, or what is stamped on the part"
        case Cause.DECLINED:
            said = against.items[0].declined
            on = "" if said is None else f" on {said.on.isoformat()}"
            who = f" by {said.who}" if said is not None and said.who else ""
            return f"the owner said no{on}{who}: told, it does not block"


def answer(standing: Sequence[Against], today: CarToday) -> dict[str, Answer]:
    """Give the structure of docs/json.md: ready or not, and each thing with what it is about."""
    stay = today.car.stay_on(today.today)
    return {
        "vehicle": today.car.vehicle.slug,
        "ready": is_ready(standing),
        "in_work_since": None if stay is None else stay.since.isoformat(),
        "against": [_one(each, today) for each in standing],
    }


def open_line(against: Against) -> str:
    """Give one thing in few words, as the record of a stay keeps what was open."""
    return f"{against.cause.value}: {title(against)}"[:200]


def _one(against: Against, today: CarToday) -> dict[str, Answer]:
    conflict, finding = against.conflict, against.finding
    return {
        "cause": against.cause.value,
        "blocks": against.blocks,
        "danger": against.danger,
        "title": title(against),
        "words": words(against, today),
        "items": [unique_name(each) for each in against.items],
        "rule": against.items[0].rule.id if against.items else None,
        "positions": [str(each.place) for each in against.items if each.place is not None],
        "state": against.items[0].state.value if against.items else None,
        "rank": against.items[0].rank if against.items else None,
        "cautions": list(dict.fromkeys(key for i in against.items for key in i.rule.cautions)),
        "components": [] if conflict is None else [conflict.one.record, conflict.other.record],
        "finding": None if finding is None else finding.record,
    }


def _mark(against: Against) -> str:
    if against.cause is Cause.DECLINED:
        return states.DECLINED.mark
    if against.cause is Cause.NO_RECORD:
        return states.NO_RECORD.mark
    return states.OVERDUE.mark if against.cause is Cause.OVERDUE else states.DUE.mark


def _since(item: Item, dial: Dial) -> str:
    base = item.baseline
    since = "" if base is None or base.on is None else f", since {base.on.isoformat()}"
    at = "" if base is None or base.at is None else f" at {figures.with_unit(base.at, dial)}"
    return f"{states.BEFORE_IT_ROLLS}{since}{at}"


def _rank(item: Item) -> str:
    act = "" if item.rule.intake is None else f": {item.rule.intake.act.value}"
    return "" if item.rank is None else f"rank {item.rank}, {RANKS[item.rank]}{act}"


def _places(items: Sequence[Item]) -> str:
    return " ".join(dict.fromkeys(str(each.place) for each in items if each.place is not None))


def _two_parts(conflict: Conflict) -> str:
    at = f", {conflict.place}" if conflict.place is not None else ""
    if conflict.attribute is None:
        return f"{conflict.one.kind} and {conflict.other.kind}{at}"
    one, other = (
        part.attributes.get(conflict.attribute, "") for part in (conflict.one, conflict.other)
    )
    return f"{conflict.one.kind} {one} and {other}{at}"
