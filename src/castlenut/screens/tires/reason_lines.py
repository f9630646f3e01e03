"""Why wheels may not go somewhere, in lines as wide as there is room: every reason and its lift."""

from collections.abc import Iterable, Iterator, Sequence

from castlenut.domain.tires.reasons import Answer, Reason
from castlenut.domain.tires.today import TiresToday
from castlenut.domain.vehicle import Drive
from castlenut.screens.tires.choices import Choice
from castlenut.screens.widgets.cells import wrapped
from castlenut.words import reasons
from castlenut.words.states import MAY_BE_DUE

_INDENT = 2
_DRIVES = {
    Drive.FRONT: "front-wheel drive",
    Drive.REAR: "rear-wheel drive",
    Drive.ALL: "all-wheel drive",
}


def why(choice: Choice, tires: TiresToday, width: int) -> tuple[str, ...]:
    """Give all reasons against a choice; of one that may be done, what to mind."""
    return tuple(line for told in _paragraphs(choice, tires) for line in _hanging(told, width))


def _paragraphs(choice: Choice, tires: TiresToday) -> Iterator[str]:
    if choice.answer is Answer.YES:
        habit = f" It is the usual one for {_DRIVES[tires.driven]}."
        yield f"Nothing stands against it.{habit if choice.name == tires.usual.value else ''}"
    else:
        yield from _against(choice.reasons)
        if choice.off_rim:
            off = reasons.off_rim(choice.off_rim)
            yield f"{off[0].upper()}{off[1:]}."
    for each in tires.advice:
        yield f"{MAY_BE_DUE.mark} {reasons.advised(each)}"


def _against(found: Sequence[Reason]) -> Iterator[str]:
    """Give each sentence once; after those that one thing lifts, what that is."""
    for lift in dict.fromkeys(reasons.lift(each) for each in found):
        yield from dict.fromkeys(
            reasons.sentence(each) for each in found if reasons.lift(each) == lift
        )
        yield f"Lifted by: {lift}."


def _hanging(told: str, width: int) -> Iterator[str]:
    first, *more = wrapped(told, width) or [""]
    yield first
    yield from (f"{'':{_INDENT}}{line}" for line in wrapped(" ".join(more), width - _INDENT))


def fitted(lines: Sequence[str], height: int, *, more: str) -> Iterable[str]:
    """Give as many lines as there is room for; `more` says how the rest is seen."""
    if len(lines) <= height:
        return lines
    left = len(lines) - max(height - 1, 0)
    return (*lines[: max(height - 1, 0)], f"... {left} more lines: {more}")[: max(height, 0)]
