"""The text of `feed.json`."""

from castlenut.store.ledger_file import ledger_bytes, ledger_tables


def test_one_event_a_line_and_keys_sorted() -> None:
    tables = {
        "feeds": {},
        "events": {"b": {"start": "2027-06-12", "days": 1}, "a": {"summary": "Öl, grün"}},
    }

    assert ledger_bytes(tables).decode() == (
        "{\n"
        '"events": {\n'
        '"a": {"summary":"Öl, grün"},\n'
        '"b": {"days":1,"start":"2027-06-12"}\n'
        "},\n"
        '"feeds": {}\n'
        "}\n"
    )


def test_what_was_written_is_read() -> None:
    tables = {"events": {"a": {"summary": 'x "y" \\ \u2028', "alarms": ["-P6DT15H"]}}, "feeds": {}}

    assert ledger_tables(ledger_bytes(tables)) == tables


def test_half_a_character_is_kept_as_its_escape() -> None:
    tables: dict[str, dict[str, object]] = {"targets": {"/srv/\udcff.ics": {"fault": None}}}

    data = ledger_bytes(tables)

    assert b"\\udcff" in data
    assert ledger_tables(data) == tables


def test_what_is_no_ledger_reads_as_none() -> None:
    for data in (b"", b"[]", b"{", b"\xff\xfe", b"[" * 100_000, b"1" * 5000):
        assert ledger_tables(data) is None
