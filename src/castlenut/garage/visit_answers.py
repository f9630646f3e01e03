"""Visits and weeks as the garage answers other programs (docs/json.md)."""

from castlenut.domain.vehicle import VisitRecord
from castlenut.domain.visits.weeks import Placed
from castlenut.garage.visits import CarVisits
from castlenut.garage.weeks import GarageWeeks, PlannedVisit
from castlenut.words.answers import Answer
from castlenut.words.visit_answers import (
    left_out_answer,
    named,
    plan_answer,
    to_cents,
    visit_answer,
)


def car_answer(slug: str, found: CarVisits, currency: str) -> dict[str, Answer]:
    """Give a car's visits, booked and proposed, by day."""
    of_car, plan = found.of_car, found.plan
    visits = [
        *((each.on, _booked(each, found)) for each in (*found.waiting, *found.booked)),
        *((each.on, visit_answer(each, of_car)) for each in plan.visits),
    ]
    visits.sort(key=lambda pair: pair[0])
    return {
        "vehicle": slug,
        "today": of_car.line.calendar.today.isoformat(),
        "until": of_car.line.calendar.until.isoformat(),
        "currency": currency or None,
        "has_rate": found.has_money,
        "visits": [each for _, each in visits],
        **plan_answer(plan, of_car),
        "at_risk": [
            {
                **named(of_car.items[each.item]),
                "on": each.on.isoformat(),
                "closes_on": each.closes_on.isoformat(),
            }
            for each in found.at_risk
        ],
        "refused": [day.isoformat() for day in found.refused],
        "left_out": left_out_answer(of_car, found.today.items),
        "without_distance": [
            named(of_car.items[name])["item"]
            for name in of_car.without_distance
            if name in of_car.items
        ],
    }


def _booked(each: VisitRecord, found: CarVisits) -> dict[str, Answer]:
    return {
        "on": each.on.isoformat(),
        "state": each.state.value,
        "record": each.record,
        "hours": to_cents(found.hours[each.record]),
        "items": [named(item) for item in found.today.items if item.id in each.items],
        "note": found.today.car.notes.get(each.record),
    }


def weeks_answer(found: GarageWeeks) -> dict[str, Answer]:
    """Give the garage's weeks: what is in each, and what does not fit."""
    return {
        "visits": [
            {
                "vehicle": visit.slug,
                "on": visit.on.isoformat(),
                "state": "booked" if visit.is_booked else "proposed",
                "by_on": visit.by_on.isoformat(),
                "hours": to_cents(visit.hours),
                "jobs": len(visit.jobs),
                "work": [[each.on.isoformat(), to_cents(each.hours)] for each in placed.work],
                "unplaced": to_cents(placed.unplaced),
                **_sooner(found, visit, placed),
            }
            for visit, placed in zip(found.visits, found.load.visits, strict=True)
        ],
        "weeks": [
            {
                "monday": week.monday.isoformat(),
                "hours": to_cents(week.hours),
                "booked": to_cents(found.booked_hours.get(week.monday, 0.0)),
                "capacity": to_cents(week.capacity),
                "share": None if week.share is None else to_cents(week.share),
            }
            for week in found.load.weeks
        ],
        "over": [
            {
                "from_on": over.from_on.isoformat(),
                "by_on": over.by_on.isoformat(),
                "hours": to_cents(over.hours),
                "capacity": to_cents(over.capacity),
                "short": to_cents(over.short),
                "visits": [
                    {
                        "vehicle": found.visits[int(each)].slug,
                        "on": found.visits[int(each)].on.isoformat(),
                    }
                    for each in over.visits
                ],
            }
            for over in found.load.over
        ],
        "days_sooner": found.days_sooner,
        "cannot": [{"vehicle": slug, "items": count} for slug, count in found.cannot],
        "unproved": list(found.unproved),
    }


def _sooner(found: GarageWeeks, visit: PlannedVisit, placed: Placed) -> dict[str, Answer]:
    """Give the earlier day from which a visit would fit, and the life that costs."""
    day = found.fits_from(visit, placed) if placed.unplaced else None
    life = None if day is None else found.life_from(visit, day)
    return {
        "fits_from": None if day is None else day.isoformat(),
        "fits_life": None if life is None else to_cents(life),
    }
