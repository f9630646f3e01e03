"""The forgetting pass within the merge law: what one copy forgot, every copy it meets forgets."""

from hypothesis import given
from hypothesis import strategies as st

from castlenut.store.forgetting import forgotten
from castlenut.store.merge import in_order
from castlenut.store.revisions import Added, Changed, Edit, Forgotten
from castlenut.store.values import Object, Value, canonical
from tests.laws.copies import Clock, Copy, all_merged
from tests.laws.examples import examples
from tests.laws.test_merge import IDS, content, revisions, united, written

VEHICLE = "01a20000-0000-7000-8000-0000000000f1"


@st.composite
def forgetting(draw: st.DrawFn) -> Object:
    """A revision of few names, which forgets fields now and then."""
    found = draw(revisions())
    fields = draw(st.none() | st.sets(st.sampled_from(["figure", "note"]), min_size=1))
    return found if fields is None else {**found, "forget": [*sorted(fields)]}


records = st.lists(forgetting(), min_size=1, max_size=5)
states = records.map(lambda found: content({"reading": {IDS[0]: {"revs": [*found]}}}))


@examples(25)
@given(states, states, states)
def test_the_laws_of_merging_hold_with_it(one, two, three) -> None:  # type: ignore[no-untyped-def]  # noqa: ANN001
    """ "Commutative, associative, idempotent, and merge(a, a) == a to the byte"."""
    assert written(united(one, two)) == written(united(two, one))
    assert written(united(united(one, two), three)) == written(united(one, united(two, three)))
    assert written(united(one, one)) == written(one)
    assert written(united(united(one, two), two)) == written(united(one, two))


@given(records)
def test_only_what_was_forgotten_goes_and_all_of_it(found: list[Object]) -> None:
    """Against the plain reading of the rule: walk the ancestors of each forgetting revision."""
    after = forgotten(found)

    assert len(after) == len(found)
    for before, now in zip(found, after, strict=True):
        assert isinstance(now, dict)
        gone = {
            field
            for each in found
            for field in _list(each.get("forget", []))
            if _knew(each, before["rev"], found)
        }
        values = before["set"]
        assert isinstance(values, dict)
        assert now["set"] == {name: v for name, v in values.items() if name not in gone}
        assert {**now, "set": 0} == {**before, "set": 0}


@given(records)
def test_done_twice_it_is_done_once(found: list[Object]) -> None:
    once = in_order([*found])

    assert [canonical(each) for each in in_order(once)] == [canonical(each) for each in once]


def _knew(later: Object, rev: Value, among: list[Object]) -> bool:
    def before(name: Value, seen: frozenset[str]) -> bool:
        return any(
            named == rev or (str(named) not in seen and before(named, seen | {str(named)}))
            for each in among
            if each["rev"] == name
            for named in _list(each["after"])
        )

    return any(
        named == rev or before(named, frozenset({str(named)})) for named in _list(later["after"])
    )


def _list(value: Value) -> list[Value]:
    assert isinstance(value, list)
    return value


@examples(20)
@given(
    st.lists(st.sampled_from(["a owner", "b owner", "a merge", "b merge", "undo"]), max_size=6),
    st.lists(st.sampled_from(["b owner", "b merge", "b year"]), max_size=4),
)
def test_after_a_merge_no_copy_holds_what_was_known_when_it_was_forgotten(
    before: list[str], after: list[str]
) -> None:
    """Whatever was entered, corrected and taken back on two copies that met now and then."""
    clock = Clock()
    one, two = Copy("dev-a", clock), Copy("dev-b", clock)
    values: dict[str, Value] = {"slug": "x", "description": "x", "unit": "mi", "digits": 5}
    one.save([Added(table="vehicle", id=VEHICLE, values={**values, "owner": "SECRET"})])
    two.merge(one)
    for number, act in enumerate(before):
        _do(act, one, two, f"SECRET {number}")
    one.merge(two)
    one.save([Forgotten(table="vehicle", id=VEHICLE, fields=("owner", "phone"))])
    for number, act in enumerate(after):
        _do(act, one, two, f"LATER {number}")

    assert b"SECRET" not in one.data
    assert b"SECRET" not in all_merged([one, two])
    assert b"SECRET" not in all_merged([two, one])


def _do(act: str, one: Copy, two: Copy, owner: str) -> None:
    edit: list[Edit] = [Changed(table="vehicle", id=VEHICLE, values={"owner": owner})]
    match act:
        case "a owner":
            one.save(edit)
        case "b owner":
            two.save(edit)
        case "a merge":
            one.merge(two)
        case "b merge":
            two.merge(one)
        case "b year":
            two.save([Changed(table="vehicle", id=VEHICLE, values={"year": 1950 + len(owner)})])
        case _:
            one.undo()
