"""A visit agreed: one event on its day, in which the items it is for stand."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from castlenut.domain.due import CarToday
from castlenut.domain.ids import ItemId
from castlenut.domain.item import Item
from castlenut.domain.vehicle import VisitRecord
from castlenut.feed.candidate import DAY_BEFORE, WEEK_BEFORE, Candidate
from castlenut.feed.description import DEFERRING
from castlenut.feed.event import (
    LONGEST_DESCRIPTION,
    Alarms,
    GarageFacts,
    begun_small,
    cleaned,
    contact_lines,
    summary,
)
from castlenut.feed.text import UNTITLED, listed, one_line
from castlenut.feed.uid import Audience, visit_uid
from castlenut.feed.week import VISITS_BACK
from castlenut.words import figures

CATEGORY = "Visit"


def visits_shown(car: CarToday, monday: date) -> tuple[VisitRecord, ...]:
    """Give the visits of a car that have an event: booked, and not long past. Sold: none."""
    if car.car.vehicle.sold_on is not None:
        return ()
    return car.car.booked_from(monday - VISITS_BACK)


def booked_items(car: CarToday, monday: date) -> Mapping[ItemId, date]:
    """Give the items that stand in the event of a visit, each with its first day."""
    found: dict[ItemId, date] = {}
    for visit in visits_shown(car, monday):
        for item in visit.items:
            found.setdefault(item, visit.on)
    return found


def visit_candidates(
    car: CarToday, audience: Audience, facts: GarageFacts, *, monday: date
) -> Iterator[Candidate]:
    """Give the event of each visit booked for a car."""
    for visit in visits_shown(car, monday):
        jobs = [item for item in car.items if item.id in visit.items]
        lines = tuple(_lines(jobs))
        what = f"visit, {figures.count(len(visit.items), 'job')}" if visit.items else "visit"
        after = (
            *(contact_lines(facts) if audience is Audience.OWNER else ()),
            *((DEFERRING,) if lines else ()),
        )
        yield Candidate(
            uid=visit_uid(facts.id, audience, visit.record),
            on=visit.on,
            is_exact=True,
            summary=summary(car.car.vehicle, what),
            category=CATEGORY,
            before=cleaned(listed(lines)) if lines else ("For whatever is due then.",),
            after=cleaned(after),
            longest=LONGEST_DESCRIPTION[audience],
            location=one_line(facts.address),
            alarms=_alarms(facts, audience),
        )


def _lines(jobs: Sequence[Item]) -> Iterator[str]:
    """Give the jobs, things alike on one line: `wheel bearings, repack LF RF`."""
    places: dict[str, list[str]] = {}
    for item in jobs:
        title = begun_small(one_line(item.rule.title) or UNTITLED)
        here = places.setdefault(title, [])
        if item.place is not None:
            here.append(str(item.place))
    for title, at in places.items():
        yield f"{title} {' '.join(at)}".strip()


def _alarms(facts: GarageFacts, audience: Audience) -> tuple[str, ...]:
    if facts.alarms is Alarms.NONE:
        return ()
    return (WEEK_BEFORE, DAY_BEFORE) if audience is Audience.OWNER else (DAY_BEFORE,)
