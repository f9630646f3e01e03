"""What can be chosen on the page of tires: every way to move the wheels, and whether it may be."""

from collections.abc import Mapping
from dataclasses import dataclass

from castlenut.domain.place import Spot
from castlenut.domain.tires.advice import TreadsApart
from castlenut.domain.tires.exchanges import exchange_moves
from castlenut.domain.tires.reasons import Answer, Reason
from castlenut.domain.tires.rotation.moves import MOVES
from castlenut.domain.tires.today import TiresToday
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words.in_short import may_it_go
from castlenut.words.states import MAY_BE_DUE

COLUMNS = (
    Column(head="pattern", width=18),
    Column(head="may it go?", width=9, grow=1),
)
NARROW_COLUMNS = (Column(head="pattern", width=18), Column(head="may it?", width=9, grow=1))
EMPTY = "No tire is recorded: f fits one"
_COLORS = {Answer.YES: "ahead", Answer.NO: "quiet", Answer.NOT_KNOWN: "no-record"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A pattern, or an exchange of dual wheels; `moves` tells where each wheel goes."""

    name: str
    moves: Mapping[Spot, Spot]
    answer: Answer
    reasons: tuple[Reason, ...]
    off_rim: tuple[str, ...]


def choices(tires: TiresToday) -> tuple[Choice, ...]:
    """Give all there is to choose, the usual one first; blocked ones, too."""
    patterns = sorted(tires.patterns, key=lambda each: each.pattern is not tires.usual)
    return (
        *(
            Choice(
                name=exchange.value,
                moves=exchange_moves(exchange),
                answer=verdict.answer,
                reasons=verdict.reasons,
                off_rim=(),
            )
            for exchange, verdict in tires.exchanges.items()
        ),
        *(
            Choice(
                name=each.pattern.value,
                moves=MOVES[each.pattern],
                answer=each.answer,
                reasons=each.reasons,
                off_rim=each.off_rim,
            )
            for each in patterns
            if not tires.exchanges
        ),
    )


def rows_of(tires: TiresToday, *, is_narrow: bool) -> tuple[Line, ...]:
    """Give a row a choice; a narrow one has the bare answer, the reasons stand below."""
    is_warned = any(isinstance(each, TreadsApart) for each in tires.advice)
    return tuple(
        Line(
            key=each.name,
            cells=(
                _in_short(each.name),
                _bare(each, is_warned=is_warned)
                if is_narrow
                else may_it_go(each.answer, each.reasons, is_warned=is_warned),
            ),
            color=_COLORS[each.answer],
            name=each.name,
        )
        for each in choices(tires)
    )


def _bare(choice: Choice, *, is_warned: bool) -> str:
    is_minded = is_warned and choice.answer is Answer.YES
    return f"{choice.answer.value} {MAY_BE_DUE.mark}" if is_minded else choice.answer.value


def _in_short(name: str) -> str:
    """Leave the cross out of the names of five tires: those of four are crosses, too."""
    return name.removesuffix(" cross") if name.startswith("five-tire") else name
