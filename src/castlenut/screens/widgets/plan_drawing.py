"""The tires of a car drawn from above: boxes of words, and lines where wheels go.

Pure: boxes and words tell all; the lines between are an extra.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from castlenut.domain.place import Spot
from castlenut.screens.widgets.canvas import Canvas, Point, Stroke
from castlenut.screens.widgets.cells import cut, wrapped

_LEFT = 2  # cells before the boxes
_GAP = 2
_WIDEST = 22
_MOST_BAR, _LEAST_BAR = 8, 3
_HEAD_ROWS, _BOX_ROWS, _PAIR_ROWS = 1, 3, 5
_MOST_LINE_ROWS = 7
_TOO_NEAR = 12
_FRONT = (Spot.LF, Spot.RF)
_REAR = (Spot.LR, Spot.RR)
_PAIRS = ((Spot.LRO, Spot.LRI), (Spot.RRI, Spot.RRO))
_HEADS = {"up": "↑^", "down": "↓v", "left": "←<", "right": "→>"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """What stands at a place, in words.

    `depths` are its grooves from outside in, `thinnest` the one that counts; none is not measured.
    `share` is what is left of its life, None where that is not known. `mark` and `color` are those
    of a state. `goes` is where the pattern takes it. `missing` says that nothing stands there.
    """

    spot: Spot
    size: str = ""
    depths: tuple[str, ...] = ()
    thinnest: str = ""
    share: float | None = None
    mark: str = ""
    color: str = "text"
    goes: Spot | None = None
    missing: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Colored:
    """Cells of one row that have a color of their own."""

    row: int
    start: int
    end: int
    color: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """The rows, each of the whole width, and which cells have a color."""

    rows: tuple[str, ...]
    colored: tuple[Colored, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Field:
    """Where a box is written."""

    left: int
    top: int
    width: int
    rows: int

    def is_right(self, whole: int) -> bool:
        """Tell whether it stands on the right of the car."""
        return self.left > whole // 2


def rows_needed(boxes: Sequence[Box], *, line_rows: int) -> int:
    """Give the rows of a drawing with so many rows for the lines."""
    spots = {box.spot for box in boxes}
    spare = _BOX_ROWS if Spot.SP in spots else 0
    return _HEAD_ROWS + _BOX_ROWS + line_rows + _rear_rows(spots) + spare


def drawing(boxes: Sequence[Box], width: int, height: int, *, ascii_only: bool) -> Drawing:
    """Draw the car from above, front at the top, in the room there is."""
    line_rows = min(max(height - rows_needed(boxes, line_rows=0), 1), _MOST_LINE_ROWS)
    fields = _fields(boxes, width, line_rows)
    canvas = Canvas(width, height, ascii_only=ascii_only)
    canvas.write(_LEFT + (width - _LEFT - len("front")) // 2, 0, "front")
    for box in boxes:
        if box.goes is not None and box.goes in fields:
            _link(canvas, fields, box.spot, box.goes, is_ascii=ascii_only)
    colored: list[Colored] = []
    for box in boxes:
        field = fields[box.spot]
        lines = _pair_lines if field.rows == _PAIR_ROWS else _lines
        for number, (line, color) in enumerate(lines(box, field.width)):
            canvas.write(field.left, field.top + number, line)
            if color != "text" and line and field.top + number < height:
                start, row = field.left, field.top + number
                colored.append(Colored(row=row, start=start, end=start + len(line), color=color))
    for pair in _PAIRS:
        _write_size_once(canvas, [box for box in boxes if box.spot in pair], fields)
    return Drawing(rows=canvas.rows(), colored=tuple(colored))


def _fields(boxes: Sequence[Box], width: int, line_rows: int) -> Mapping[Spot, _Field]:
    """Give each box its place: two columns, the spare below, duals in pairs side by side.

    The cells at either edge are left for the lines of the spare.
    """
    spots = {box.spot for box in boxes}
    half = min((width - _LEFT - _GAP - 1) // 2, _WIDEST)
    lefts, narrow = (_LEFT, width - half - 1), (half - 1) // 2
    rear_top = _HEAD_ROWS + _BOX_ROWS + line_rows
    spare_top = rear_top + _rear_rows(spots)
    fields = {Spot.SP: _Field(left=_LEFT, top=spare_top, width=half, rows=_BOX_ROWS)}
    for left, front, rear, pair in zip(lefts, _FRONT, _REAR, _PAIRS, strict=True):
        fields[front] = _Field(left=left, top=_HEAD_ROWS, width=half, rows=_BOX_ROWS)
        fields[rear] = _Field(left=left, top=rear_top, width=half, rows=_BOX_ROWS)
        for start, spot in zip((left, left + narrow + 1), pair, strict=True):
            fields[spot] = _Field(left=start, top=rear_top, width=narrow, rows=_PAIR_ROWS)
    return {spot: field for spot, field in fields.items() if spot in spots}


def _rear_rows(spots: Collection[Spot]) -> int:
    return _PAIR_ROWS if any(spot in spots for pair in _PAIRS for spot in pair) else _BOX_ROWS


def _lines(box: Box, width: int) -> Iterator[tuple[str, str]]:
    """Give the lines of a box, each with its color."""
    if box.missing:
        for line in wrapped(f"{box.spot.value} {box.missing}", width)[:_BOX_ROWS]:
            yield line, "text"
        return
    yield cut(f"{box.spot.value} {box.size}", width), "text"
    yield _depth_line(box, width), box.color
    yield _goes(box, width), "text"


def _pair_lines(box: Box, width: int) -> Iterator[tuple[str, str]]:
    """Give the lines of one of two boxes side by side."""
    yield box.spot.value, "text"
    if box.missing:
        for line in wrapped(box.missing, width)[: _PAIR_ROWS - 1]:
            yield line, "text"
        return
    depths = " ".join(box.depths)
    told = depths if len(depths) <= width - len(box.mark) else box.thinnest
    yield cut(box.size, width), "text"
    yield cut(f"{box.mark} {told}".strip() if told else "not measured", width), box.color
    yield _bar(box.share, min(width, _MOST_BAR)), box.color
    yield _goes(box, width), "text"


def _depth_line(box: Box, width: int) -> str:
    if not box.depths:
        return cut("not measured", width)
    room = width - _LEAST_BAR - 1 - (len(box.mark) + 1 if box.mark else 0)
    depths = " ".join(box.depths)
    told = f"{box.mark} {depths if len(depths) <= room else box.thinnest}".strip()
    bar = _bar(box.share, min(width - len(told) - 1, _MOST_BAR))
    return cut(f"{told} {bar}".rstrip(), width)


def _bar(share: float | None, cells: int) -> str:
    """Give the bar of life left; a last bit of life is a sign, too."""
    if share is None or cells < 1:
        return ""
    full = min(max(round(share * cells), 1 if share > 0 else 0), cells)
    return "#" * full + "-" * (cells - full)


def _goes(box: Box, width: int) -> str:
    if box.goes is None:
        return ""
    told = f"to {box.goes.value}"
    return told if len(told) <= width else f">{box.goes.value}"


def _write_size_once(canvas: Canvas, pair: Sequence[Box], fields: Mapping[Spot, _Field]) -> None:
    """Write the size of two duals that are alike once, in the room of both."""
    if len(pair) == 2 and pair[0].size == pair[1].size and not any(box.missing for box in pair):
        field = min((fields[box.spot] for box in pair), key=lambda each: each.left)
        room = 2 * field.width + 1
        canvas.write(field.left, field.top + 1, f"{cut(pair[0].size, room):<{room}}")


def _link(
    canvas: Canvas, fields: Mapping[Spot, _Field], start: Spot, end: Spot, *, is_ascii: bool
) -> None:
    """Draw the line of a move, with a head where it ends."""
    one, other = fields[start], fields[end]
    if one.top == other.top and abs(one.left - other.left) <= _TOO_NEAR:
        return  # two duals side by side: between them there is no room for a line
    path, head = _way(canvas.width, fields, start, end)
    canvas.path(path, Stroke.LINK)
    across, down = path[-1]
    canvas.write(int(across), int(down), _HEADS[head][1 if is_ascii else 0])


def _way(
    width: int, fields: Mapping[Spot, _Field], start: Spot, end: Spot
) -> tuple[tuple[Point, ...], str]:
    """Give the way of a move, and which way its head points.

    Along a side it runs outside, across the car inside of that; from side to side in the last row
    of the boxes; to and from the spare along the edge.
    """
    one, other = fields[start], fields[end]
    if Spot.SP in {start, end}:
        return _way_of_spare(width, fields[Spot.SP], other if start is Spot.SP else one, start)
    if one.top == other.top:
        row = one.top + one.rows - 0.5
        left, right = sorted((one, other), key=lambda field: field.left)
        ends = ((left.left + 7.5, row), (right.left - 1.5, row))
        return (ends, "right") if one is left else (ends[::-1], "left")
    front, rear = sorted((one, other), key=lambda field: field.top)
    is_across = front.is_right(width) != rear.is_right(width)
    ends = (
        (_anchor(front, width, is_across=is_across), front.top + front.rows + 0.2),
        (_anchor(rear, width, is_across=is_across), rear.top - 0.2),
    )
    return (ends, "down") if one is front else (ends[::-1], "up")


def _way_of_spare(
    width: int, spare: _Field, road: _Field, start: Spot
) -> tuple[tuple[Point, ...], str]:
    """Give the way between the spare and a road place, along the edge of its side."""
    if road.is_right(width):
        edge, row = width - 0.5, spare.top + 1.5
        way = ((spare.left + spare.width + 0.5, row), (edge, row), (edge, road.top + 0.5))
    else:
        way = ((1.5, spare.top + 0.5), (0.5, spare.top + 0.5), (0.5, road.top + 0.5))
    head = "up" if start is Spot.SP else "left" if road.is_right(width) else "right"
    return (way if start is Spot.SP else way[::-1]), head


def _anchor(field: _Field, width: int, *, is_across: bool) -> float:
    inward = min(7.5 if is_across else 3.5, field.width - 1.0)
    return field.left + (field.width - inward if field.is_right(width) else inward)
