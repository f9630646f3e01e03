"""What is read as plain TOML is what the library's reader reads; what that refuses is not read."""

import tomllib
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.rules.plain_toml import plain
from castlenut.store.shipped import shipped_texts

_PIECES = (
    "a", "b-1", "_c", "7", " = ", "=", " =\n", '"text"', '""', '"a = [1, ]"', '"{"', '"a" = ',
    '"\\t"', "'t'", "# \x00\n",
    "1", "-5", "+5", "007", "1.50", "1.", ".5", "1e5", "0x1f", "1_000", "nan", "inf", "true",
    "false", "2020-01-02", "[", "]", "{", "}", "[[a]]", "[[b]]", "[a]", ",", ", ", ",\n", "\n",
    "\n  ", " ", "\t", "# word", ".", '"""', 'a = "x"\n',
    "b-1 = [1, 2]\n", "a = { a = 1, b = 2 }\n",
    "a = [\n  { a = 1 },\n]\n", "[[a]]\n", "\r\n", "[\n  1,\n]", "[1, 2, ]", "[,]", "[1,,]",
)  # fmt: skip


def agree(text: str) -> bool:
    """Hold both readers against each other; give whether the text was plain."""
    found = plain(text, Decimal)
    if found is not None:
        assert repr(found) == repr(tomllib.loads(text, parse_float=Decimal))
    return found is not None


@given(st.lists(st.sampled_from(_PIECES), max_size=14).map("".join))
def test_pieces_of_toml_in_any_order_are_read_alike_or_not_at_all(text: str) -> None:
    agree(text)


_KEYS = st.one_of(st.text("ab-_7", min_size=1, max_size=3), st.just('"a b"'))
_VALUES = st.recursive(
    st.sampled_from(['"word"', '"a, ] b"', '""', "1", "-3", "2.50", "true"]),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda each: f"[{', '.join(each)}]"),
        st.lists(inner, min_size=1, max_size=3).map(
            lambda each: "[\n  " + ",\n  ".join(each) + ",\n]"
        ),
        st.dictionaries(_KEYS, inner, max_size=3).map(
            lambda each: f"{{ {', '.join(f'{key} = {value}' for key, value in each.items())} }}"
        ),
    ),
    max_leaves=6,
)


@given(
    st.lists(
        st.one_of(
            st.tuples(st.text("ab-_7", min_size=1), _VALUES),
            st.sampled_from(["[[a]]", "# word", ""]),
        )
    )
)
def test_statements_are_read_alike_or_not_at_all(statements: list[tuple[str, str] | str]) -> None:
    lines = [each if isinstance(each, str) else f"{each[0]} = {each[1]}" for each in statements]

    agree("\n".join(lines))


@pytest.mark.parametrize("array", ["rule", "kind", "event", "access", "conversion", "assembly"])
def test_every_shipped_text_is_plain(array: str) -> None:
    shipped = shipped_texts()
    texts = {
        "rule": tuple(shipped.rules.values()),
        "kind": (shipped.kinds,),
        "event": (shipped.events,),
        "access": (shipped.accesses,),
        "conversion": (shipped.conversions,),
        "assembly": (shipped.assemblies,),
    }[array]

    assert all(map(agree, texts))
