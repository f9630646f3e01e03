"""Whether a car may rotate, in few words: a cell of a list, a row under it."""

from collections.abc import Iterable, Sequence

from castlenut.domain.tires.reasons import (
    Answer,
    AxleNotKnown,
    Code,
    OwnNotKnown,
    Reason,
    SpareStays,
)
from castlenut.domain.tires.today import TiresToday
from castlenut.words.reasons import sentence, telling

WARNED = "yes, with a warning"
_AGAINST = {
    Code.TEMPORARY: "temporary spare",
    Code.SIZE: "sizes differ",
    Code.CONSTRUCTION: "constructions differ",
    Code.RIM_WIDTH: "rim widths differ",
    Code.RIM_DIAMETER: "rim diameters differ",
    Code.OFFSET: "offsets differ",
    Code.DIRECTION: "tires turn one way only",
    Code.WORN_IN: "studs keep their side",
    Code.LOAD: "carries too little",
    Code.SPEED: "too slow a tire",
    Code.WORN: "worn to the limit",
    Code.AGE: "spare too old",
    Code.TREAD_DIFFERENCE: "treads too far apart",
    Code.SPARE: "the spare stays",
    Code.PAIR: "duals do not pair",
    Code.FRONT_TREAD: "front and rear treads differ",
}
_NAMES = {
    Code.DIRECTION: "direction",
    Code.WORN_IN: "side run on",
    Code.LOAD: "load index",
    Code.SPEED: "speed symbol",
    Code.WORN: "depth",
    Code.TREAD_DIFFERENCE: "depth",
    Code.PAIR: "depth",
    Code.FRONT_TREAD: "tread or service",
}

_MISSING = {
    Code.DIRECTION: "tread pattern or direction",
    Code.WORN_IN: "the side run on",
    Code.LOAD: "load index",
    Code.SPEED: "speed symbol",
    Code.WORN: "tread depth",
    Code.TREAD_DIFFERENCE: "tread depth",
    Code.PAIR: "tread depth",
    Code.FRONT_TREAD: "tread or service",
    Code.SPARE: "whether the spare may go on the road",
}


def may_it_go(answer: Answer, reasons: Iterable[Reason], *, is_warned: bool = False) -> str:
    """Say whether moves may be done: `yes`, `no: sizes differ`, `not known: offset`."""
    if answer is Answer.YES:
        return WARNED if is_warned else "yes"
    return f"{answer.value}: {against(reasons)}"


def against(reasons: Iterable[Reason]) -> str:
    """Name what stands against: of what is a no, those alone; each thing once.

    That the spare stays follows from what is against it and is left out beside that.
    """
    found = telling(reasons)
    is_no = any(each.answer is Answer.NO for each in found)
    told = dict.fromkeys(
        _in_few_words(each)
        for each in found
        if (each.answer is Answer.NO or not is_no)
        and not (isinstance(each.detail, SpareStays) and len({one.code for one in found}) > 1)
    )
    return ", ".join(told)


def none_in_short(tires: TiresToday) -> str:
    """Say in few words that no rotation is possible; empty where one is."""
    found = tires.none_possible
    return f"rotation: none possible, because {against(found)}" if found else ""


def no_rotation(reasons: Sequence[Reason]) -> str:
    """Say why no rotation is possible, each thing once; of what is not known its name alone."""
    if not reasons:
        return ""
    if any(each.answer is Answer.NO for each in reasons):
        return f"rotation: none possible, because {against(reasons)}"
    missing = list(dict.fromkeys(_MISSING.get(each.code, each.code.value) for each in reasons))
    listed = " and ".join(part for part in (", ".join(missing[:-1]), missing[-1]) if part)
    verb = "is" if len(missing) == 1 else "are"
    return f"rotation: none possible, because {listed} {verb} not known"


def rotation_row(tires: TiresToday) -> str:
    """Say in one row how a car may be rotated: the usual pattern, else those left and why.

    Empty where no tire is on the car.
    """
    if tires.none_possible:
        return none_in_short(tires)
    left = [each.pattern.value for each in tires.left] or [
        exchange.value for exchange, each in tires.exchanges.items() if each.answer is Answer.YES
    ]
    habit = tires.verdict_on(tires.usual)
    if not left or habit is None:
        return ""
    if tires.exchanges or habit.answer is Answer.YES:
        return f"rotation: {', '.join(left) if tires.exchanges else habit.pattern.value}"
    return f"rotation: {', '.join(left)} ({against(habit.reasons)})"


def _in_few_words(reason: Reason) -> str:
    if reason.code is Code.PLACE:
        return sentence(reason).rstrip(".").replace("There is", "there is")
    if reason.answer is Answer.NOT_KNOWN:
        name: str = _NAMES.get(reason.code, reason.code.value)
        match reason.detail:
            case OwnNotKnown():
                return f"{name} of {reason.start.value}"
            case AxleNotKnown(missing=missing) if missing:
                return f"{name} of {' '.join(missing)}"
            case _:
                return name
    return _AGAINST[reason.code]
