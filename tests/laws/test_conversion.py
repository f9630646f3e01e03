"""A conversion there and back restores the items: the same rules on the same places."""

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.car import Car
from castlenut.domain.component import Component
from castlenut.domain.conversion import parts_of
from castlenut.domain.due import items_today
from castlenut.domain.frozen import replace
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Place, place
from tests.builders import book, car, part, reading

THERE, BACK, LOOKED = date(2026, 3, 1), date(2026, 3, 8), date(2026, 4, 11)
READ = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))
ARMS = ("LF lower", "LF upper", "RF lower", "RF upper", "rear")


def converted(before: Car, name: str, on: date) -> Car:
    """Carry a conversion out on the record as it stands: old parts off, new ones on."""
    rules = book()
    parts = parts_of(rules.conversions[name], before, rules.kinds, on=on)
    ended = {old.record for old in parts.ends}
    kept = tuple(
        replace(each, removed_on=on) if each.record in ended else each for each in before.components
    )
    new = tuple(
        Component(
            record=RecordId(f"{name}-{number}"),
            kind=each.kind,
            place=each.place,
            attributes=each.attributes,
            on=on,
        )
        for number, each in enumerate(parts.begins)
    )
    return replace(before, components=(*kept, *new))


def schedule(of: Car) -> set[tuple[str, Place | None]]:
    return {(item.rule.id, item.place) for item in items_today(of, book(), today=LOOKED).items}


@given(st.sets(st.sampled_from(ARMS), min_size=1), st.sampled_from(["rubber", "polyurethane"]))
def test_bushings_there_and_back(arms: set[str], material: str) -> None:
    fitted = [
        part("bushing", where, on="2025-06-01", at=48000, material=material)
        for where in sorted(arms)
    ]
    before = car(*fitted, part("alignment", on="2025-06-01", at=48000), readings=READ)
    there, back = (
        ("poly-bushings", "rubber-bushings")
        if material == "rubber"
        else ("rubber-bushings", "poly-bushings")
    )

    between = converted(before, there, THERE)
    after = converted(between, back, BACK)

    assert schedule(between) != schedule(before)
    assert schedule(after) == schedule(before)
    assert {each.place for each in after.fitted(LOOKED) if each.kind == "bushing"} == {
        place(where) for where in arms
    }


@given(st.sampled_from(["DOT 3", "DOT 4", "DOT 5.1", "DOT 5"]), st.booleans())
def test_brake_fluid_there_and_back(fluid: str, has_more: bool) -> None:  # noqa: FBT001 - a case
    others = [part("brake line"), part("master cylinder")] if has_more else []
    before = car(
        part("brake fluid", on="2025-06-01", at=48000, fluid=fluid), *others, readings=READ
    )
    there, back = "silicone-fluid", "glycol-fluid"
    if fluid == "DOT 5":
        there, back = back, there

    between = converted(before, there, THERE)
    after = converted(between, back, BACK)

    assert schedule(between) != schedule(before)
    assert schedule(after) == schedule(before)
