"""Texts of files, whole and damaged, to contents and faults. The records are invented."""

import pytest

from castlenut.store.content import Content, FileKind
from castlenut.store.decoding import Damaged, Newer, decode, salvage
from castlenut.store.encoding import encoded

ONE = "01a20000-0000-7000-8000-000000000001"
TWO = "01a20000-0000-7000-8000-00005f2c61d0"
HEADER = (
    '"castlenut": {"file":"vehicle","schema":1,"vehicle":"01a20000-0000-7000-8000-00000000cccc"}'
)
REV = (
    '{"after":[],"at":"2026-11-25T13:17:13.123Z","by":"dev-1a2b3c","n":1,'
    '"rev":"01a20000-0000-7000-8000-0000000000aa.0",'
    '"set":{"figure":41200,"on":"2026-11-25","unit":"mi"}}'
)


def text(*records: str, table: str = "reading", header: str = HEADER) -> bytes:
    rows = ",\n".join(records)
    return f'{{\n{header},\n"{table}": {{\n{rows}\n}}\n}}\n'.encode()


def record(name: str, *revisions: str) -> str:
    return f'"{name}": {{"revs":[{",".join(revisions)}]}}'


WHOLE = text(record(ONE, REV), record(TWO, REV))


def read(data: bytes) -> Content:
    found = decode(data, FileKind.VEHICLE)
    assert isinstance(found, Content)
    return found


def test_what_is_written_reads_back_to_the_same_bytes() -> None:
    content = read(WHOLE)

    data, _ = encoded(content, {})

    assert data == WHOLE


@pytest.mark.parametrize(
    "data",
    [
        b"\xef\xbb\xbf" + WHOLE,
        WHOLE.replace(b"\n", b"\r\n"),
        WHOLE.replace(b"\n", b" ").replace(b",", b" , "),
        WHOLE.replace(b'"figure":41200,"on":"2026-11-25"', b'"on":"2026-11-25","figure":41200.0'),
        WHOLE.replace(b'"after":[],', b"").replace(b'"n":1,', b'"n":1,"after":[],'),
    ],
    ids=["byte order mark", "crlf", "one line", "whole number with a point", "key order"],
)
def test_any_layout_is_read_and_the_one_form_is_written(data: bytes) -> None:
    written, _ = encoded(read(data), {})

    assert written == WHOLE


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (b"", 1),
        (b"[]", 1),
        (b"{}", 1),
        (WHOLE[:-60], 5),
        (WHOLE + b"x", 8),
        (WHOLE.replace(b"41200", b"NaN", 1), 4),
        (WHOLE.replace(b"41200", b"-Infinity", 1), 4),
        (WHOLE.replace(b"41200", b"1e999", 1), 4),
        (WHOLE.replace(b"41200", b"4" * 4301, 1), 4),
        (WHOLE.replace(b"dev-1a2b3c", b"dev\x00", 1), 4),
        (WHOLE.replace(b"dev-1a2b3c", b"dev\xff", 1), 4),
        (WHOLE.replace(b'"n":1', b'"n":1,"n":1', 1), 4),
        (WHOLE.replace(b"41200", b"[" * 100_000 + b"]" * 100_000, 1), 4),
        (WHOLE.replace(b"41200", b"[" * 200 + b"]" * 200, 1), 4),
        (WHOLE.replace(b'"reading": {', b'"reading": [').replace(b"}\n}\n", b"]}"), 4),
        (WHOLE.replace(b'"schema":1', b'"schema":0'), 2),
        (WHOLE.replace(b'"schema":1', b'"schema":true'), 2),
        (WHOLE.replace(b'"schema":1', b'"schema":"1"'), 2),
        (WHOLE.replace(b'"file":"vehicle"', b'"file":"garage"'), 2),
        (WHOLE.replace(b'"vehicle":"01a2', b'"wagon":"01a2'), 2),
        (f'{{\n{HEADER},\n"reading": 5\n}}'.encode(), 3),
        (WHOLE.replace(b"\n}\n}\n", b'\n},\n"reading": {}\n}\n'), 7),
    ],
)  # fmt: skip
def test_a_file_that_is_no_record_is_damaged_at_a_line(data: bytes, line: int) -> None:
    assert decode(data, FileKind.VEHICLE) == Damaged(line)


