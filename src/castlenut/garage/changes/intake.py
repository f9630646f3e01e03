"""Taking a car on with no history: a line an answer, for a kind of part or one item."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import partial

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.happenings import Answer
from castlenut.domain.ids import RuleId
from castlenut.domain.item import Item
from castlenut.domain.naming import choose, find_items
from castlenut.domain.place import Place, lies_in, place
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.vehicle import Use
from castlenut.garage import entry
from castlenut.garage.changes.fitting import Fitting, add_component
from castlenut.garage.changes.placing import find_kind, read_places
from castlenut.garage.drafting import NOT_KNOWN, DialThen, Drafting, iso, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.values import Value

_ANSWERS = {each.value: each for each in Answer}
_USE_WORDS = 2
_ASKED_USE = (
    "how is the car used: daily, seasonal, occasional or stored? a line use WORD says so; it may"
    " stay open"
)
_MOST_WORDS = 4  # in the name of a kind, or another word for it
_DATE_LIKE = re.compile(r"\d{4}-\d|[+-]?\d+[dwmy]$|[a-z]|\d{1,2}-\d{1,2}$")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """One line parted: what it is about, where, the answer and the words behind it."""

    about: str
    places: str
    answer: Answer
    rest: Sequence[str]


def draft_intake(garage: Garage, slug: str, lines: Iterable[str]) -> Draft:
    """Record what is known of a car at intake, all good lines as one change.

    A line is `KIND PLACE stated ON AT`, `... inspected UNTIL`, `... unknown` or `... n/a WHY`. KIND
    may be two words or another word for it, or an item; PLACE `-` is no place. A kind that is
    answered and not on the record becomes a part fitted nobody knows when, unless it does not
    apply. A line `use daily` (seasonal, occasional, stored) tells how the car is used; as long as
    nobody has, it is asked for. Bad lines are in the draft's `faults` with their numbers.
    """
    new = Drafting(garage, slug)
    is_use_told = new.car.vehicle.use is not None
    bad: list[Fault] = []
    fitted: set[tuple[str, Place | None]] = set()
    count = 0
    for line_number, line in enumerate(lines, start=1):
        text = line.strip()
        if not text or text.startswith("#"):
            continue
        try:
            if _is_use(text):
                new.whole(partial(_tell_use, new, text))
                is_use_told = True
            else:
                new.whole(partial(_answer, new, text, fitted))
            count += 1
        except BadInput as refused:
            bad.extend(
                replace(each, where=f"line {line_number}, {each.where}") for each in refused.faults
            )
    draft = new.draft(f"intake: {count} answered")
    asked = () if is_use_told else (_ASKED_USE,)
    return replace(draft, faults=tuple(bad), told=(*draft.told, *map(str, bad), *asked))


def _is_use(text: str) -> bool:
    words = text.split()
    return words[0].lower() == "use" and len(words) <= _USE_WORDS


def _tell_use(new: Drafting, text: str) -> None:
    told = text.split()[1:]
    use = choose(told[0] if told else "", [each.value for each in Use], what="use")
    new.amend("vehicle", new.car.vehicle.record, {"use": use})


def _parted(text: str, book: RuleBook) -> _Line:
    words = text.split()
    at = next((n for n, word in enumerate(words) if word.lower() in _ANSWERS and n > 0), None)
    if at is None:
        raise BadInput(
            Fault(
                f"{text!r} has no answer",
                "answer",
                "write KIND PLACE and then stated, inspected, unknown or n/a",
            )
        )
    head = words[:at]
    length = _kind_length(head, book)
    return _Line(
        about=" ".join(head[:length]),
        places=" ".join(head[length:]) or "-",
        answer=_ANSWERS[words[at].lower()],
        rest=words[at + 1 :],
    )


def _kind_length(head: Sequence[str], book: RuleBook) -> int:
    """Give how many words name the kind: the longest that is one, else the first word alone."""
    known = {
        word.lower() for kind in book.kinds.values() for word in (kind.name, *kind.also_called)
    }
    for length in range(min(len(head), _MOST_WORDS), 1, -1):
        if " ".join(head[:length]).lower() in known:
            return length
    if len(head) > 1 and not _is_place(head[1]) and head[0].lower() not in known:
        # a kind of several words mistyped: take up to what looks like a place
        return next((n for n, word in enumerate(head) if n and _is_place(word)), len(head))
    return 1


def _is_place(word: str) -> bool:
    try:
        return all(
            each.lower() == "all" or place(each) is not None for each in word.split(",")
        ) or (word == "-")
    except BadInput:
        return word == "-"


def _answer(new: Drafting, text: str, fitted: set[tuple[str, Place | None]]) -> None:
    book = new.garage.book
    line = _parted(text, book)
    values = _values(new, line)
    if (items := _items(new, line, book)) is not None:
        for item in items:
            new.add("statement", {"item": str(item.id), **_placed(item.place), **values})
        return
    kind = find_kind(line.about, book)
    of = book.kinds[kind]
    is_everywhere = line.places == "-" and line.answer is Answer.NOT_APPLICABLE
    standing = (None,) if is_everywhere else read_places(line.places, of, dual=new.car.vehicle.dual)
    for at in standing:
        new.add("statement", {"kind": kind, **_placed(at), **values})
        if line.answer is Answer.NOT_APPLICABLE or (kind, at) in fitted:
            continue
        if not _is_there(new, kind, at):
            nobody_knows = Fitting(on=None, then=DialThen(at=None, is_estimated=False), job=None)
            add_component(new, of, at, {}, nobody_knows)
        fitted.add((kind, at))


def _items(new: Drafting, line: _Line, book: RuleBook) -> Sequence[Item] | None:
    """Give the items that a line names by their rule; None: it names a kind.

    A kind's own name goes before a rule of the same name, and the rule's id, written as it stands,
    before another way to write the kind.
    """
    rule = RuleId(line.about.partition("@")[0].partition("~")[0])
    if line.about.lower() in book.kinds or rule not in book.rules:
        return None
    if all(item.id.rule != rule for item in new.items.items) and rule == line.about:
        return None
    found = find_items(line.about, new.items.items)
    if line.places == "-":
        return found
    wanted = [place(each.strip()) for each in line.places.split(",")]
    here = [item for item in found if any(lies_in(item.place, each) for each in wanted)]
    if not here:
        raise BadInput(
            Fault(f"{rule} has no item at {line.places}", "place", "name a place it has")
        )
    return here


def _placed(at: Place | None) -> Mapping[str, Value]:
    return {} if at is None else {"place": str(at)}


def _is_there(new: Drafting, kind: str, at: Place | None) -> bool:
    return any(
        part.kind == kind and (at is None or lies_in(part.place_on(new.today), at))
        for part in new.car.fitted(new.today)
    )


def _values(new: Drafting, line: _Line) -> dict[str, Value]:
    rest = list(line.rest)
    match line.answer:
        case Answer.STATED:
            on, at = _stated(new, rest)
            return {"answer": line.answer.value, "on": iso(on), "at": number(at)}
        case Answer.INSPECTED:
            until, until_at = _until(new, rest)
            return {
                "answer": line.answer.value,
                "on": iso(new.today),
                "until": iso(until),
                "until_at": number(until_at),
            }
        case Answer.UNKNOWN:
            _only(rest, 0)
            return {"answer": line.answer.value}
        case Answer.NOT_APPLICABLE:
            if not rest:
                raise BadInput(Fault("no reason is given", "n/a", "say why it does not apply"))
            return {"answer": line.answer.value, "why": " ".join(rest)}


def _stated(new: Drafting, rest: list[str]) -> tuple[date | None, Decimal | None]:
    """Read `ON AT`, either may be `-` or missing; a figure alone is what the dial showed."""
    _only(rest, 2)
    if len(rest) == 1 and not _looks_like_day(rest[0]):
        rest = ["-", rest[0]]
    on = at = None
    if rest and rest[0].lower() not in NOT_KNOWN:
        on = entry.day(rest[0], today=new.today, past=True, field="stated on")
        new.check_made(on, field="stated on")
    if len(rest) > 1 and rest[1].lower() not in NOT_KNOWN:
        at = _figure(new, rest[1], field="stated at")
    return on, at


def _until(new: Drafting, rest: list[str]) -> tuple[date | None, Decimal | None]:
    """Read up to when what was seen is good: a day, what the dial will show, or both."""
    _only(rest, 2)
    until: date | None = None
    until_at: Decimal | None = None
    for word in rest:
        if word.lower() in NOT_KNOWN:
            continue
        if _looks_like_day(word):
            until = entry.day(word, today=new.today, past=False, field="inspected until")
        else:
            until_at = _figure(new, word, field="inspected until")
    if until is None and until_at is None:
        raise BadInput(
            Fault("no end is given", "inspected", "give until when it is good: a day or a distance")
        )
    if until is not None and until < new.today:
        raise BadInput(
            Fault(f"{until.isoformat()} is past", "inspected", "give a day to come, or a distance")
        )
    return until, until_at


def _looks_like_day(word: str) -> bool:
    return _DATE_LIKE.match(word.lower()) is not None and not word.lower().endswith(("mi", "km"))


def _figure(new: Drafting, word: str, *, field: str) -> Decimal:
    dial = new.car.vehicle.dial
    return entry.on_dial(entry.distance(word, dial, field=field), dial)


def _only(rest: Sequence[str], most: int) -> None:
    if len(rest) > most:
        raise BadInput(
            Fault(
                f"{' '.join(rest[most:])!r} is too much", "answer", "see intake --help for its form"
            )
        )
