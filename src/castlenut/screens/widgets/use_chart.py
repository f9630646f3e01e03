"""True distance over time as rows of text: readings, the line through them, and the fan ahead."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, floor, log10

from castlenut.screens.widgets.canvas import Canvas, Scale, Stroke, words_along

_LABEL = 4  # cells right of the fan
_LEAST_WIDTH, _LEAST_HEIGHT = 40, 6
_LAID_UP = " laid up "
_QUARTER = 3  # months between two words under the axis

Dated = tuple[date, float]
"""A day, and the true distance on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fan:
    """The distance ahead: one chance in ten below `low`, even `middle`, nine in ten for `high`."""

    low: tuple[Dated, ...]
    middle: tuple[Dated, ...]
    high: tuple[Dated, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """What is drawn.

    `flagged` are readings left out, where they would stand as they are. `replaced`: another dial,
    with both figures. `level` is a distance with its name. `laid_up` are first and last days.
    """

    read: tuple[Dated, ...]
    flagged: tuple[Dated, ...]
    replaced: tuple[tuple[date, float, str], ...]
    fan: Fan | None
    level: tuple[float, str] | None
    laid_up: tuple[tuple[date, date], ...]
    first: date
    today: date
    last: date
    unit: str


def use_chart(picture: Picture, *, width: int, height: int, ascii_only: bool) -> tuple[str, ...]:
    """Give the rows of the chart; none where nothing was read or there is no room for it.

    The last two rows are the axis, with today and the lay-ups, and the months under it.
    """
    distances = [distance for _, distance in _within(picture)]
    if not distances or width < _LEAST_WIDTH or height < _LEAST_HEIGHT:
        return ()
    low, high = min(distances), max(distances)
    high = max(high, low + 1)
    levels = {value: f"{value:,.0f}" for value in _round_values(low, high, most=(height - 1) // 2)}
    margin = max(len(picture.unit) + 2, *(len(word) + 1 for word in levels.values()), 0)
    room = width - margin - _LABEL
    across = Scale(low=picture.first.toordinal(), high=picture.last.toordinal(), cells=room)
    down = Scale(low=low, high=high, cells=height - 2, is_down=True)
    canvas = Canvas(room + _LABEL, height - 2, ascii_only=ascii_only)
    _draw(canvas, picture, across, down)
    beside = {int(down.at(value)): word for value, word in levels.items()}
    beside.setdefault(0, picture.unit)
    months = [(across.at(day.toordinal()), f"{day:%Y-%m}") for day in _months(picture)]
    return (
        *(f"{beside.get(row, ''):>{margin - 1}} {line}" for row, line in enumerate(canvas.rows())),
        f"{'':{margin}}{_axis(picture, across, room)}",
        f"{'':{margin}}{words_along(room + _LABEL, months)}".rstrip(),
    )


def _within(picture: Picture) -> Iterator[Dated]:
    """Give the points that the scale must hold: a figure left out need not be among them."""
    yield from (each for each in picture.read if each[0] >= picture.first)
    if picture.fan is not None:
        yield from (*picture.fan.low, *picture.fan.high)


def _draw(canvas: Canvas, picture: Picture, across: Scale, down: Scale) -> None:
    def at(day: date, distance: float) -> tuple[float, float]:
        place = min(max(down.at(distance), 0.0), down.cells - 0.5)
        return across.at(day.toordinal()), place

    level = picture.level
    if level is not None and not down.low <= level[0] <= down.high:
        level = None
    if level is not None:
        row = down.at(level[0])
        canvas.line((0, row), (across.cells - 0.5, row), Stroke.LEVEL)
    if picture.fan is not None:
        ends = ((picture.fan.low, "P10"), (picture.fan.high, "P90"))
        for points, _ in ends:
            canvas.path([at(*each) for each in points], Stroke.DOTTED)
        canvas.path([at(*each) for each in picture.fan.middle])
        for points, name in (ends[1], (picture.fan.middle, "P50"), ends[0]):  # from the top
            left, row = at(*points[-1])
            canvas.label(int(left) + 1, int(row), name)
    shown = [each for each in picture.read if each[0] >= picture.first]
    canvas.path([at(*each) for each in shown])
    for day, distance, words in picture.replaced:
        if day >= picture.first:
            left, row = at(day, distance)
            canvas.write(int(left), int(row), "^")
            canvas.label(int(left) + 2, int(row) + 1, words)
    for sign, some in (("o", shown), ("?", picture.flagged)):
        for day, distance in some:
            if day >= picture.first:
                left, row = at(day, distance)
                canvas.write(int(left), int(row), sign)
    if level is not None:
        canvas.label(1, int(down.at(level[0])), f" {level[1]} ")


def _axis(picture: Picture, across: Scale, room: int) -> str:
    axis = ["-"] * room
    now = int(across.at(picture.today.toordinal()))
    axis[now : now + 6] = list("|today")[: room - now]
    for first, last in picture.laid_up:
        begin = max(int(across.at(max(first, picture.first).toordinal())), 0)
        end = int(across.at(min(last, picture.last).toordinal())) + 1
        if last < picture.first or first > picture.last:
            continue
        parts = ((begin, min(end, now)), (max(begin, now + 1), end))
        longest = max(parts, key=lambda part: part[1] - part[0])
        for part in parts:
            length = max(part[1] - part[0], 0)
            name = _LAID_UP if part == longest and length > len(_LAID_UP) else ""
            axis[part[0] : part[0] + length] = name.center(length, "=")
    return "".join(axis)


def _round_values(low: float, high: float, *, most: int) -> Sequence[float]:
    """Give a few round values within a range."""
    rough = (high - low) / most
    power = 10 ** floor(log10(rough))
    step = next(power * each for each in (1, 2, 5, 10) if power * each >= rough)
    first, last = ceil(low / step), floor(high / step)
    return [step * number for number in range(first, last + 1)]


def _months(picture: Picture) -> Iterator[date]:
    """Give the first days of quarters that are drawn; of months where there are few."""
    every = 1 if (picture.last - picture.first).days < 200 else _QUARTER
    year, month = picture.first.year, picture.first.month
    while True:
        day = date(year, month, 1)
        if day > picture.last:
            return
        if day >= picture.first and (month - 1) % every == 0:
            yield day
        year, month = (year, month + 1) if month < 12 else (year + 1, 1)
