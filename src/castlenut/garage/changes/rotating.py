"""A rotation done: which wheel goes where, refused with every reason where that may not be."""

from collections.abc import Mapping, Sequence
from datetime import date

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.happenings import Raised
from castlenut.domain.ids import ROTATE, ItemId, RecordId
from castlenut.domain.naming import choose
from castlenut.domain.opened import Opened, events_of, opened
from castlenut.domain.place import Place, Spot, touches
from castlenut.domain.rules.included import included_rules
from castlenut.domain.rules.rule import Rule
from castlenut.domain.tires.exchanges import Exchange, exchange_moves, judged
from castlenut.domain.tires.in_force import TIRE_SET
from castlenut.domain.tires.reasons import Answer
from castlenut.domain.tires.rotation.moves import MOVES, Pattern
from castlenut.domain.tires.standing import walk
from castlenut.domain.tires.today import TiresToday
from castlenut.domain.wheels import turned
from castlenut.garage import entry
from castlenut.garage.changes.placing import wheel_place
from castlenut.garage.changes.tread import add_tread, read_tread, tires_then
from castlenut.garage.drafting import DialThen, Drafting, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.values import Value
from castlenut.words import reasons

_WHEEL = "wheel"


def draft_rotation(
    garage: Garage,
    slug: str,
    what: str,
    *,
    on: str | None = None,
    at: str | None = None,
    by: str | None = None,
    hours: str | None = None,
    cost: str | None = None,
    note: str | None = None,
    depths: Sequence[tuple[str, str]] = (),
    done_anyway: bool = False,
) -> Draft:
    """Record a rotation: the name of a pattern, or moves from place to place, `LF=RR,RR=LF`.

    `depths` are measured at the places where the tires stand before. `done_anyway` records what was
    really done although it is not allowed, and says why it is not.

    Raises:
        BadInput: places that cannot be, a wheel missing or without its tire, or moves that are not
            allowed or not known to be: with every reason of every move.
    """
    new = Drafting(garage, slug)
    day = new.past_day(on)
    then = new.dial_then(at, day)
    tires = tires_then(new, day)
    moves = new.read(lambda: read_moves(what, tires)) or {}
    _check_wheels(new, tires, moves)
    against = _against(tires, moves) if moves and not new.faults else ()
    if against and not done_anyway:
        new.faults.extend(against)
    measured = read_tread(new, tires, depths) if depths else ()
    remarks = [note, *(f"not allowed: {each.what}" for each in against if done_anyway)]
    new.told.extend(f"not allowed, recorded all the same: {each.what}" for each in against)
    job = _add_job(new, tires, moves, day, then, by=by, hours=hours, cost=cost, remarks=remarks)
    add_tread(new, measured, tires, day=day, then=then, job=job, note=None)
    for start, to in moves.items():
        _add_placement(new, tires, start, to, day, then, job)
    rule = garage.book.rules.get(ROTATE)
    return new.draft(
        f"rotated {_named(what, moves)} on {day.isoformat()}",
        cautions=() if rule is None else rule.cautions,
    )


def read_moves(text: str, tires: TiresToday) -> Mapping[Spot, Spot]:
    """Read the name of a pattern, or moves: every wheel that moves is named, `LF=RR,RR=LF`.

    Raises:
        BadInput: no such pattern, a place that the car does not have, or moves after which two
            wheels would stand at one place, or none.
    """
    if "=" in text:
        return _typed_moves(text, tires)
    if tires.exchanges:
        exchange = choose(text, [each.value for each in Exchange], what="way to rotate duals")
        return exchange_moves(Exchange(exchange))
    pattern = choose(text, [each.value for each in Pattern], what="pattern")
    return MOVES[Pattern(pattern)]


def _typed_moves(text: str, tires: TiresToday) -> Mapping[Spot, Spot]:
    dual = tires.car.vehicle.dual
    moves: dict[Spot, Spot] = {}
    faults: list[Fault] = []
    for part in text.split(","):
        start_text, mark, to_text = part.partition("=")
        if not mark or "=" in to_text:
            faults.append(Fault(f"{part.strip()!r} is no move", "moves", "write LF=RR,RR=LF"))
            continue
        ends: list[Spot] = []
        for word in (start_text, to_text):
            try:
                ends.append(wheel_place(word, dual=dual, field="moves"))
            except BadInput as bad:
                faults.extend(bad.faults)
        if len(ends) < 2:
            continue
        start, to = ends
        if start in moves:
            faults.append(Fault(f"{start.value} moves twice", "moves", "name each wheel once"))
        moves[start] = to
    if faults:
        raise BadInput(*faults)
    moves = {start: to for start, to in moves.items() if start is not to}
    if not moves:
        raise BadInput(Fault("nothing moves", "moves", "name places from which and to which"))
    for spot in walk(dual=dual):
        coming = [f"that of {start.value}" for start, to in moves.items() if to is spot]
        here = tires.at(spot)
        is_there = here is not None and (here.tire is not None or here.wheel is not None)
        if is_there and spot not in moves:
            coming.append("its own")
        if len(coming) > 1:
            faults.append(
                Fault(
                    f"two wheels would stand at {spot.value}: {' and '.join(coming)}",
                    "moves",
                    f"say where {spot.value} goes",
                )
            )
        elif spot in moves and not coming and spot is not Spot.SP:
            faults.append(
                Fault(
                    f"no wheel would stand at {spot.value}", "moves", "name the one that goes there"
                )
            )
    if faults:
        raise BadInput(*faults)
    return moves


