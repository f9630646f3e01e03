from decimal import Decimal

import pytest

from castlenut.domain.errors import BadInput
from castlenut.store.schema import TABLES, check_record, control_fields, typed
from castlenut.store.values import Value

READING: dict[str, Value] = {"figure": 41200, "on": "2026-11-25", "unit": "mi"}


@pytest.mark.parametrize(
    ("table", "field", "text", "value"),
    [
        ("reading", "figure", "41200", 41200),
        ("reading", "figure", "41,200.50", Decimal("41200.5")),
        ("reading", "unit", "KM", "km"),
        ("reading", "on", " 2026-11-25 ", "2026-11-25"),
        ("reading", "judged", "", None),
        ("vehicle", "digits", "6", 6),
        ("vehicle", "tenths", "yes", True),
        ("vehicle", "owner", "", None),
        ("component", "place", "lf UPPER", "LF upper"),
        ("component", "attributes", "service=repackable, friction=disc", {
            "service": "repackable", "friction": "disc"}),
        ("component", "every", "12k/24m", "12k/24m"),
        ("job", "cost", "65", "65.00"),
        ("job", "cost", "65.5", "65.50"),
        ("job", "items", "a~1, b~2", ["a~1", "b~2"]),
        ("measurement", "value", "7,7,6", [7, 7, 6]),
        ("measurement", "value", "4.5", Decimal("4.5")),
        ("measurement", "value", "not good", "not good"),
        ("wheel", "offset", "-6", -6),
        ("figure", "value", "75-85", "75-85"),
        ("odometer_event", "event", "rolled over", "rolled over"),
        ("garage", "hours", "mon:7,tue:7.5", {"mon": 7, "tue": Decimal("7.5")}),
        ("garage", "closed", "2026-12-25,2026-12-26", ["2026-12-25", "2026-12-26"]),
    ],
)  # fmt: skip
def test_a_typed_text_is_read_by_its_fields_type(
    table: str, field: str, text: str, value: Value
) -> None:
    assert typed(table, field, text) == value


@pytest.mark.parametrize(
    ("table", "field", "text", "what"),
    [
        ("reading", "figure", "abc", 'figure is "abc", a number is needed'),
        ("reading", "figure", "-4", 'figure is "-4", a number of 0 or more is needed'),
        ("reading", "figure", "1e5", 'figure is "1e5", a number is needed'),
        ("reading", "on", "2026-02-30",
         'on is "2026-02-30", a day that exists, as 2026-11-25, is needed'),
        ("reading", "unit", "m", 'unit is "m", one of mi, km is needed'),
        ("reading", "figure", "", "figure may not be empty"),
        ("vehicle", "digits", "3", 'digits is "3", a whole number from 4 to 7 is needed'),
        ("job", "cost", "1.005",
         'cost is "1.005", an amount of money with at most two decimals is needed'),
        ("vehicle", "description", "a\x1b[31mb", "description holds control characters"),
        ("vehicle", "description", "a\u202eb", "description holds control characters"),
        ("vehicle", "description", "x" * 201, "description has 201 characters, 200 at most"),
        ("vehicle", "note", "x" * 65_537, "note has 65537 characters, 65536 at most"),
        ("vehicle", "note", "a\rb", "note holds control characters"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_told_with_its_field(
    table: str, field: str, text: str, what: str
) -> None:
    with pytest.raises(BadInput) as refused:
        typed(table, field, text)

    assert refused.value.faults[0].what == what


def test_a_private_value_stands_in_no_message() -> None:
    faults = check_record("vehicle", {"vin": 17})

    assert faults[0].what == "vin is something else, a text is needed"


def test_a_near_miss_of_a_field_is_named() -> None:
    with pytest.raises(BadInput) as refused:
        typed("reading", "figur", "1")

    assert str(refused.value.faults[0]) == (
        'reading "figur": "figur" is no field of reading; did you mean figure?'
    )


def test_a_near_miss_of_a_table_is_named() -> None:
    with pytest.raises(BadInput) as refused:
        typed("readings", "figure", "1")

    assert refused.value.faults[0].remedy == "did you mean reading?"


def test_all_faults_of_a_record_are_told_at_once() -> None:
    faults = check_record("reading", {"figure": "x", "unit": "mi", "judged": "wrong"})

    assert [fault.what for fault in faults] == [
        'figure is "x", a number is needed',
        'judged is "wrong", "right" or nothing is needed',
        "on is missing",
    ]


def test_a_whole_record_has_no_fault() -> None:
    assert check_record("reading", READING) == ()


def test_a_wheel_may_stand_without_a_tire_but_not_without_either() -> None:
    alone = check_record("placement", {"wheel": "w", "on": "2026-11-25", "place": "LF"})
    neither = check_record("placement", {"on": "2026-11-25", "place": "LF"})

    assert alone == ()
    assert [fault.what for fault in neither] == ["tire or wheel is missing"]


@pytest.mark.parametrize(
    "value", [True, "41200", [41200], Decimal("0.1234567890123456789"), 10**15]
)
def test_a_figure_is_a_number_of_at_most_fifteen_digits(value: Value) -> None:
    assert check_record("reading", {**READING, "figure": value})


def test_notes_may_have_lines_and_tabs() -> None:
    assert check_record("reading", {**READING, "note": "one\n\ttwo"}) == ()


def test_fields_with_control_characters_are_named() -> None:
    values: dict[str, Value] = {"description": "a\u202eb", "note": "a\nb", "owner": "plain"}

    assert control_fields("vehicle", values) == ("description",)


def test_every_table_takes_a_note() -> None:
    assert all("note" in table.fields for table in TABLES.values())


def test_the_tables_are_those_of_the_record() -> None:
    assert sorted(TABLES) == [
        "component", "decline", "exposure", "figure", "finding", "garage", "happening", "job",
        "measurement", "odometer_event", "own_item", "placement", "reading", "room",
        "rule_change", "statement", "stay", "tire", "vehicle", "visit", "wheel",
    ]  # fmt: skip
