"""The job card: the points of a visit, with their limits and blank boxes, in access order."""

from collections.abc import Iterator, Sequence

from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.measures import MEASURES
from castlenut.domain.naming import unique_name
from castlenut.domain.order import Row, in_access_order
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.visits.of_car import needed
from castlenut.domain.working import Checked, Judged
from castlenut.paper.head import cautions_of, row_title
from castlenut.paper.paper import Head, Kind, Line, Paper, Section
from castlenut.words import steps
from castlenut.words.escape import one_line
from castlenut.words.listing import titled
from castlenut.words.sum_row import SumRow

SIGNATURES = ("dial shows", "done by, and on which day")


def job_card(today: CarToday, head: Head, items: Sequence[Item], *, book: RuleBook) -> Paper:
    """Put the job card for some items together; lines are numbered as the day's form has them."""
    found = in_access_order(items, book)
    return Paper(
        kind=Kind.JOB_CARD,
        head=head,
        sections=(
            Section(title="Opened for it", lines=tuple(_opened(items, today, book))),
            Section(
                title="Points",
                lines=tuple(_line(number, row, today) for number, row in enumerate(found, 1)),
                empty="Nothing is due.",
            ),
            Section(title="Found besides", lines=(Line(what="", boxes=("what, and where",)),)),
        ),
        signatures=SIGNATURES,
        cautions=cautions_of(items),
    )


def _opened(items: Sequence[Item], today: CarToday, book: RuleBook) -> Iterator[Line]:
    """Give what is opened, in the order of the table of accesses, each with its places."""
    places: dict[str, list[str]] = {}
    for one in dict.fromkeys(one for item in items for one in needed(item, today, book)):
        at = places.setdefault(one.key, [])
        at.extend([] if one.place is None else [str(one.place)])
    for key, access in book.accesses.items():
        if key in places:
            yield Line(what=titled(access.words, " ".join(places[key])))


def _line(number: int, row: Row, today: CarToday) -> Line:
    told = dict.fromkeys(each for item in row.items for each in _limits(item, today))
    return Line(
        number=number,
        what=row_title(row),
        told=tuple(told),
        boxes=tuple(box for item in row.items for box in _boxes(item)),
        items=tuple(unique_name(each) for each in row.items),
    )


def _limits(item: Item, today: CarToday) -> Iterator[str]:
    has_check = False
    for step in item.working:
        if isinstance(step, Judged):
            yield _measured(steps.judged(step, today.odometer.dial), item)
        elif isinstance(step, Checked):
            has_check = True
            yield steps.checked(step).remark
    if item.rule.check and not has_check:
        yield one_line(item.rule.check)


def _measured(row: SumRow, item: Item) -> str:
    place = "" if item.place is None else f"{item.place}: "
    when = " ".join(part for part in (row.distance, row.date) if part)
    return f"{place}{row.label}{f' {when}' if when else ''}; {row.remark}"


def _boxes(item: Item) -> Iterator[str]:
    place = "" if item.place is None else f"{item.place} "
    for step in item.working:
        if not isinstance(step, Judged):
            continue
        words = MEASURES[step.measure].words if step.measure in MEASURES else step.measure
        yield f"{place}{words} ({step.unit})"
    yield f"{place}done"
