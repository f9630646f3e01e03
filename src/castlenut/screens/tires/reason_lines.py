"""Why wheels may not go somewhere, in lines as wide as there is room: every reason and its lift."""

from collections.abc import Iterable, Iterator, Sequence

from castlenut.domain.tires.reasons import Answer
from castlenut.domain.tires.today import TiresToday
from castlenut.domain.vehicle import Drive
from castlenut.screens.tires.choices import Choice
from castlenut.screens.widgets.cells import hanging
from castlenut.words import reasons
from castlenut.words.in_short import none_in_short
from castlenut.words.patterns import reason_lines
from castlenut.words.states import MAY_BE_DUE

_DRIVES = {
    Drive.FRONT: "front-wheel drive",
    Drive.REAR: "rear-wheel drive",
    Drive.ALL: "all-wheel drive",
}


def why(choice: Choice, tires: TiresToday, width: int, *, depth_unit: str) -> tuple[str, ...]:
    """Give all reasons against a choice; of one that may be done, what to mind."""
    return tuple(
        line
        for told in paragraphs(choice, tires, depth_unit=depth_unit)
        for line in hanging(told, width)
    )


def paragraphs(choice: Choice, tires: TiresToday, *, depth_unit: str) -> Iterator[str]:
    """Give each reason and each remark as a sentence; after those one thing lifts, what it is."""
    if tires.none_possible:
        yield f"{none_in_short(tires)}."
    if choice.answer is Answer.YES:
        habit = f" It is the usual one for {_DRIVES[tires.driven]}."
        yield f"Nothing stands against it.{habit if choice.name == tires.usual.value else ''}"
    else:
        yield from reason_lines(choice.reasons, choice.off_rim)
    for each in tires.advice:
        yield f"{MAY_BE_DUE.mark} {reasons.advised(each, depth_unit=depth_unit)}"


def fitted(lines: Sequence[str], height: int, *, more: str) -> Iterable[str]:
    """Give as many lines as there is room for; `more` says how the rest is seen."""
    if len(lines) <= height:
        return lines
    left = len(lines) - max(height - 1, 0)
    return (*lines[: max(height - 1, 0)], f"... {left} more lines: {more}")[: max(height, 0)]
