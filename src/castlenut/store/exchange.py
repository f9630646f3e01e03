"""What leaves the garage and comes in as a file of its own: the zip's files, lines of a CSV."""

import csv
import io
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from decimal import Decimal

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.store.archive import packed
from castlenut.store.beside import photos as photos_kept
from castlenut.store.content import Content, examined, revisions_of
from castlenut.store.encoding import encoded
from castlenut.store.fields import in_list
from castlenut.store.files import Unread, read_plain
from castlenut.store.folder import PHOTOS, RULES, Folder
from castlenut.store.merge import REVISIONS
from castlenut.store.record_file import RecordFile
from castlenut.store.revisions import set_by
from castlenut.store.values import Value

_BOM = "\ufeff"
_FORMULA = re.compile("'*[=+@\t\r-]")
_SEPARATORS = (",", ";", "\t")
_LEFT_OUT = {"garage": frozenset({"feed_secret"})}


def zipped(
    folder: Folder,
    files: Sequence[RecordFile],
    *,
    without: Mapping[str, Collection[str]],
    photos: Collection[str] | None = None,
) -> bytes:
    """Give files of the record as a zip, with the rules and photos, and never the feed's secret.

    `without` names further fields to leave out, by table; `photos` the photos to take along, None
    for all.
    """
    taken = {
        file.place.name: encoded(_without(file.state.content, {**_LEFT_OUT, **without}), {})[0]
        for file in files
    }
    rules = read_plain(folder.path / RULES)
    if isinstance(rules, bytes):
        taken[RULES] = rules
    for path in photos_kept(folder):
        data = read_plain(path)
        if isinstance(data, bytes) and (photos is None or path.name in photos):
            taken[f"{PHOTOS}/{path.name}"] = data
    return packed(taken)


def _without(content: Content, fields: Mapping[str, Collection[str]]) -> Content:
    """Give content without some fields; revisions stay, so that what came after what is known."""
    tables: dict[str, Mapping[str, Value]] = dict(content.tables)
    for table, names in fields.items():
        if table not in tables:
            continue
        records: dict[str, Value] = {}
        for record, value in tables[table].items():
            revisions: list[Value] = [
                {**each, "set": {name: v for name, v in set_by(each).items() if name not in names}}
                if set_by(each).keys() & set(names)
                else each
                for each in revisions_of(value)
            ]
            records[record] = (
                {**value, REVISIONS: revisions} if isinstance(value, dict) and revisions else value
            )
        tables[table] = records
    return examined(content.kind, content.header, tables)


def csv_bytes(head: Sequence[str], rows: Sequence[Sequence[Value]]) -> bytes:
    """Give rows as CSV: UTF-8 with a mark at its head, CRLF, texts that no program takes for sums.

    A text that begins like a formula gets a ' before it; numbers do not.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return (_BOM + text.getvalue()).encode("utf-8", "backslashreplace")


def _cell(value: Value) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case int() | Decimal():
            return f"{value:f}" if isinstance(value, Decimal) else str(value)
        case list():
            return _safe(", ".join(in_list(_plain(each)) for each in value))
        case dict():
            return _safe(
                ", ".join(f"{name}={in_list(_plain(each))}" for name, each in value.items())
            )
        case str():
            return _safe(value)


def _plain(value: Value) -> str:
    return f"{value:f}" if isinstance(value, Decimal) else str(value)


def _safe(text: str) -> str:
    return f"'{text}" if _FORMULA.match(text) else text


@dataclass(frozen=True, slots=True, kw_only=True)
class CsvLine:
    """One line of a CSV file by its number in the file, with its cells by column."""

    number: int
    cells: Mapping[str, str]


def csv_lines(data: bytes, name: str) -> tuple[tuple[str, ...], tuple[CsvLine, ...]]:
    """Read a CSV file: its columns, and its lines; empty lines are left out.

    The separator is the comma, or a semicolon or tab where the head has no comma.

    Raises:
        BadInput: it is no such file; every line that is wrong is named.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as bad:
        line = 1 + data.count(b"\n", 0, bad.start)
        raise BadInput(
            Fault("is not UTF-8 text", f"{name} line {line}", "save it as CSV in UTF-8")
        ) from None
    head = text.split("\n", 1)[0]
    separator = next((each for each in _SEPARATORS if each in head), ",")
    rows = _rows(text, separator, name)
    _, columns = next(rows, (1, []))
    found = tuple(each.strip() for each in columns)
    if not any(found):
        raise BadInput(Fault("has no head line", name, "give a line with the names of the fields"))
    faults: list[Fault] = []
    lines: list[CsvLine] = []
    for number, row in rows:
        if not any(cell.strip() for cell in row):
            continue
        if len(row) != len(found):
            faults.append(
                Fault(
                    f"has {len(row)} cells, the head has {len(found)}",
                    f"{name} line {number}",
                    "give each line as many; put a cell with a separator in it into quotes",
                )
            )
            continue
        cells = {column: _read(cell) for column, cell in zip(found, row, strict=True)}
        lines.append(CsvLine(number=number, cells=cells))
    if faults:
        raise BadInput(*faults)
    return found, tuple(lines)


def _rows(text: str, separator: str, name: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    begins = 1
    while True:
        try:
            row = next(reader)
        except StopIteration:
            return
        except csv.Error as bad:
            raise BadInput(
                Fault(f"cannot be read: {bad}", f"{name} line {begins}", "mend its quotes")
            ) from None
        yield begins, row
        begins = reader.line_num + 1


def _read(cell: str) -> str:
    """Give a cell without the ' that keeps a program from taking it for a sum."""
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell


def read_outside(data: bytes | Unread | None, name: str) -> bytes:
    """Give the bytes of a file that was named, or say why it could not be read.

    Raises:
        BadInput: it is not there, or no plain file of at most 64 MiB that may be read.
    """
    if isinstance(data, bytes):
        return data
    what = "is not there" if data is None else data.value
    raise BadInput(Fault(what, name, "name a file that can be read"))
