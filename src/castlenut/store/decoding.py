"""Bytes of a file to its content, or to what is wrong: lenient in layout, strict in JSON."""

import json
import re
from collections.abc import Callable

from castlenut.domain.frozen import dataclass, field
from castlenut.store.content import (
    HEADER,
    Content,
    FileKind,
    examined,
    wrong_record,
)
from castlenut.store.encoding import ordered
from castlenut.store.fields import depth
from castlenut.store.merge import united
from castlenut.store.schema import SCHEMA
from castlenut.store.values import Object, Value, number

_DEEPEST_KEPT = 100  # beyond it a value may not be writable again
_IDENTITY = re.compile(r"[0-9A-Za-z-]{8,64}")
_STRING = r'"(?:[^"\\]|\\.)*"'
_WORD = r"[-+.\w]+"
_TABLE_LINE = r'\s*,?\s*"(\w+)"\s*:\s*\{\s*'
_RECORD_LINE = r'\s*"(?:[^"\\]|\\.)*"\s*:\s*\{.*\}\s*,?\s*'


@dataclass(frozen=True, slots=True)
class Damaged:
    """The file cannot be read as a whole; the line to blame counts from 1."""

    line: int


@dataclass(frozen=True, slots=True)
class Newer:
    """The file was written by a newer program, in this format."""

    schema: int


class _Refused(ValueError):
    """A constant that JSON does not have."""


class _Repeated(dict[str, Value]):
    """An object in which a key stands twice; `pairs` holds all that stands in it."""

    pairs: list[tuple[str, Value]]


@dataclass(frozen=True, slots=True)
class _Reader:
    """One reading of a text: collects the objects in which a key stands twice."""

    repeated: list[_Repeated] = field(default_factory=list)

    def read(self, text: str) -> Value:
        """Read JSON.

        Raises:
            ValueError: it is none, or holds what no record may (NaN, 1e999, 4,301 digits).
            RecursionError: it is nested too deeply.
        """
        found: Value = json.loads(
            text,
            object_pairs_hook=self._object,
            parse_constant=_refuse,
            parse_float=number,
        )
        return found

    def _object(self, pairs: list[tuple[str, Value]]) -> Object:
        found = dict(pairs)
        if len(found) == len(pairs):
            return found
        repeated = _Repeated(found)
        repeated.pairs = pairs
        self.repeated.append(repeated)
        return repeated


def _refuse(name: str) -> Value:
    raise _Refused(name)


