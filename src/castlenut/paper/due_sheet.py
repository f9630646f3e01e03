"""The due sheet: one page for the counter, what must be done, what may wait, what nobody knows."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId
from castlenut.domain.item import Item
from castlenut.domain.naming import unique_name
from castlenut.domain.on_hand import Needed
from castlenut.domain.order import Row, rows
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.visits.of_car import needed
from castlenut.domain.working import State
from castlenut.paper.head import cannot_be_done, cautions_of, row_title
from castlenut.paper.paper import Head, Kind, Line, Paper, Section
from castlenut.words import figures, states
from castlenut.words.listing import due_point, how_it_stands, titled

SIGNATURES = ("agreed by the owner, and on which day", "for the garage")
_RANK_OF_OTHERS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Money:
    """What an hour costs; without a rate no money is shown."""

    rate: Decimal | None
    currency: str

    def words(self, hours: Decimal) -> str:
        """Give what hours of work cost; empty where no rate is set."""
        if self.rate is None:
            return ""
        return figures.in_currency(self.rate * hours, self.currency)


def due_sheet(
    today: CarToday, head: Head, parts: Sequence[Needed], *, book: RuleBook, money: Money
) -> Paper:
    """Put the due sheet of a car together; the owner's own checks stand in his book."""
    items = [item for item in today.items if item.is_open or item.may_be is not None]
    items = [item for item in items if not item.rule.is_own_check]
    numbers = _numbers(parts)

    def lines(wanted: Callable[[Item], bool]) -> tuple[Line, ...]:
        found = rows([item for item in items if wanted(item)])
        return tuple(_line(row, today, numbers, money) for row in found)

    now = [item for item in items if item.state in _NOW or _may_be_due(item)]
    return Paper(
        kind=Kind.DUE_SHEET,
        head=head,
        sections=(
            Section(
                title="Overdue",
                lines=lines(lambda item: item.state is State.OVERDUE),
                empty="Nothing is overdue.",
            ),
            Section(
                title="Due now",
                lines=lines(lambda item: item.state is State.DUE),
                empty="Nothing is due now.",
            ),
            Section(title="May be due", lines=lines(_may_be_due)),
            Section(title="No record: nobody knows", lines=tuple(_unknown(items, money))),
            Section(
                title="Declined: you said no",
                lines=lines(lambda item: item.state is State.DECLINED),
            ),
            cannot_be_done(today),
            Section(title="In all", lines=tuple(_in_all(now, today, book, money))),
        ),
        signatures=SIGNATURES,
        cautions=cautions_of(now),
    )


_NOW = frozenset({State.OVERDUE, State.DUE})


def _may_be_due(item: Item) -> bool:
    return item.state is State.AHEAD and item.may_be is not None


def _numbers(parts: Sequence[Needed]) -> Mapping[ItemId, list[str]]:
    """Give the parts of each item in words: `oil filter QF 11`."""
    found: dict[ItemId, list[str]] = {}
    for each in parts:
        told = f"{each.part} {each.number}" if each.number else each.part
        for item in each.items:
            known = found.setdefault(item.id, [])
            if told not in known:
                known.append(told)
    return found


def _line(row: Row, today: CarToday, numbers: Mapping[ItemId, Sequence[str]], money: Money) -> Line:
    item, dial = row.first, today.car.vehicle.dial
    stands = how_it_stands(item, dial, today=today.today)
    point = ", ".join(part for part in (due_point(item, dial), stands) if part)
    told = [states.BEFORE_IT_ROLLS if item.before_it_rolls else point]
    if item.declined is not None and item.state is State.DECLINED:
        who = f" by {item.declined.who}" if item.declined.who else ""
        told = [f"said no on {item.declined.on.isoformat()}{who}; it stays counted"]
    wanted = list(dict.fromkeys(each for one in row.items for each in numbers.get(one.id, ())))
    if wanted:
        told.append(f"parts: {', '.join(wanted)}")
    told.append(_work(row.items, money))
    return Line(
        what=row_title(row),
        told=tuple(part for part in told if part),
        items=tuple(unique_name(each) for each in row.items),
    )


def _hours(items: Sequence[Item]) -> Decimal:
    exact = sum(item.rule.hours for item in items)
    return Decimal(exact.numerator) / exact.denominator


def _work(items: Sequence[Item], money: Money) -> str:
    hours = _hours(items)
    if not hours:
        return ""
    return ", ".join(part for part in (figures.hours(hours), money.words(hours)) if part)


def _unknown(items: Sequence[Item], money: Money) -> Iterator[Line]:
    """Give what has no record, by how soon it must be known: one line for each."""
    by_rank: dict[int, list[Item]] = {}
    for item in items:
        if item.state is State.NO_RECORD:
            by_rank.setdefault(item.rank or _RANK_OF_OTHERS, []).append(item)
    for rank, those in sorted(by_rank.items()):
        places: dict[str, dict[str, None]] = {}
        for item in those:
            at = places.setdefault(item.rule.title, {})
            at.update({} if item.place is None else {str(item.place): None})
        names = "; ".join(titled(title, " ".join(at)) for title, at in places.items())
        yield Line(
            what=states.RANKS[rank],
            told=tuple(part for part in (names, _work(those, money)) if part),
            items=tuple(unique_name(each) for each in those),
        )


def _in_all(items: Sequence[Item], today: CarToday, book: RuleBook, money: Money) -> Iterator[Line]:
    """Give the hours of what is or may be due, and what it costs; opening counts once."""
    if not items:
        return
    work = _hours(items)
    opened = dict.fromkeys(one for item in items for one in needed(item, today, book))
    exact = sum(book.accesses[one.key].hours for one in opened)
    opening = Decimal(exact.numerator) / exact.denominator
    total = work + opening
    cost = money.words(total)
    yield Line(
        what=f"what is or may be due: work {figures.hours(work)}, opening and closing"
        f" {figures.hours(opening)}, in all {figures.hours(total)}",
        told=(f"{cost}, parts not counted",) if cost else (),
    )
