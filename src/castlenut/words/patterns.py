"""Verdicts on patterns and moves: for other programs, and in lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from castlenut.domain.tires.exchanges import Exchange, MovesVerdict
from castlenut.domain.tires.legality import PatternVerdict, Verdict
from castlenut.domain.tires.reasons import Answer as May
from castlenut.domain.tires.reasons import Code, Reason
from castlenut.words import reasons

if TYPE_CHECKING:
    from castlenut.words.answers import Answer

_MAY = {May.YES: "yes", May.NO: "no", May.NOT_KNOWN: "not known"}
_WIDEST = 25


def verdict_answer(verdict: Verdict) -> dict[str, Answer]:
    """Give the verdict on one wheel going to one place."""
    return {
        "tire": verdict.tire,
        "to": verdict.to.value,
        "answer": verdict.answer.value,
        "reasons": [_reason(reason) for reason in verdict.reasons],
    }


def pattern_answer(verdict: PatternVerdict) -> dict[str, Answer]:
    """Give the verdict on a pattern, with every reason against every move of it."""
    return {
        "pattern": verdict.pattern.value,
        "answer": verdict.answer.value,
        "reasons": [
            {
                **_reason(reason),
                "tire": reason.tire,
                "from": reason.start.value,
                "to": reason.to.value,
            }
            for reason in verdict.reasons
        ],
        "off_rim": list(verdict.off_rim),
    }


def _reason(reason: Reason) -> dict[str, Answer]:
    return {
        "code": reason.code.value,
        "answer": reason.answer.value,
        "sentence": reasons.sentence(reason),
        "lift": reasons.lift(reason),
    }


def pattern_lines(
    patterns: Iterable[PatternVerdict], *, warned: str | None = None
) -> Iterator[str]:
    """Give each pattern with its answer, and under a blocked one every reason and what lifts it.

    Reasons that stand under a pattern above are not said again. `warned` is said in place of
    yes where something is to be minded, though it blocks nothing.
    """
    said: dict[tuple[str, ...], str] = {}
    for each in patterns:
        told = tuple(reason_lines(each.reasons, each.off_rim))
        may = warned if warned and each.answer is May.YES else _MAY[each.answer]
        yield f"  {each.pattern.value:<{_WIDEST}}{may}{_as_above(told, said)}"
        if told and told not in said:
            said[told] = each.pattern.value
            yield from (f"    {line}" for line in told)


def _as_above(told: tuple[str, ...], said: dict[tuple[str, ...], str]) -> str:
    return f": as {said[told]}" if told and told in said else ""


def reason_lines(found: Sequence[Reason], off_rim: tuple[str, ...] = ()) -> Iterator[str]:
    """Give every reason against moves, each sentence once, and after them what would lift them.

    Where tires taken off their rims would lift all of it, that alone is told. What is not known
    beside a plain no stands in one line.
    """
    noes = [reason for reason in found if reason.answer is May.NO]
    by_lift: dict[str, dict[str, None]] = {}
    for reason in noes or reasons.telling(found):
        lift = "" if off_rim else f"lifted by: {reasons.lift(reason)}"
        by_lift.setdefault(lift, {})[reasons.sentence(reason)] = None
    for lift, sentences in by_lift.items():
        yield from sentences
        if lift:
            yield lift
    unknown = [reason for reason in reasons.telling(found) if reason.answer is May.NOT_KNOWN]
    if noes and unknown:
        stems = dict.fromkeys(_stem(reasons.sentence(reason)) for reason in unknown)
        yield f"not known either: {'; '.join(stems)}"
    if off_rim:
        yield reasons.off_rim(off_rim)


def _stem(sentence: str) -> str:
    stem = sentence.rstrip(".").removesuffix(" is not known")
    is_place = stem.partition(" ")[0].isupper()
    return stem if is_place else f"{stem[0].lower()}{stem[1:]}"


def exchange_lines(exchanges: Mapping[Exchange, MovesVerdict]) -> Iterator[str]:
    """Give each way in which dual wheels change places, with every reason against it."""
    for exchange, verdict in exchanges.items():
        yield f"  {exchange.value:<{_WIDEST}}{_MAY[verdict.answer]}"
        yield from (f"    {line}" for line in reason_lines(verdict.reasons))


def exchange_answer(exchange: Exchange, verdict: MovesVerdict) -> dict[str, Answer]:
    """Give the verdict on a way in which dual wheels change places."""
    return {
        "exchange": exchange.value,
        "answer": verdict.answer.value,
        "moves": {start.value: to.value for start, to in verdict.moves.items()},
        "reasons": [_reason(each) for each in verdict.reasons],
    }


def one_a_code(found: Iterable[Reason]) -> tuple[str, ...]:
    """Give one sentence for each thing that stands against: the rest say the same of other wheels.

    What is missing for lack of a wheel (no spare) is left out where anything else is against.
    """
    by_code: dict[Code, str] = {}
    for reason in reasons.telling(found):
        by_code.setdefault(reason.code, reasons.sentence(reason))
    if len(by_code) > 1:
        by_code.pop(Code.PLACE, None)
    return tuple(by_code.values())


def left(patterns: Sequence[PatternVerdict]) -> tuple[PatternVerdict, ...]:
    """Give the patterns that may be done."""
    return tuple(each for each in patterns if each.answer is May.YES)


def count_left(patterns: Sequence[PatternVerdict]) -> str:
    """Say how many patterns are left, and which: `1 of 7: side to side`."""
    names = [each.pattern.value for each in left(patterns)]
    count = f"{len(names)} of {len(patterns)}"
    return f"{count}: {', '.join(names)}" if names else count


def fewer_left(before: Sequence[PatternVerdict], after: Sequence[PatternVerdict]) -> str:
    """Say what a change leaves of the patterns: `patterns left 5 -> 1, because ...`."""
    counts = f"patterns left {len(left(before))} -> {len(left(after))}"
    kept = {each.pattern for each in left(after)}
    lost = {each.pattern for each in left(before)} - kept
    against = one_a_code(
        reason for each in after if each.pattern in lost for reason in each.reasons
    )
    if not against:
        return counts
    return f"{counts}, because {'; '.join(each.rstrip('.') for each in against)}"


NO_SPARE = "No spare was given: the five-tire patterns need a full-size one like the others."
USUAL_BY_DRIVE = (
    "Usual: forward cross with front drive, rearward cross with rear or all-wheel drive."
)