def decode(data: bytes, kind: FileKind) -> Content | Damaged | Newer:
    """Read a file of records. What does not check is kept and told; what is no file is refused."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as bad:
        return Damaged(1 + data.count(b"\n", 0, bad.start))
    reader = _Reader()
    try:
        root = reader.read(text)
    except json.JSONDecodeError as bad:
        return Damaged(bad.lineno)
    except (ValueError, RecursionError):
        return Damaged(_line_refused(text))
    if not isinstance(root, dict):
        return Damaged(1)
    header = root.get(HEADER)
    schema = header.get("schema") if isinstance(header, dict) else None
    if type(schema) is int and schema > SCHEMA:
        return Newer(schema)
    identity = header.get(kind.value) if isinstance(header, dict) else None
    if (
        not isinstance(header, dict)
        or schema != SCHEMA
        or type(schema) is not int
        or header.get("file") != kind.value
        or not (isinstance(identity, str) and _IDENTITY.fullmatch(identity))
    ):
        return Damaged(_line_of(text, f'"{HEADER}"') or 1)
    return _content(text, kind, root, header, reader.repeated)


def _content(
    text: str, kind: FileKind, root: Object, header: Object, repeated: list[_Repeated]
) -> Content | Damaged:
    """Put the content together from what was read."""
    tables: dict[str, dict[str, Value]] = {}
    stood_twice: list[tuple[str, str]] = []
    allowed = 0
    for name, records in root.items():
        if name == HEADER:
            continue
        if not isinstance(records, dict):
            return Damaged(_line_of(text, f'"{name}"') or 1)
        if isinstance(records, _Repeated):
            allowed += 1
            records, twice = _united(records)  # noqa: PLW2901 - the same table, made whole
            stood_twice.extend((name, record) for record in twice)
        tables[name] = {record: ordered(value) for record, value in records.items()}
    if len(repeated) > allowed:
        return Damaged(_line_repeated(text, root))
    content = examined(
        kind,
        header,
        tables,
        may_hold_half_characters="\\ud" in text or "\\uD" in text,
        stood_twice=tuple(stood_twice),
    )
    kept = [tables[table][record] for table, record in content.set_aside]
    for name, records in tables.items():
        if name not in kind.tables:
            kept.extend(records.values())
    if any(depth(each) > _DEEPEST_KEPT for each in kept):
        return Damaged(_line_deep(text))
    return content


def _united(records: _Repeated) -> tuple[Object, list[str]]:
    """Unite the records of one id in a table: a merge of texts leaves both."""
    whole: Object = {}
    twice: list[str] = []
    for record, value in records.pairs:
        if record in whole:
            whole[record] = united(ordered(whole[record]), ordered(value))
            if record not in twice:
                twice.append(record)
        else:
            whole[record] = value
    return whole, twice


@dataclass(frozen=True, slots=True, kw_only=True)
class Salvage:
    """What can be read of a damaged file line by line: whole records, and the lines left over.

    `doubtful` holds records that are JSON and do not check, or stand in tables unknown here: they
    are kept where nothing better is found. `unread` are the other lines, by number, as they stand.
    """

    tables: dict[str, dict[str, Value]]
    doubtful: dict[str, dict[str, Value]]
    unread: dict[int, bytes]

    @property
    def records(self) -> int:
        """Give how many records could be read."""
        return sum(len(records) for records in self.tables.values())


def salvage(data: bytes, kind: FileKind) -> Salvage:
    """Read what can be read of a file that is damaged.

    One that is JSON as a whole, and wrong in another way, is taken as it was parsed.
    """
    whole = _parsed(data)
    if whole is not None:
        return whole
    found = Salvage(tables={}, doubtful={}, unread={})
    table: str | None = None
    for count, raw in enumerate(data.removeprefix(b"\xef\xbb\xbf").split(b"\n"), start=1):
        line = _as_text(raw)
        if line is not None and (begins := re.fullmatch(_TABLE_LINE, line)):
            table = begins[1]
        elif line is not None and not line.strip(" \t\r{},"):
            continue
        elif line is None or not (f'"{HEADER}"' in line or _take(line, table, kind, found)):
            found.unread[count] = raw
    return found


def _parsed(data: bytes) -> Salvage | None:
    """Take the tables of a file that is JSON as a whole; None where it is not, or keys repeat."""
    reader = _Reader()
    try:
        root = reader.read(data.decode("utf-8-sig"))
    except (ValueError, RecursionError):
        return None
    if reader.repeated or not isinstance(root, dict):
        return None
    tables: dict[str, dict[str, Value]] = {}
    for name, records in root.items():
        if isinstance(records, dict) and name != HEADER:
            if any(depth(each) > _DEEPEST_KEPT for each in records.values()):
                return None
            tables[name] = {record: ordered(value) for record, value in records.items()}
    return Salvage(tables=tables, doubtful={}, unread={})


def _as_text(line: bytes) -> str | None:
    try:
        return line.decode()
    except UnicodeDecodeError:
        return None


def _take(line: str, table: str | None, kind: FileKind, found: Salvage) -> bool:
    """Take the record of a line, if there is a whole one: as a good one, or as a doubtful one."""
    if table is None or not re.fullmatch(_RECORD_LINE, line):
        return False
    reader = _Reader()
    try:
        read = reader.read(f"{{{line.strip().removesuffix(',')}}}")
    except (ValueError, RecursionError):
        return False
    if reader.repeated or not isinstance(read, dict) or len(read) != 1:
        return False
    ((record, value),) = read.items()
    asked = kind.tables.get(table)
    is_good = asked is not None and wrong_record(asked, table, value) is None
    if not is_good and depth(value) > _DEEPEST_KEPT:
        return False
    mine = (found.tables if is_good else found.doubtful).setdefault(table, {})
    mine[record] = united(mine[record], ordered(value)) if record in mine else ordered(value)
    return True


def _line_of(text: str, wanted: str) -> int | None:
    at = text.find(wanted)
    return None if at < 0 else 1 + text.count("\n", 0, at)


def _first_line(text: str, is_to_blame: Callable[[str], bool]) -> int:
    """Give the first line to blame, or 1 where none can be told."""
    return next(
        (count for count, line in enumerate(text.split("\n"), start=1) if is_to_blame(line)), 1
    )


def _line_refused(text: str) -> int:
    """Find the line that holds a number or constant no record may hold, or nests too deeply."""

    def is_to_blame(line: str) -> bool:
        for token in re.findall(_WORD, re.sub(_STRING, "", line)):
            try:
                _Reader().read(token)
            except json.JSONDecodeError:
                continue
            except ValueError:
                return True
        return line.count("[") + line.count("{") > _DEEPEST_KEPT

    return _first_line(text, is_to_blame)


def _line_deep(text: str) -> int:
    return _first_line(text, lambda line: line.count("[") + line.count("{") > _DEEPEST_KEPT)


def _line_repeated(text: str, root: Object) -> int:
    """Find the line on which a key stands for the second time in one object."""
    if isinstance(root, _Repeated):
        seen: set[str] = set()
        for name, _ in root.pairs:
            if name in seen:
                found = list(re.finditer(rf'^\s*"{re.escape(name)}"\s*:', text, re.MULTILINE))
                return 1 + text.count("\n", 0, found[-1].end()) if found else 1
            seen.add(name)

    def is_to_blame(line: str) -> bool:
        if not re.fullmatch(_RECORD_LINE, line):
            return False
        reader = _Reader()
        try:
            reader.read(f"{{{line.strip().removesuffix(',')}}}")
        except (ValueError, RecursionError):
            return False
        return bool(reader.repeated)

    return _first_line(text, is_to_blame)
