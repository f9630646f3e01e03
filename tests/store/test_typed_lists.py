"""Lists and tables as they are typed and stand in a cell: what holds a comma stands in quotes."""

import pytest

from castlenut.store.fields import in_list
from castlenut.store.schema import typed


@pytest.mark.parametrize(
    ("text", "members"),
    [
        ("a, b,c", ["a", "b", "c"]),
        ('"new linings, bed in", b', ["new linings, bed in", "b"]),
        ('5", 6"', ['5"', '6"']),
        ('"say ""no"", then"', ['say "no", then']),
        ("a,,b,", ["a", "b"]),
        ('"not closed, b', ['"not closed', "b"]),
    ],
)
def test_a_list_is_parted_at_commas_outside_quotes(text: str, members: list[str]) -> None:
    assert typed("job", "items", text) == members


def test_a_table_takes_a_value_in_quotes() -> None:
    assert typed("component", "attributes", 'type=leaf, note="left, then right"') == {
        "type": "leaf",
        "note": "left, then right",
    }


@pytest.mark.parametrize("text", ["a", "a, b", '"a', "", " a", 'a "b", c'])
def test_what_was_put_into_a_list_is_read_back(text: str) -> None:
    assert typed("job", "items", f"x, {in_list(text)}, y") == ["x", text, "y"]
