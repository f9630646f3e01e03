"""The handover book: what goes with the keys."""

from collections.abc import Iterator, Sequence
from datetime import date

from castlenut.domain.component import Component, Origin
from castlenut.domain.dial import Dial
from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.naming import unique_name
from castlenut.domain.order import Row, rows
from castlenut.domain.rules.rule import Rule, RuleBook
from castlenut.domain.working import Counted, Pointed, State
from castlenut.paper.head import cannot_be_done, cautions_of, row_title
from castlenut.paper.paper import Head, Kind, Line, Paper, Section
from castlenut.words import figures
from castlenut.words.cautions import sentences
from castlenut.words.listing import due_point, stamped, titled

SIGNATURES = ("handed over by, and on which day", "received by")
_FIRST = 12
_UNITS = {"rim_width": " in", "rim_diameter": " in", "offset": " mm"}
_LAY_UP = "layup-start"
_PARTS = frozenset({Origin.COMPONENT, Origin.TIRE, Origin.WHEEL})


def handover_book(today: CarToday, head: Head, *, book: RuleBook, feed: str | None) -> Paper:
    """Put the handover book of a car together; `feed` is the public address of its calendar."""
    points = [item for item in today.items if _is_first_point(item)]
    others = [item for item in today.items if _comes(item) and item not in points]
    own = [item for item in today.items if item.rule.is_own_check]
    storage = next((rule for rule in book.rules.values() if rule.id == _LAY_UP), None)
    return Paper(
        kind=Kind.HANDOVER_BOOK,
        head=head,
        sections=(
            Section(
                title="What is fitted",
                lines=tuple(_fitted(today)),
                empty="Of no part it is recorded since when it is on the car.",
            ),
            Section(title="Nobody knows since when", lines=tuple(_since_unknown(today))),
            Section(
                title="First points after the work",
                lines=tuple(_coming(points, today)),
                empty="None is open.",
            ),
            Section(title="What is due first", lines=tuple(_coming(others, today))[:_FIRST]),
            cannot_be_done(today),
            Section(title="What you look at yourself", lines=tuple(_own(own, today))),
            Section(title="Before it is laid up", lines=tuple(_storage(storage))),
        ),
        signatures=SIGNATURES,
        cautions=_cautions([*points, *own], storage),
        feed=feed,
    )


def _cautions(items: Sequence[Item], storage: Rule | None) -> tuple[str, ...]:
    if storage is None:
        return cautions_of(items)
    keys = (key for item in items for key in item.rule.cautions)
    return sentences(tuple(dict.fromkeys((*keys, *storage.cautions))))


def _comes(item: Item) -> bool:
    return not item.rule.is_own_check and item.state in {State.OVERDUE, State.DUE, State.AHEAD}


def _is_first_point(item: Item) -> bool:
    return _comes(item) and any(isinstance(step, Pointed) for step in item.working)


def _fitted(today: CarToday) -> Iterator[Line]:
    """Give the parts on the car of which something is known, the latest first."""
    parts = [part for part in _parts(today) if _is_known(part)]
    parts.sort(key=lambda part: part.on or date.min, reverse=True)
    yield from _alike(parts, today, told=True)


def _since_unknown(today: CarToday) -> Iterator[Line]:
    """Give the other parts in one line: there is nothing to tell of them."""
    lines = _alike([part for part in _parts(today) if not _is_known(part)], today, told=False)
    named = "; ".join(line.what for line in lines)
    if named:
        yield Line(what="", told=(named,))


def _is_known(part: Component) -> bool:
    return bool(part.on or part.at is not None or part.part or part.made or part.stamped)


def _parts(today: CarToday) -> list[Component]:
    """Give the parts on the car by kind and place."""
    parts = [part for part in today.car.fitted(today.today) if part.origin in _PARTS]
    return sorted(parts, key=lambda part: (part.kind, part.place.order if part.place else (-1, "")))


def _alike(parts: Sequence[Component], today: CarToday, *, told: bool) -> Iterator[Line]:
    """Give parts a line each, those that are alike at several places one."""
    alike: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for part in parts:
        known = tuple(_of_part(part, today.odometer.dial)) if told else ()
        places = alike.setdefault((part.kind, known), [])
        place = part.place_on(today.today)
        if place is not None and str(place) not in places:
            places.append(str(place))
    for (kind, known), places in alike.items():
        yield Line(what=titled(kind, " ".join(places)), told=known)


def _of_part(part: Component, dial: Dial) -> Iterator[str]:
    since = [] if part.on is None else [f"on {part.on.isoformat()}"]
    if part.at is not None:
        since.append(f"at {figures.with_unit(part.at, dial)}")
    yield f"fitted {' '.join(since)}" if since else "nobody knows since when"
    if part.part:
        yield f"part number {part.part}"
    if part.attributes:
        yield ", ".join(
            f"{name.replace('_', ' ')} {value}{_UNITS.get(name, '')}"
            for name, value in part.attributes.items()
        )
    if part.made is not None:
        yield f"made {part.made.isoformat()}"
    if part.stamped:
        told = ", ".join(f"{name} {value}" for name, value in part.stamped.items())
        yield f"stamped {told.replace('_', ' ')}"


def _day_of(item: Item) -> tuple[date, str]:
    days = [day for day in (item.expected.p50, item.due_on) if day is not None]
    return min(days, default=date.max), item.rule.title


def _coming(items: Sequence[Item], today: CarToday) -> Iterator[Line]:
    for row in rows(sorted(items, key=_day_of)):
        yield Line(
            what=row_title(row),
            told=tuple(_when(row, today)),
            items=tuple(unique_name(each) for each in row.items),
        )


def _when(row: Row, today: CarToday) -> Iterator[str]:
    item = row.first
    if item.state is not State.AHEAD:
        yield stamped(item)
    point = due_point(item, today.odometer.dial)
    if point:
        yield point
    band = item.expected
    if item.state is State.AHEAD and band.p50 is not None and band.p50 != item.due_on:
        yield f"expected {figures.dates(band)}"
    if _is_first_point(item) and item.rule.check:
        yield item.rule.check


def _own(items: Sequence[Item], today: CarToday) -> Iterator[Line]:
    for row in rows(items):
        rule = row.first.rule
        told = [_how_often(row.first, today.odometer.dial), rule.check or ""]
        yield Line(
            what=row_title(row),
            told=tuple(part for part in told if part),
            items=tuple(unique_name(each) for each in row.items),
        )


def _how_often(item: Item, dial: Dial) -> str:
    sides: list[str] = []
    for step in item.working:
        if isinstance(step, Counted):
            span = figures.span(step.months, step.days)
            if step.distance is not None:
                sides.append(figures.with_unit(step.distance, dial))
            if span:
                sides.append(span)
    return f"every {' or '.join(dict.fromkeys(sides))}" if sides else ""


def _storage(rule: Rule | None) -> Iterator[Line]:
    """Give what is done before it is laid up, as the rule for that day lists it."""
    if rule is not None and rule.check:
        for each in rule.check.split(";"):
            yield Line(what=each.strip())
