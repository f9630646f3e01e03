"""The sum of a working in columns: label, distance, date, and the remark where there is room."""

from collections.abc import Iterator, Sequence

from rich.cells import cell_len

from castlenut.screens.widgets.cells import hanging, plain, wrapped
from castlenut.words.working import SumRow, sentence

_LEAST_COLUMNS = 56
_LABEL = 22
_FIGURES = 27  # a distance and a date beside each other
_DISTANCE = 14
_LEAST_REMARK = 20
_MOST_BESIDE = 2  # lines of a remark beside its figures
_INDENT = 2


def laid_out(rows: Sequence[SumRow], width: int) -> tuple[str, ...]:
    """Give the lines of a sum, none wider than `width`; long remarks go on under themselves."""
    if width < _LEAST_COLUMNS:
        return tuple(line for row in rows for line in hanging(sentence(row), width))
    return tuple(line for row in rows for line in _lines(row, width))


def _lines(row: SumRow, width: int) -> Iterator[str]:
    label = plain(row.label)
    if label.startswith("="):
        yield f"{'':{_INDENT}}{'-' * min(_LABEL + _FIGURES - _INDENT, width - _INDENT)}"
    remark = plain(row.remark)
    indent = " " * _INDENT
    if not label:
        yield ""
        yield from (indent + line for line in wrapped(remark, width - _INDENT))
        return
    if not row.distance and not row.date:
        first, *more = _label_and(label, remark, width)
        yield first
        yield from more
        return
    told = f"{indent}{padded(label, _LABEL - 1)} " + _figures(plain(row.distance), plain(row.date))
    start = _INDENT + _LABEL + _FIGURES + 1
    room = width - max(start, cell_len(told) + 2)
    if cell_len(told) > width:
        yield f"{indent}{label}"
        told = f"{indent * 2}{plain(row.distance)}  {plain(row.date)}".rstrip()
        room = 0
    if not remark:
        yield told.rstrip()
    elif room >= _LEAST_REMARK and cell_len(remark) <= _MOST_BESIDE * room:
        first, *more = wrapped(remark, room) or [""]
        start = width - room
        yield padded(told, start) + first
        yield from (f"{'':{start}}{line}" for line in more)
    else:
        yield told.rstrip()
        yield from (
            f"{'':{_INDENT + _LABEL}}{line}" for line in wrapped(remark, width - _INDENT - _LABEL)
        )


def _figures(distance: str, date: str) -> str:
    if distance and date:
        return f"{padded(distance, _DISTANCE)} {date}"
    return distance or f"{'':<{_DISTANCE}} {date}"


def _label_and(label: str, remark: str, width: int) -> list[str]:
    start = _INDENT + max(_LABEL, cell_len(label) + 2)
    if width - start < _LEAST_REMARK:
        return [f"{'':{_INDENT}}{label}", *(f"{'':4}{line}" for line in wrapped(remark, width - 4))]
    first, *more = wrapped(remark, width - start) or [""]
    return [
        f"{'':{_INDENT}}{padded(label, start - _INDENT)}{first}".rstrip(),
        *(f"{'':{start}}{line}" for line in more),
    ]


def padded(text: str, width: int) -> str:
    """Give a text filled up to `width` cells; a longer one is not cut."""
    return text + " " * max(width - cell_len(text), 0)
