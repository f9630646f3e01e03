"""Which days a feed is reckoned for and shows: the same all week, while no record changes."""

from datetime import date, timedelta

from castlenut.domain.car import Car

ITEMS_BACK = timedelta(days=400)
VISITS_BACK = timedelta(days=30)
OWN_CHECKS_BACK = timedelta(days=30)
_WEEK = timedelta(days=7)


def monday_of(day: date) -> date:
    """Give the first day of the ISO week that holds a day."""
    return day - timedelta(days=day.weekday())


def as_of(today: date, latest: date | None) -> date:
    """Give the day a car is reckoned for: this Monday, or its latest record if that came since.

    Never past this Sunday, and never the clock's own day: with unchanged records every day of a
    week gives the same feed.
    """
    monday = monday_of(today)
    if latest is None or latest <= monday:
        return monday
    return min(latest, monday + _WEEK - timedelta(days=1))


def latest_record(car: Car) -> date | None:
    """Give the day of a car's latest record; None if it has none with a day.

    What is only planned (the end of a lay-up or stay, when to ask again) is no record of that day.
    """
    days: list[date | None] = [
        *(each.on for each in car.readings),
        *(each.on for each in car.dial_events),
        *(each.on for each in car.components),
        *(each.removed_on for each in car.components),
        *(each.on for each in car.jobs),
        *(each.on for each in car.happenings),
        *(each.on for each in car.measurements),
        *(each.on for each in car.declines),
        *(each.on for each in car.own_items),
        *(each.since for each in car.exposures),
        *(each.since for each in car.stays),
        car.vehicle.sold_on,
    ]
    return max((day for day in days if day is not None), default=None)
