"""Work done in words: its title, and the job card as it was recorded."""

from collections.abc import Iterable, Iterator

from castlenut.domain.car import Car
from castlenut.domain.happenings import Job, Measurement
from castlenut.domain.ids import ItemId
from castlenut.domain.place import Place
from castlenut.domain.rules.rule import RuleBook
from castlenut.words import figures

THIS_GARAGE = "this garage"


def job_title(job: Job, car: Car, book: RuleBook) -> str:
    """Give what a job was: items done and conversions; what it fitted, measured and raised."""
    told = [
        *_items(job.items, car, book),
        *(
            book.conversions[each.event].title
            for each in job.events
            if each.event in book.conversions
        ),
        *(f"{each.kind} fitted" for each in car.components if each.job == job.record),
        *(f"{each.measure or 'a look'}" for each in _measured(job, car)),
        *(_event(each.event, each.place, book) for each in job.events),
    ]
    return ", ".join(dict.fromkeys(told)) or job.note or "work"


def who(job: Job) -> str:
    """Give who did it."""
    return job.by or THIS_GARAGE


def job_card(job: Job, car: Car, book: RuleBook) -> Iterator[str]:
    """Give a job as recorded, a line each: when, what was done, measured, fitted, and by whom."""
    dial = car.vehicle.dial
    at = "dial not read" if job.at is None else f"{figures.with_unit(job.at, dial)}"
    yield f"{job.on}  {at}{' (estimated)' if job.estimated else ''}  by {who(job)}"
    if job.hours is not None:
        yield f"hours: {figures.hours(job.hours)}"
    if job.cost is not None:
        yield f"cost: {figures.money(job.cost)}"
    yield from (f"done: {each}" for each in _items(job.items, car, book))
    yield from (f"included: {each}" for each in _items(job.includes, car, book))
    for part in car.components:
        where = f" {part.place}" if part.place else ""
        number = f", number {part.part}" if part.part else ""
        if part.job == job.record:
            yield f"fitted: {part.kind}{where}{number}"
    yield from (f"measured: {_found(each, car, book)}" for each in _measured(job, car))
    for finding in car.findings:
        if finding.job == job.record:
            yield f"found: {finding.what}{f' {finding.place}' if finding.place else ''}"
    yield from (f"raised: {_event(each.event, each.place, book)}" for each in job.events)
    for happening in car.happenings:
        if happening.job == job.record:
            yield f"happened: {_event(happening.event, happening.place, book)}"
    if job.note:
        yield f"note: {job.note}"


def _event(name: str, place: Place | None, book: RuleBook) -> str:
    """Give an event or a conversion in words, and where; by its name where the book has it not."""
    event, conversion = book.events.get(name), book.conversions.get(name)
    words = event.words if event else conversion.title if conversion else name
    return f"{words} {place}" if place else words


def _measured(job: Job, car: Car) -> Iterator[Measurement]:
    return (each for each in car.measurements if each.job == job.record)


def _found(measurement: Measurement, car: Car, book: RuleBook) -> str:
    items = () if measurement.item is None else (measurement.item,)
    what = " ".join((*_items(items, car, book), *filter(None, [measurement.measure])))
    where = "" if measurement.place is None else f" {measurement.place}"
    unit = measurement.unit or ""
    told = [figures.quantity(value, unit) for value in measurement.values]
    if measurement.grade is not None:
        told.append(measurement.grade.value)
    return f"{what}{where}: {', '.join(told)}"


def _items(items: Iterable[ItemId], car: Car, book: RuleBook) -> Iterator[str]:
    """Name items, those of one rule together with their places."""
    places: dict[str, list[str]] = {}
    parts = {each.record: each for each in car.components}
    for item in items:
        rule = book.rules.get(item.rule)
        part = parts.get(item.component)
        where = places.setdefault(rule.title if rule else item.rule, [])
        if part is not None and part.place is not None:
            where.append(str(part.place))
    return (" ".join((title, *where)) for title, where in places.items())
