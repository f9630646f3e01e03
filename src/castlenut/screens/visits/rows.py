"""Rows of visits: of one car by day, and of the garage by week."""

from collections.abc import Sequence
from datetime import date

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId
from castlenut.domain.item import Item
from castlenut.domain.visits.weeks import Week
from castlenut.garage.changes.visiting import closes_of
from castlenut.garage.visits import CarVisits, GarageWeeks
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words import car_visits as words
from castlenut.words import figures
from castlenut.words.listing import titled

VISIT_COLUMNS = (
    Column(head="day", width=17),
    Column(head="", width=9),
    Column(head="jobs", width=5, is_right=True),
    Column(head="takes", width=7, is_right=True),
    Column(head="what", width=20, grow=1),
)
WEEK_COLUMNS = (
    Column(head="week of", width=10),
    Column(head="load", width=22),
    Column(head="hours", width=12, is_right=True),
    Column(head="cars", width=16, grow=1),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A visit in the list, booked or proposed.

    `closes`: each job by title, and the day its window closes. `told`: its jobs in plain words.
    """

    key: str
    on: date
    is_booked: bool
    items: tuple[ItemId, ...]
    hours: float
    what: str
    closes: tuple[tuple[str, date], ...]
    told: tuple[str, ...]

    def past_on(self, day: date) -> tuple[tuple[str, date], ...]:
        """Give what has gone past its window by a day, and would not on the day it stands on."""
        return tuple((name, closes) for name, closes in self.closes if self.on <= closes < day)


def shown_visits(found: CarVisits) -> tuple[Shown, ...]:
    """Give the visits of a car by day."""
    of_car = found.of_car
    visits = [
        Shown(
            key=f"proposed {visit.on}",
            on=visit.on,
            is_booked=False,
            items=tuple(of_car.items[each.item].id for each in visit.doings),
            hours=visit.hours,
            what=", ".join(
                dict.fromkeys(of_car.items[each.item].rule.title for each in visit.doings)
            ),
            closes=_together([(of_car.items[each.item], each.closes_on) for each in visit.doings]),
            told=tuple(words.lines(visit, of_car)),
        )
        for visit in found.plan.visits
    ]
    for each in found.booked:
        jobs = [item for item in found.today.items if item.id in each.items]
        titles = tuple(dict.fromkeys(words.title(item) for item in jobs))
        visits.append(
            Shown(
                key=f"booked {each.record}",
                on=each.on,
                is_booked=True,
                items=each.items,
                hours=found.hours[each.record],
                what=", ".join(titles) or "whatever is due then",
                closes=_together(
                    [
                        (item, closes)
                        for item in jobs
                        if (closes := closes_of(item, found.today)) is not None
                    ]
                ),
                told=titles,
            )
        )
    return tuple(sorted(visits, key=lambda each: (each.on, each.key)))


def _together(jobs: Sequence[tuple[Item, date]]) -> tuple[tuple[str, date], ...]:
    """Give jobs with the day each closes, those alike as one."""
    places: dict[tuple[str, date], list[str]] = {}
    for item, closes in jobs:
        here = places.setdefault((item.rule.title, closes), [])
        if item.place is not None:
            here.append(str(item.place))
    return tuple((titled(title, " ".join(at)), closes) for (title, closes), at in places.items())


def visit_line(visit: Shown, day: date) -> Line:
    """Give the row of a visit, on the day tried for it."""
    mark = "to " if day != visit.on else ""
    return Line(
        key=visit.key,
        cells=(
            f"{mark}{day:%a} {day}",
            "booked" if visit.is_booked else "proposed",
            str(len(visit.items)) if visit.items else "-",
            figures.hours(visit.hours),
            visit.what,
        ),
        color="due" if visit.is_booked else "text",
        name=visit.what,
    )


def week_line(week: Week, found: GarageWeeks) -> Line:
    """Give the row of a week: its load as a strip, and the cars that come in."""
    cars = found.in_week(week.monday)
    booked = found.booked_hours.get(week.monday, 0.0)
    return Line(
        key=week.monday.isoformat(),
        cells=(
            week.monday.isoformat(),
            f"[{words.bar(week, booked)}]",
            f"{week.hours:.1f} of {week.capacity:.0f}",
            ", ".join(f"{each.slug} {each.on:%a}" for each in cars) or "-",
        ),
        name=" ".join(each.slug for each in cars),
    )
