"""How far an intake is, in words: what is ticked, what is answered, what is left, page by page."""

from collections.abc import Iterator, Sequence

from castlenut.domain.intake import Asked, Progress
from castlenut.domain.rules.rule import Act
from castlenut.domain.ticks import TICKS, Tick, ticked
from castlenut.domain.vehicle import Vehicle
from castlenut.words.answers import Answer

RANKS = {
    1: "before it moves",
    2: "before the road",
    3: "by 500 miles",
    4: "when next reached",
}
_ACTS = {Act.RENEW: "do or renew it", Act.LOOK: "look or measure", Act.ASK: "ask for papers"}


def progress_line(progress: Progress) -> str:
    """Say how far it is: `intake: 31 of 64 kinds answered`."""
    return f"intake: {progress.answered} of {progress.kinds} kinds answered"


def rank_words(asked: Asked) -> str:
    """Say what not knowing comes to: `rank 1: before it moves, do or renew it`."""
    return f"rank {asked.rank}: {RANKS[asked.rank]}, {_ACTS[asked.act]}"


def choices_of(tick: Tick) -> str:
    """Name the choices of a tick: `none, vacuum or hydraulic`."""
    words = [each.word for each in tick.choices]
    return f"{', '.join(words[:-1])} or {words[-1]}"


def pages(asked: Sequence[Asked]) -> dict[str, tuple[Asked, ...]]:
    """Give what is asked for page by page, in their order."""
    found: dict[str, list[Asked]] = {}
    for each in asked:
        found.setdefault(each.kind.part, []).append(each)
    return {page: tuple(here) for page, here in found.items()}


def progress_lines(progress: Progress, vehicle: Vehicle) -> Iterator[str]:
    """Say how far it is, what is ticked, and what is left, each as it is typed."""
    yield progress_line(progress)
    own = ticked(vehicle)
    for tick in TICKS:
        if tick.name in own:
            yield f"ticked: {tick.words} {own[tick.name]}"
        else:
            yield f"not ticked: {tick.words} {choices_of(tick)}? tick {tick.name} WORD"
    for page, here in pages(progress.left).items():
        yield f"left, {page.lower()}: {'; '.join(each.name.removesuffix(' -') for each in here)}"


def progress_answer(progress: Progress, vehicle: Vehicle) -> dict[str, Answer]:
    """Give the same for another program."""
    own = ticked(vehicle)
    return {
        "vehicle": vehicle.slug,
        "kinds": progress.kinds,
        "answered": progress.answered,
        "ticks": {tick.name: own.get(tick.name) for tick in TICKS},
        "left": [
            {
                "kind": each.kind.name,
                "where": None if each.where == "-" else each.where,
                "page": each.kind.part,
                "rank": each.rank,
                "act": each.act.value,
            }
            for each in progress.left
        ],
    }
