"""Laws of CSV: what went out comes in as it was, and no cell is a sum to any program."""

import csv
import io
from collections.abc import Sequence
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.errors import BadInput
from castlenut.store.exchange import csv_bytes, csv_lines
from castlenut.store.schema import typed
from castlenut.store.values import Value

_BEGINS = st.sampled_from(
    ["", "=", "+", "-", "@", "\t", "\r", "'", "'=", "''-", '"', ",", ";", "\n"]
)
_ANY = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
_ENDS = st.sampled_from(["", '"', "'", "\r", "\n", "\r\n", " ", "\ufeff", "\x00", "\u2028"])
CELLS = st.builds("".join, st.tuples(_BEGINS, _ANY, _ENDS))
ROWS = st.lists(st.tuples(st.just("x"), CELLS, CELLS), max_size=4)
"""The first cell keeps a line from being an empty one, which is left out."""
NUMBERS = st.integers(-(10**14), 10**14) | st.decimals(
    min_value=-(10**6), max_value=10**6, allow_nan=False, places=3
)
HEAD = ("one", "two", "three")
FORMULA = ("=", "+", "-", "@", "\t", "\r")


@given(ROWS)
def test_any_text_in_any_cell_comes_in_as_it_went_out(rows: Sequence[Sequence[str]]) -> None:
    """Store: RFC 4180; a leading ' is put before a formula, which import takes off."""
    columns, lines = csv_lines(csv_bytes(HEAD, rows), "any.csv")

    assert columns == HEAD
    assert [tuple(line.cells.values()) for line in lines] == rows


@given(ROWS)
def test_no_text_begins_like_a_formula(rows: Sequence[Sequence[str]]) -> None:
    data = csv_bytes(HEAD, rows)

    read = csv.reader(io.StringIO(data.decode("utf-8-sig"), newline=""))
    assert not any(cell.startswith(FORMULA) for row in read for cell in row)


@given(NUMBERS)
def test_a_number_goes_out_as_a_number(number: int | Decimal) -> None:
    _, (line,) = csv_lines(csv_bytes(("offset",), [(number,)]), "any.csv")

    assert Decimal(line.cells["offset"]) == number
    assert not csv_bytes(("offset",), [(number,)]).splitlines()[1].startswith(b"'")


_WORDS = st.text(st.characters(exclude_categories=["Cs", "Cc", "Cf"]), min_size=1, max_size=12)


@given(st.lists(_WORDS, max_size=5))
def test_a_list_of_any_words_comes_in_as_it_went_out(words: list[Value]) -> None:
    _, lines = csv_lines(csv_bytes(("on", "items"), [("2026-11-25", words)]), "any.csv")

    assert typed("job", "items", lines[0].cells["items"]) == (words or None)


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused_in_words(data: bytes) -> None:
    try:
        columns, lines = csv_lines(data, "any.csv")
    except BadInput as bad:
        said = [(fault.what, fault.remedy) for fault in bad.faults]
    else:
        said = [(column, "") for line in lines for column in line.cells.keys() - set(columns)]

    assert all(what and remedy for what, remedy in said)