def _check_wheels(new: Drafting, tires: TiresToday, moves: Mapping[Spot, Spot]) -> None:
    """Keep a fault for every wheel that moves and is not there, or has no tire on it."""
    for spot in moves:
        here = tires.at(spot)
        if here is None or (here.tire is None and here.wheel is None):
            what = "there is no spare" if spot is Spot.SP else f"there is no wheel at {spot.value}"
            new.fault(what, where="rotate", remedy="fit one first, or leave that place out")
        elif here.tire is None:
            new.fault(
                f"the wheel at {spot.value} has no tire on it",
                where="rotate",
                remedy="fit its tire first, or leave that place out",
            )


def _against(tires: TiresToday, moves: Mapping[Spot, Spot]) -> tuple[Fault, ...]:
    """Give every reason against moves, with what lifts it; nothing where they are allowed."""
    if tires.wheels is None:
        return ()
    found = judged(tires.wheels, moves)
    return tuple(
        dict.fromkeys(
            Fault(
                reasons.sentence(reason).rstrip("."),
                f"{reason.start.value} to {reason.to.value}",
                _remedy(reason.answer, reasons.lift(reason)),
            )
            for reason in found.reasons
        )
    )


def _remedy(answer: Answer, lift: str) -> str:
    return f"give {lift}" if answer is Answer.NOT_KNOWN else f"lifted by {lift}"


def _add_job(
    new: Drafting,
    tires: TiresToday,
    moves: Mapping[Spot, Spot],
    day: date,
    then: DialThen,
    *,
    by: str | None,
    hours: str | None,
    cost: str | None,
    remarks: Sequence[str | None],
) -> str:
    """Add the job: the set's rotation, what its rule includes where wheels moved, wheels off."""
    book = new.garage.book
    moved = [
        Place(spot) for spot in dict.fromkeys((*moves, *moves.values())) if spot is not Spot.SP
    ]
    told_hours = new.read(lambda: entry.hours(hours)) if hours is not None else None
    told_cost = new.read(lambda: entry.money(cost, field="cost")) if cost is not None else None
    sets = [part for part in new.car.fitted(day) if part.kind == TIRE_SET]
    done = [str(ItemId(rule=ROTATE, component=part.record)) for part in sets]
    rule = book.rules.get(ROTATE)
    included = () if rule is None else _included(new, tires, rule, moves)
    values: dict[str, Value] = {
        "on": day.isoformat(),
        "at": number(then.at),
        "estimated": True if then.is_estimated else None,
        "by": new.who(by),
        "items": list(done),
        "includes": [str(item) for item in included],
        "events": [str(event) for event in _wheels_off(new, moved, day)],
        "hours": number(told_hours),
        "cost": told_cost,
        "note": "; ".join(each for each in remarks if each) or None,
    }
    return new.add("job", {name: value for name, value in values.items() if value != []})


def _included(
    new: Drafting, tires: TiresToday, rule: Rule, moves: Mapping[Spot, Spot]
) -> Sequence[ItemId]:
    """Give the items that a rotation satisfies, of the tires and wheels that moved.

    The wheel that was the spare's has no item of its nuts before it stands on the road: it has one
    like the others after.
    """
    rules = included_rules(rule, new.garage.book.rules)
    spots = [Place(spot) for spot in dict.fromkeys((*moves, *moves.values()))]
    items = [
        item
        for item in new.items.items
        if item.id.rule in rules and any(touches(item.place, each) for each in spots)
    ]
    found = dict.fromkeys(item.id for item in items)
    spare = tires.at(Spot.SP)
    if Spot.SP in moves and spare is not None and spare.wheel is not None:
        of_wheels = {item.id.rule for item in items if item.component.kind == _WHEEL}
        wheel = spare.wheel.record
        found.update(dict.fromkeys(ItemId(rule=each, component=wheel) for each in of_wheels))
    return tuple(found)


def _wheels_off(new: Drafting, moved: Sequence[Place], day: date) -> tuple[Raised, ...]:
    accesses, fitted = new.garage.book.accesses, new.car.fitted(day)
    openings: dict[Opened, None] = {}
    for at in moved:
        found = opened([_WHEEL], at, accesses, fitted=fitted, dual=new.car.vehicle.dual)
        openings.update(dict.fromkeys(found))
    return events_of(openings, accesses)


def _add_placement(
    new: Drafting,
    tires: TiresToday,
    start: Spot,
    to: Spot,
    day: date,
    then: DialThen,
    job: str,
) -> None:
    """Put the wheel of one place at another, the tire as it is mounted."""
    here = tires.at(start)
    if here is None or here.tire is None:
        return
    turns = turned(tires.car.placements, here.tire.record) if here.wheel is None else None
    new.add(
        "placement",
        {
            "tire": here.tire.record,
            "wheel": None if here.wheel is None else here.wheel.record,
            "place": to.value,
            "turns": turns,
            "on": day.isoformat(),
            "at": number(then.at),
            "job": job,
        },
    )
    _tell_later(new, here.tire.record, start, day)


def _tell_later(new: Drafting, tire: RecordId, spot: Spot, day: date) -> None:
    later = [
        each.on
        for each in new.car.placements
        if each.tire == tire and each.on is not None and each.on > day
    ]
    if later:
        new.told.append(
            f"the tire of {spot.value} was placed again later, on {min(later).isoformat()}: what"
            " followed is kept as entered"
        )


def _named(what: str, moves: Mapping[Spot, Spot]) -> str:
    if "=" not in what:
        return what.strip()
    return ", ".join(f"{start.value} to {to.value}" for start, to in moves.items())
