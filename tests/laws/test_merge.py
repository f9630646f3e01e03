"""The merge law over three diverged histories, and over whatever else a file may hold."""

from hypothesis import given
from hypothesis import strategies as st

from castlenut.store.content import Content, FileKind, examined
from castlenut.store.decoding import decode
from castlenut.store.encoding import encoded
from castlenut.store.merge import Tables, merge
from castlenut.store.revisions import as_record
from castlenut.store.schema import SCHEMA
from castlenut.store.values import Object, Value
from tests.laws.examples import examples

HEADER: Object = {
    "file": "vehicle",
    "schema": SCHEMA,
    "vehicle": "01a20000-0000-7000-8000-00000000cccc",
}
IDS = tuple(f"01a20000-0000-7000-8000-00000000000{digit}" for digit in range(3))
REVS = tuple(f"c{digit}.0" for digit in range(6))


def content(tables: Tables) -> Content:
    """Give what a program holds of such a file: as it reads it from the disk."""
    data, _ = encoded(examined(FileKind.VEHICLE, HEADER, tables), {})
    found = decode(data, FileKind.VEHICLE)
    assert isinstance(found, Content)
    return found


def united(*states: Content) -> Content:
    """Merge states one after the other, each result read back from its bytes."""
    whole = states[0]
    for each in states[1:]:
        whole = content(merge(whole.tables, each.tables))
    return whole


def written(state: Content) -> bytes:
    return encoded(state, {})[0]


@st.composite
def revisions(draw: st.DrawFn) -> Object:
    """Few names, so that some differ under an equal name and some come after missing ones."""
    place = draw(st.integers(0, len(REVS) - 1))
    values: Object = draw(
        st.fixed_dictionaries(
            {},
            optional={
                "figure": st.integers(0, 3),
                "unit": st.sampled_from(["mi", "km"]),
                "on": st.just("2026-11-25"),
                "note": st.none() | st.sampled_from(["x", "ö"]),
            },
        )
    )
    found: Object = {
        "after": list(draw(st.sets(st.sampled_from(REVS[:place] or ("x.0",)), max_size=2))),
        "at": f"2026-11-25T13:17:0{draw(st.integers(0, 3))}.000Z",
        "by": draw(st.sampled_from(["dev-a", "dev-b"])),
        "n": draw(st.integers(1, 3)),
        "rev": REVS[place],
        "set": values,
    }
    gone = draw(st.none() | st.booleans())
    if gone is not None:
        found["gone"] = gone
    undoes = draw(st.none() | st.just("c1"))
    if undoes is not None:
        found["undoes"] = undoes
    return found


def records() -> st.SearchStrategy[Value]:
    usual: st.SearchStrategy[Value] = st.lists(revisions(), min_size=1, max_size=4).map(
        lambda found: {"revs": list(found)}
    )
    odd: st.SearchStrategy[Value] = st.sampled_from(
        [
            "abc",
            5,
            None,
            {"revs": 5},
            {"revs": ["x"]},
            {"more": 1},
            {"aside": ["abc"]},
            {"revs": [], "more": 2},
        ]
    )
    return st.one_of(usual, usual, usual, odd)


def states() -> st.SearchStrategy[Content]:
    tables = st.dictionaries(
        st.sampled_from(["reading", "zeppelin"]),
        st.dictionaries(st.sampled_from(IDS), records(), max_size=3),
        max_size=2,
    )
    return tables.map(content)


@st.composite
def diverged(draw: st.DrawFn) -> tuple[Content, Content, Content]:
    """Three copies that began as one and went on apart."""
    common = draw(states())
    one, two, three = (united(common, draw(states())) for _ in range(3))
    return one, two, three


@examples(40)
@given(diverged())
def test_merge_is_commutative_to_the_byte(copies: tuple[Content, Content, Content]) -> None:
    """ "Hence commutative, associative, idempotent" (the merge law)."""
    one, two, _ = copies

    assert written(united(one, two)) == written(united(two, one))


@examples(40)
@given(diverged())
def test_merge_is_associative_to_the_byte(copies: tuple[Content, Content, Content]) -> None:
    """The copies may meet in any order."""
    one, two, three = copies

    assert written(united(united(one, two), three)) == written(united(one, united(two, three)))


@examples(60)
@given(states())
def test_merging_a_copy_with_itself_changes_no_byte(state: Content) -> None:
    """`merge(a, a) == a` to the byte."""
    assert written(united(state, state)) == written(state)


@examples(40)
@given(diverged())
def test_merging_again_what_was_merged_changes_no_byte(
    copies: tuple[Content, Content, Content],
) -> None:
    """What is in already comes in once."""
    one, two, _ = copies
    both = united(one, two)

    assert written(united(both, two)) == written(both)
    assert written(united(one, both)) == written(both)


@examples(40)
@given(diverged())
def test_no_revision_is_lost_or_made_up(copies: tuple[Content, Content, Content]) -> None:
    """The set union by value, against plain sets of texts."""
    one, two, _ = copies
    both = united(one, two)

    for table in ("reading", "zeppelin"):
        for record in IDS:
            lists = [_texts(each, table, record) for each in (one, two, both)]
            assert lists[2] == lists[0] | lists[1]


def _texts(state: Content, table: str, record: str) -> set[str]:
    value = state.tables.get(table, {}).get(record)
    found = value.get("revs") if isinstance(value, dict) else None
    return (
        {repr(sorted(each.items())) for each in found if isinstance(each, dict)}
        if isinstance(found, list)
        else set()
    )


@given(st.lists(revisions(), min_size=1, max_size=6))
def test_the_record_does_not_depend_on_the_order_of_its_revisions(found: list[Object]) -> None:
    """A record is what the set of its revisions says."""
    straight = as_record("reading", IDS[0], found)
    reversed_ = as_record("reading", IDS[0], found[::-1])

    assert straight.values == reversed_.values
    assert straight.gone == reversed_.gone
    assert straight.differences == reversed_.differences
    assert straight.heads == reversed_.heads


@given(st.lists(revisions(), min_size=1, max_size=6))
def test_a_value_stands_exactly_if_none_that_knew_it_set_the_field(found: list[Object]) -> None:
    """Against the plain reading of the rule: walk the ancestors of each revision, all cases."""
    record = as_record("reading", IDS[0], found)

    for name in ("figure", "unit", "on", "note"):
        setters = [each for each in found if name in _set(each)]
        standing = [
            each for each in setters if not any(_knew(other, each, found) for other in setters)
        ]
        expected = {repr(_set(each)[name]) for each in standing}
        shown = record.differences.get(name)
        if shown is not None:
            assert {repr(each.value) for each in shown} == expected
        elif setters:
            assert expected == {repr(record.values.get(name))}


def _set(revision: Object) -> Object:
    values = revision["set"]
    assert isinstance(values, dict)
    return values


def _knew(later: Object, earlier: Object, among: list[Object]) -> bool:
    def before(name: Value) -> bool:
        return any(
            named == earlier["rev"] or before(named)
            for each in among
            if each["rev"] == name
            for named in _list(each["after"])
        )

    return before(later["rev"])


def _list(value: Value) -> list[Value]:
    assert isinstance(value, list)
    return value
