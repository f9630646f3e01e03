"""Laws of reading a garage's rule file: whatever stands in it, there are rules or faults."""

from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.errors import BadInput
from castlenut.domain.rules.precedence import every_from_text, rule_book
from castlenut.domain.rules.reading import FIELDS
from castlenut.domain.units import Unit
from tests.builders import shipped
from tests.laws.examples import examples

SCALARS = st.sampled_from(
    ["1", "-1", "0.5", '"x"', '""', "true", "nan", "1979-05-27", '"1/0"', '"wheel-off@50"', "1e9"]
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda each: f"[{', '.join(each)}]"),
        st.dictionaries(
            st.sampled_from(["miles", "months", "measure", "at_least", "where", "not", "event"]),
            inner,
            max_size=3,
        ).map(
            lambda each: "{" + ", ".join(f"{key} = {value}" for key, value in each.items()) + "}"
        ),
    ),
    max_leaves=5,
)


@examples(150)
@given(
    st.sampled_from(sorted(shipped().rules)),
    st.dictionaries(st.sampled_from([name for name in FIELDS if name != "id"]), VALUES, max_size=5),
)
def test_a_file_gives_its_rules_or_its_faults_and_with_a_fault_the_shipped_rules(
    id_: str, fields: dict[str, str]
) -> None:
    """ "if the garage text has any fault: the shipped rules alone"."""
    text = f'[[rule]]\nid = "{id_}"\n' + "".join(f"{key} = {fields[key]}\n" for key in fields)

    book, faults = rule_book(shipped(), text)

    without, _ = rule_book(shipped(), None)
    if faults:
        assert book == without
        assert all(str(fault).startswith("rules.toml line ") for fault in faults)
    else:
        assert set(book.rules) == set(without.rules)


@given(st.text(max_size=200))
def test_any_text_at_all_is_read_or_refused(text: str) -> None:
    book, _ = rule_book(shipped(), text)

    assert set(shipped().rules) <= set(book.rules)


@given(st.text(alphabet="0123456789kmdwyi/-., ", max_size=10))
def test_an_interval_as_typed_has_a_side_above_nothing_or_is_refused(text: str) -> None:
    try:
        every = every_from_text(text, Unit.KM)
    except BadInput:
        return

    sides = [each for each in (every.distance, every.months, every.days) if each is not None]
    assert sides
    assert all(side > 0 for side in sides)
