"""Tread depth over distance as rows of text: a curve a tire, the limit, the rotations."""

from collections.abc import Sequence
from dataclasses import dataclass

from castlenut.screens.widgets.canvas import Canvas, Point, Scale, Stroke, words_along

_LABEL = 5  # cells right of the curves: a space and `LRO`
_LEAST_WIDTH, _LEAST_HEIGHT = 30, 6
_NEAR_THE_END = 0.8  # a curve that ends behind this share of the width has its name at the edge


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """Depth of one tire over distance: as measured, then as expected with its band.

    `low` and `high` are the ends of the band where the tire is expected to be; none is no band.
    """

    label: str
    measured: tuple[Point, ...]
    expected: tuple[Point, ...] = ()
    low: tuple[Point, ...] = ()
    high: tuple[Point, ...] = ()

    @property
    def points(self) -> tuple[Point, ...]:
        """Give all points."""
        return (*self.measured, *self.expected, *self.low, *self.high)


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """What is written along an axis: a value with its words."""

    words: tuple[tuple[float, str], ...]


def tread_chart(
    curves: Sequence[Curve],
    *,
    limit: float,
    depths: Axis,
    distances: Axis,
    rotations: Sequence[float],
    width: int,
    height: int,
    ascii_only: bool,
) -> tuple[str, ...]:
    """Give the rows of the chart; none where there is nothing to draw or no room for it.

    The last two rows are the axis: rotations as `|`, and the words under it.
    """
    points = [point for curve in curves for point in curve.points]
    if not points or width < _LEAST_WIDTH or height < _LEAST_HEIGHT:
        return ()
    margin = max((len(word) for _, word in depths.words), default=0) + 1
    room = width - margin - _LABEL
    far = Scale(
        low=min(across for across, _ in points),
        high=max(across for across, _ in points),
        cells=room,
    )
    deep = Scale(
        low=min(limit, *(depth for _, depth in points)),
        high=max(depth for _, depth in points),
        cells=height - 2,
        is_down=True,
    )
    canvas = Canvas(room + _LABEL, height - 2, ascii_only=ascii_only)
    for curve in curves:
        canvas.path(_placed(curve.measured, far, deep))
        for ends in (curve.expected, curve.low, curve.high):
            canvas.path(_placed(ends, far, deep), Stroke.DOTTED)
    canvas.line((0, deep.at(limit)), (room - 0.5, deep.at(limit)), Stroke.LEVEL)
    for curve in curves:
        across, depth = max((*curve.measured, *curve.expected), key=lambda point: point[0])
        end = far.at(across)
        is_last = end > _NEAR_THE_END * room
        canvas.label(room + 1 if is_last else int(end) + 2, int(deep.at(depth)), curve.label)
    rows = _beside(canvas.rows(), [(int(deep.at(value)), word) for value, word in depths.words])
    axis = list("-" * room + " " * _LABEL)
    for each in rotations:
        if far.low <= each <= far.high:
            axis[int(far.at(each))] = "|"
    words = words_along(room + _LABEL, [(far.at(value), word) for value, word in distances.words])
    return (
        *(f"{beside:>{margin - 1}} {row}" for beside, row in rows),
        f"{'':{margin}}{''.join(axis)}",
        f"{'':{margin}}{words}",
    )


def _placed(points: Sequence[Point], far: Scale, deep: Scale) -> list[Point]:
    return [(far.at(across), deep.at(depth)) for across, depth in points]


def _beside(rows: Sequence[str], words: Sequence[tuple[int, str]]) -> tuple[tuple[str, str], ...]:
    """Put each word beside its row; of two in one row the first stands."""
    first = dict(reversed(words))
    return tuple((first.get(number, ""), row) for number, row in enumerate(rows))
