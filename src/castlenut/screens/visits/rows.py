"""Rows of a car's visits: by day, and the jobs of one of them."""

from collections.abc import Container, Iterator, Sequence
from datetime import date

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId
from castlenut.domain.item import Item
from castlenut.domain.naming import unique_name
from castlenut.domain.vehicle import VisitRecord
from castlenut.domain.visits.plan import NotKept
from castlenut.domain.window_days import window_days
from castlenut.garage.visits import CarVisits
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words import car_visits as words
from castlenut.words import figures
from castlenut.words.listing import titled
from castlenut.words.visits import not_kept

VISIT_COLUMNS = (
    Column(head="day", width=17),
    Column(head="", width=9),
    Column(head="jobs", width=5, is_right=True),
    Column(head="takes", width=7, is_right=True),
    Column(head="what", width=20, grow=1),
)
JOB_COLUMNS = (
    Column(head="job", width=20, grow=2),
    Column(head="closes", width=10, narrow=5),
    Column(head="why then", width=24, grow=3),
)
CANNOT_SHOWN = 3
"""Rows of what cannot be kept that are shown in the list; the others are told under w."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JobShown:
    """A job in a visit. `closes` None: no day is known. `told`: why then, in plain words."""

    item: Item
    closes: date | None
    told: str

    @property
    def key(self) -> str:
        """Give the key of its row."""
        return str(self.item.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A visit in the list, booked or proposed, with its jobs. `record`: of a booked one."""

    key: str
    on: date
    record: VisitRecord | None
    hours: float
    jobs: tuple[JobShown, ...]
    is_past: bool = False

    @property
    def is_booked(self) -> bool:
        """Tell whether it is agreed."""
        return self.record is not None

    @property
    def items(self) -> tuple[ItemId, ...]:
        """Give what is done in it."""
        return tuple(each.item.id for each in self.jobs)

    @property
    def names(self) -> list[str]:
        """Give what is done in it by names as they are typed."""
        return [unique_name(each.item) for each in self.jobs]

    @property
    def what(self) -> str:
        """Give the titles of its jobs, each once."""
        titles = dict.fromkeys(each.item.rule.title for each in self.jobs)
        return ", ".join(titles) or "whatever is due then"

    def past_on(self, day: date) -> tuple[tuple[str, date], ...]:
        """Give what has gone past its window by a day, and would not on the day it stands on."""
        places: dict[tuple[str, date], list[str]] = {}
        for each in self.jobs:
            if each.closes is not None and self.on <= each.closes < day:
                here = places.setdefault((each.item.rule.title, each.closes), [])
                if each.item.place is not None:
                    here.append(str(each.item.place))
        return tuple((titled(name, " ".join(at)), closes) for (name, closes), at in places.items())


def shown_visits(found: CarVisits) -> tuple[Shown, ...]:
    """Give the visits of a car by day: what waits to be told done, what is booked, proposed."""
    of_car = found.of_car
    visits = [
        Shown(
            key=f"proposed {visit.on}",
            on=visit.on,
            record=None,
            hours=visit.hours,
            jobs=tuple(
                JobShown(
                    item=of_car.items[each.item],
                    closes=each.closes_on,
                    told=words.plainly(each, visit, of_car),
                )
                for each in sorted(visit.doings, key=lambda each: each.closes_on)
            ),
        )
        for visit in found.plan.visits
    ]
    visits += [
        Shown(
            key=f"booked {each.record}",
            on=each.on,
            record=each,
            hours=found.hours[each.record],
            jobs=tuple(_booked_jobs(each, found.today)),
            is_past=each in found.waiting,
        )
        for each in (*found.waiting, *found.booked)
    ]
    return tuple(sorted(visits, key=lambda each: (each.on, each.key)))


def _booked_jobs(record: VisitRecord, today: CarToday) -> Iterator[JobShown]:
    for item in today.items:
        if item.id in record.items:
            closes = window_days(item, today).closes
            is_late = closes is not None and closes < record.on
            told = "booked, past its window by then" if is_late else "booked"
            yield JobShown(item=item, closes=closes, told=told)


def cannot_lines(found: CarVisits) -> Iterator[Line]:
    """Give what cannot be kept, alike together, as first rows of the list."""
    told = cannot_told(found)
    for number, sentence in enumerate(told[:CANNOT_SHOWN]):
        more = len(told) - CANNOT_SHOWN
        is_last = number == CANNOT_SHOWN - 1 and more > 0
        text = f"!! {more + 1} more past their windows: w tells" if is_last else f"!! {sentence}"
        yield Line(
            key=f"cannot {number}", cells=(text,), color="overdue", name=sentence, spans=True
        )


def cannot_told(found: CarVisits) -> list[str]:
    """Give a sentence for what cannot be kept, those alike as one."""
    items = found.of_car.items
    alike: dict[tuple[str, date, date | None], list[NotKept]] = {}
    for each in found.plan.cannot:
        key = (items[each.item].rule.title, each.closes_on, each.planned_on)
        alike.setdefault(key, []).append(each)
    sentences = []
    for (name, _, _), group in alike.items():
        places = " ".join(
            str(items[each.item].place) for each in group if items[each.item].place is not None
        )
        first = group[0]
        called = {first.item: titled(name, places)}
        sentences.append(not_kept(first, found.of_car.line, called))
    return sentences


def visit_line(visit: Shown, day: date, *, booked: Container[date] = ()) -> Line:
    """Give the row of a visit, on the day tried for it; one proposed for a `booked` day adds."""
    mark = "to " if day != visit.on else ""
    state = "booked" if visit.is_booked else "to add" if day in booked else "proposed"
    return Line(
        key=visit.key,
        cells=(
            f"{mark}{day:%a} {day}",
            "not done?" if visit.is_past else state,
            str(len(visit.jobs)) if visit.jobs else "-",
            figures.hours(visit.hours),
            visit.what,
        ),
        color="overdue" if visit.is_past else "due" if visit.is_booked else "text",
        name=visit.what,
    )


def job_lines(jobs: Sequence[JobShown]) -> Iterator[Line]:
    """Give the rows of a visit's jobs."""
    for each in jobs:
        yield Line(
            key=each.key,
            cells=(
                words.title(each.item),
                "-" if each.closes is None else each.closes.isoformat(),
                each.told,
            ),
            name=each.item.rule.title,
            sought=each.item.component.kind,
        )
