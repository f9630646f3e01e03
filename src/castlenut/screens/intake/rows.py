"""What the rows of the intake say: how the car is built, and what is known of each kind of part."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from castlenut.domain.happenings import Answer
from castlenut.domain.intake import Asked
from castlenut.domain.ticks import TICKS, Tick
from castlenut.screens.widgets.columns import Column, Line

ANSWERS = (Answer.STATED, Answer.INSPECTED, Answer.UNKNOWN, Answer.NOT_APPLICABLE)
"""What can be said of a kind, in the order of the columns."""

TICK_COLUMNS = (
    Column(head="how it is built", width=20),
    Column(head="1 to 4 tick it, space the next", width=30, grow=1),
)
KIND_COLUMNS = (
    Column(head="kind", width=20),
    Column(head="where", width=5),
    Column(head="1 done", width=6),
    Column(head="2 seen", width=6),
    Column(head="3 ?", width=3),
    Column(head="4 n/a", width=5),
    Column(head="", width=8, grow=3, least=66),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One answer given on the page: which, and the words typed with it."""

    answer: Answer
    words: str = ""

    def line(self, asked: Asked) -> str:
        """Give it as a line of the intake."""
        return f"{asked.name} {self.answer.value} {self.words}".rstrip()


def tick_rows(ticks: Mapping[str, str]) -> Iterator[Line]:
    """Give the lines of the page of ticks."""
    for tick in TICKS:
        word = ticks.get(tick.name)
        yield Line(
            key=tick.name,
            cells=(tick.words, _choices(tick, word)),
            color="text" if word is None else "ahead",
            name=tick.words,
        )


def _choices(tick: Tick, word: str | None) -> str:
    return "  ".join(f"{_mark(each.word == word)} {each.word}" for each in tick.choices)


def _mark(is_chosen: bool) -> str:  # noqa: FBT001 (one thing to tell)
    return "(o)" if is_chosen else "( )"


def kind_rows(asked: Sequence[Asked], said: Mapping[str, Said]) -> Iterator[Line]:
    """Give the lines of a page of kinds."""
    for each in asked:
        answer = said.get(each.name)
        yield Line(
            key=each.name,
            cells=(
                each.kind.name,
                each.where,
                *(_mark(answer is not None and answer.answer is one) for one in ANSWERS),
                _in_words(each, answer),
            ),
            color="text" if answer is None else "ahead",
            name=each.kind.name,
            sought=" ".join(each.kind.also_called),
        )


def _in_words(asked: Asked, said: Said | None) -> str:
    if said is None:
        return ""
    if said.answer is Answer.UNKNOWN:
        return f"-> no record: {asked.act.value}"
    return said.words or "nobody knows when"
