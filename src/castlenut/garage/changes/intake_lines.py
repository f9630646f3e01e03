"""A line of the intake as typed: what it is about, where, the answer, and what the answer says."""

import re
from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.happenings import Answer
from castlenut.domain.place import place
from castlenut.domain.rules.rule import RuleBook
from castlenut.garage import entry
from castlenut.garage.drafting import NOT_KNOWN, Drafting, iso, number
from castlenut.store.values import Value

_ANSWERS = {each.value: each for each in Answer}
_MOST_WORDS = 4  # in the name of a kind, or another word for it
_DATE_LIKE = re.compile(r"\d{4}-\d|[+-]?\d+[dwmy]$|[a-z]|\d{1,2}-\d{1,2}$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line parted: what it is about, where, the answer and the words behind it."""

    about: str
    places: str
    answer: Answer
    rest: Sequence[str]


def parted(text: str, book: RuleBook) -> Line:
    """Part a line into what it is about, its places, the answer and the rest.

    Raises:
        BadInput: no answer stands in it.
    """
    head, answer, rest = answer_in(text)
    length = _kind_length(head, book)
    return Line(
        about=" ".join(head[:length]),
        places=" ".join(head[length:]) or "-",
        answer=answer,
        rest=rest,
    )


def answer_in(text: str) -> tuple[Sequence[str], Answer, Sequence[str]]:
    """Give the words before the answer of a line, the answer, and the words behind it.

    Raises:
        BadInput: no answer stands in it.
    """
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
    return words[:at], _ANSWERS[words[at].lower()], words[at + 1 :]


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


def answer_values(new: Drafting, answer: Answer, rest: Sequence[str]) -> dict[str, Value]:
    """Give what an answer puts on record, but for what it is about.

    Raises:
        BadInput: what stands behind the answer cannot be read, or is missing.
    """
    match answer:
        case Answer.STATED:
            on, at = _stated(new, rest)
            return {"answer": answer.value, "on": iso(on), "at": number(at)}
        case Answer.INSPECTED:
            until, until_at = _until(new, rest)
            return {
                "answer": answer.value,
                "on": iso(new.today),
                "until": iso(until),
                "until_at": number(until_at),
            }
        case Answer.UNKNOWN:
            _only(rest, 0)
            return {"answer": answer.value}
        case Answer.NOT_APPLICABLE:
            if not rest:
                raise BadInput(Fault("no reason is given", "n/a", "say why it does not apply"))
            return {"answer": answer.value, "why": " ".join(rest)}


def _stated(new: Drafting, rest: Sequence[str]) -> tuple[date | None, Decimal | None]:
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


def _until(new: Drafting, rest: Sequence[str]) -> tuple[date | None, Decimal | None]:
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
