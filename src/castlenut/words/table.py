"""A table of plain lines for a terminal of 80 columns."""

from collections.abc import Iterator, Sequence

_WIDTH = 80
_GAP = 2


def table_lines(
    head: Sequence[str], rows: Sequence[tuple[str, Sequence[str]]], *, kept: int = 1
) -> Iterator[str]:
    """Give rows with their labels under a head of columns.

    What does not fit beside each other goes into further tables; the first `kept` columns stand in
    each of them, so that the others can be held against them.
    """
    label = max((len(each) for each, _ in rows), default=0)
    widths = [
        max(len(head[number]), *(len(cells[number]) for _, cells in rows))
        for number in range(len(head))
    ]
    columns = list(range(len(head)))
    is_first = True
    while columns:
        shown = _fitting(columns, widths, label)
        if not is_first:
            yield ""
        yield _line("", [head[number] for number in shown], label, [widths[n] for n in shown])
        for name, cells in rows:
            yield _line(name, [cells[n] for n in shown], label, [widths[n] for n in shown])
        rest = [number for number in columns if number not in shown]
        columns = [*columns[:kept], *rest] if rest else []
        is_first = False


def _fitting(columns: Sequence[int], widths: Sequence[int], label: int) -> list[int]:
    shown: list[int] = []
    used = label
    for number in columns:
        used += _GAP + widths[number]
        if used > _WIDTH and len(shown) > 1:
            break
        shown.append(number)
    return shown


def _line(label: str, cells: Sequence[str], width: int, widths: Sequence[int]) -> str:
    parts = [f"{label:<{width}}"]
    parts.extend(f"{cell:<{wide}}" for cell, wide in zip(cells, widths, strict=True))
    return (" " * _GAP).join(parts).rstrip()
