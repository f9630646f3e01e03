"""One row of the sum behind a due date, and its sentence: both made from one value."""

from enum import Enum

from castlenut.domain.frozen import dataclass


class Tie(Enum):
    """How the remark of a row hangs on the rest of its sentence."""

    BRACKETS = "brackets"
    SEMICOLON = "; "
    COMMA = ", "


@dataclass(frozen=True, slots=True, kw_only=True)
class SumRow:
    """One row of the sum in columns. Empty texts are empty cells.

    The other fields only shape the sentence: whether a colon ends the label, what stands between
    distance and date, and how the remark is tied on.
    """

    label: str
    distance: str = ""
    date: str = ""
    remark: str = ""
    has_colon: bool = False
    between: str = ", "
    tie: Tie = Tie.SEMICOLON


def sentence(row: SumRow) -> str:
    """Give a row of the sum as one line of plain text."""
    has_both = row.distance and row.date
    figure = f"{row.distance}{row.between}{row.date}" if has_both else row.distance or row.date
    if not figure and row.remark:
        return f"{row.label}: {row.remark}" if row.label else row.remark
    told = f"{row.label}{':' if row.has_colon and figure else ''} {figure}".rstrip()
    if not row.remark:
        return told
    match row.tie:
        case Tie.BRACKETS:
            return f"{told} ({row.remark})"
        case Tie.SEMICOLON | Tie.COMMA:
            return f"{told}{row.tie.value}{row.remark}"
