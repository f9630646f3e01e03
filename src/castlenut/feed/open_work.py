"""What is open from before this week: one event a week, since a phone's list begins today."""

from collections.abc import Sequence
from datetime import date

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.working import State
from castlenut.feed.candidate import Candidate
from castlenut.feed.description import day
from castlenut.feed.event import LONGEST_SUMMARY, Occurrence
from castlenut.feed.text import cut, listed
from castlenut.words import figures

CATEGORY = "Open work"
_WORDS = {State.OVERDUE: "overdue", State.DUE: "due", State.DECLINED: "declined"}


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenOccurrence:
    """An open occurrence published before this week. `name` is its car's short name.

    `visit`: the day of the visit it stands in; it was to be published on `published` then.
    """

    name: str
    occurrence: Occurrence
    published: date
    visit: date | None = None

    @property
    def line(self) -> str:
        """Give the line it is listed by, in a feed of one car."""
        title = self.occurrence.title
        stands = f"visit {day(self.visit)}" if self.visit else day(self.published)
        return f"{_WORDS[self.occurrence.state]}: {title}, {stands}"


def unrecorded(car: CarToday) -> int:
    """Count the items with no record, the owner's own checks left aside."""
    if car.car.vehicle.sold_on is not None:
        return 0
    return sum(
        1 for item in car.items if item.state is State.NO_RECORD and not item.rule.is_own_check
    )


def open_work_candidate(
    uid: str,
    opened: Sequence[OpenOccurrence],
    no_record: int,
    *,
    name: str | None,
    monday: date,
    contact: Sequence[str],
    unread: Sequence[str] = (),
) -> Candidate:
    """Give the open work of a car, by its short name, or of the whole garage with `name` None.

    `unread` has the short names of cars that cannot be read: what is open on them is not known.
    """
    worst_first = sorted(
        opened,
        key=lambda each: (
            list(_WORDS).index(each.occurrence.state),
            each.occurrence.lead.rule.danger,
            each.published,
            each.name,
            each.occurrence.title,
        ),
    )
    lines = [each.line if name else f"{each.name}: {each.line}" for each in worst_first]
    last = [f"{each}: cannot be read now" for each in sorted(unread)]
    last += [f"{figures.count(no_record, 'item')} with no record"] if no_record else []
    return Candidate(
        uid=uid,
        on=monday,
        is_exact=True,
        days=7,
        summary=cut(_summary(worst_first, no_record, name, len(unread)), LONGEST_SUMMARY),
        category=CATEGORY,
        before=(*listed(lines), *last, *contact),
    )


def _summary(
    opened: Sequence[OpenOccurrence], no_record: int, name: str | None, unread: int
) -> str:
    counts = [
        f"{number} {word}"
        for state, word in _WORDS.items()
        if (number := sum(each.occurrence.state is state for each in opened))
        and (state is not State.DECLINED or len(opened) == number)
    ]
    told = ", ".join(counts) or (f"{no_record} with no record" if no_record else "")
    if name:
        return f"{name}: {told}"
    cars = len({each.occurrence.vehicle for each in opened})
    told = f"{told} on {figures.count(cars, 'car')}" if cars else told
    not_read = f"{figures.count(unread, 'car')} cannot be read" if unread else ""
    return ", ".join(part for part in (told, not_read) if part)
