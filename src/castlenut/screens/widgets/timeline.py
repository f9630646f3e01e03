"""Which tire stands where over distance, as rows of text: a lane a tire."""

from collections.abc import Sequence
from dataclasses import dataclass

from castlenut.screens.widgets.canvas import words_along
from castlenut.screens.widgets.cells import filled

_LEAST_STINT = 4  # cells in which a place and the end of its stint can be told apart
_LEAST_LANE = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """One tire: where it stands in each stint, and what is said of it at the end."""

    label: str
    places: tuple[str, ...]
    end: str


def timeline(
    lanes: Sequence[Lane],
    *,
    starts: Sequence[float],
    until: float,
    words: Sequence[str],
    width: int,
) -> tuple[str, ...]:
    """Give the distances, then a lane a tire; none without room for it.

    A place is written where a tire comes to it, a plus where it stays at a rotation, dashes while
    it runs there; points while it is carried as the spare. `words` are those of each start and of
    the end. Stints too short to be drawn are drawn as long as they can be, and those for which no
    room is left are counted.
    """
    before = max((len(lane.label) for lane in lanes), default=0) + 2
    behind = max((len(lane.end) for lane in lanes), default=0) + 2
    room = width - before - behind
    if not lanes or room < _LEAST_LANE:
        return ()
    shown = min(len(starts), room // _LEAST_STINT)
    edges = _edges(starts[:shown], until if shown == len(starts) else starts[shown], room)
    left_out = len(starts) - shown
    ends = [*words[:shown], words[-1]] if not left_out else words[: shown + 1]
    head = words_along(
        room + behind,
        [(edges[0] + len(ends[0]) / 2, ends[0])]
        + [(edge, word) for edge, word in zip(edges[1:], ends[1:], strict=True)],
    )
    rows = [f"{'':{before}}{head}"]
    for lane in lanes:
        line = "".join(
            _stint(lane, number, edges[number + 1] - edges[number]) for number in range(shown)
        )
        end = f"| {lane.end}" if not left_out else "..."
        rows.append(filled(f" {lane.label:<{before - 1}}{line}{end}", width))
    if left_out:
        rows.append(filled(f"{'':{before}}... and {left_out} more rotations", width))
    return tuple(rows)


def _edges(starts: Sequence[float], until: float, room: int) -> list[int]:
    """Give where each stint begins, and where the last one ends, in cells."""
    since = starts[0]
    wanted = [round((at - since) / (until - since) * room) for at in (*starts, until)]
    for number in range(1, len(wanted)):
        wanted[number] = max(wanted[number], wanted[number - 1] + _LEAST_STINT)
    for number in range(len(wanted) - 1, -1, -1):
        wanted[number] = min(wanted[number], room - (len(wanted) - 1 - number) * _LEAST_STINT)
    return wanted


def _stint(lane: Lane, number: int, cells: int) -> str:
    place = lane.places[number]
    stays = number > 0 and lane.places[number - 1] == place
    told = "+" if stays else place
    return f"{told:{'.' if place == 'SP' else '-'}<{cells}}"