def test_a_newer_format_is_told_before_anything_else_is_asked() -> None:
    data = b'{"castlenut": {"schema": 3, "kind": "other"}, "reading": 5}'

    assert decode(data, FileKind.VEHICLE) == Newer(3)


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ('"figure":41200', '"figure":"abc"', 'figure is "abc", a number is needed'),
        ('"figure":41200', '"figure":-1', "figure is -1, a number is needed"),
        ('"figure":41200', '"figure":true', "figure is true, a number is needed"),
        ('"figure":41200', '"figure":1234567890123456',
         "figure is 1234567890123456, a number is needed"),
        ('"figure":41200', '"figure":[[[[[1]]]]]', "figure is nested deeper than 4"),
        ('"figure":41200', '"figure":41200,"odd":[[[[[1]]]]]', "odd is nested deeper than 4"),
        ('"unit":"mi"', '"unit":"furlong"', 'unit is "furlong", one of mi, km is needed'),
        ('"2026-11-25","unit"', '"2026-02-30","unit"',
         'on is "2026-02-30", a day that exists, as 2026-11-25, is needed'),
        ('"on":', '"note":"\\ud800","on":', "note holds half a character"),
        (',"unit":"mi"', "", "unit is missing"),
        ('"by":"dev-1a2b3c",', "", "a revision has no by, or one that cannot be"),
        ('"at":"2026-11-25T13', '"at":"2026-13-25T13',
         "a revision has no at, or one that cannot be"),
        ('"after":[]', '"after":null', "a revision has no after, or one that cannot be"),
        ("aa.0", "aa", "a revision has no rev, or one that cannot be"),
        ('"after":[]', '"after":["01a20000-0000-7000-8000-0000000000aa.0"]',
         "a revision stands among its own ancestors"),
    ],
)  # fmt: skip
def test_a_record_that_does_not_check_is_set_aside_and_kept(old: str, new: str, why: str) -> None:
    odd = REV.replace(old, new)
    data = text(record(ONE, REV), record(TWO, odd))

    content = read(data)
    written, _ = encoded(content, {})

    assert content.set_aside == {("reading", TWO): why}
    assert [name for _, name, _ in content.usable()] == [ONE]
    assert written == data


@pytest.mark.parametrize(
    ("value", "why"),
    [
        ('"abc"', "it is not an object"),
        ("null", "it is not an object"),
        ('{"revs":[]}', "it has no revisions"),
        ('{"revs":5}', "it has no revisions"),
        ('{"revs":["x"]}', "a revision is not an object"),
    ],
)
def test_what_is_no_record_is_set_aside_and_kept(value: str, why: str) -> None:
    data = text(record(ONE, REV), f'"{TWO}": {value}')

    content = read(data)

    assert content.set_aside == {("reading", TWO): why}
    assert encoded(content, {})[0] == data


def test_unknown_tables_and_fields_are_kept() -> None:
    odd = REV.replace('"on"', '"hue":{"deep":[1]},"on"').replace('"rev"', '"new":"x","rev"')
    data = text(record(ONE, odd), table="reading").replace(
        b"\n}\n}\n", b'\n},\n"zeppelin": {\n"a": 5,\n"b": {"revs":[]}\n}\n}\n'
    )

    content = read(data)

    assert content.set_aside == {}
    assert encoded(content, {})[0] == data


def test_an_id_that_stands_twice_in_a_table_is_united() -> None:
    other = REV.replace("aa.0", "bb.0").replace("41200", "41300")

    content = read(text(record(ONE, REV), record(ONE, other)))

    assert content.stood_twice == (("reading", ONE),)
    assert encoded(content, {})[0] == text(record(ONE, REV, other))


def test_whole_lines_of_a_damaged_file_can_be_salvaged() -> None:
    three = "01a20000-0000-7000-8000-000000000003"
    data = text(record(ONE, REV), record(TWO, REV)[:-40], record(three, REV)) + b"<<<<"

    saved = salvage(data, FileKind.VEHICLE)

    assert sorted(saved.tables["reading"]) == [ONE, three]
    assert saved.records == 2
    assert list(saved.unread) == [5, 9]


def test_an_empty_table_is_left_out() -> None:
    content = read(b"{" + HEADER.encode() + b', "reading": {}}')

    assert encoded(content, {})[0] == f"{{\n{HEADER}\n}}\n".encode()
