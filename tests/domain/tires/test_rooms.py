"""Which measured room holds for the wheels now on a car, and what is left of it."""

from datetime import date
from decimal import Decimal

from castlenut.domain.car import Car
from castlenut.domain.component import Component
from castlenut.domain.dial import Dial
from castlenut.domain.happenings import Job
from castlenut.domain.ids import ItemId, RecordId, RuleId, VehicleId
from castlenut.domain.place import Place, Spot
from castlenut.domain.tires.axle import Axle
from castlenut.domain.tires.room import EdgeChange
from castlenut.domain.tires.rooms import left_on, not_at_full_lock, rooms_here, tightest
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Vehicle
from castlenut.domain.wheels import Placement, Room, Tire, Wheel

MEASURED = date(2026, 11, 10)
ALIGN = RuleId("align")
CHANGE = EdgeChange(inner_mm=6.0, outer_mm=4.0)


def tire(name: str, size: str = "205/60R15") -> Tire:
    return Tire(record=RecordId(name), size=size)


def wheel(name: str, offset: str = "10") -> Wheel:
    return Wheel(
        record=RecordId(name),
        rim_width_in=Decimal(6),
        rim_diameter_in=Decimal(15),
        offset_mm=Decimal(offset),
    )


def placed(record: str, on: date, tire: str, wheel: str | None, spot: Spot | None) -> Placement:
    return Placement(
        record=RecordId(record),
        tire=RecordId(tire),
        wheel=None if wheel is None else RecordId(wheel),
        spot=spot,
        on=on,
    )


def room(record: str = "r5", when: str = "straight", *, aligned: bool | None = None) -> Room:
    return Room(
        record=RecordId(record),
        spot=Spot.LF,
        inner_mm=Decimal(14),
        outer_mm=Decimal(9),
        caliper_mm=None,
        when=when,
        is_aligned=aligned,
        on=MEASURED,
    )


ON_AT_FIRST = placed("p1", date(2026, 10, 1), "old", "w", Spot.LF)


def car(**parts: object) -> Car:
    given: dict[str, object] = {
        "tires": (tire("old"),),
        "wheels": (wheel("w"),),
        "placements": (ON_AT_FIRST,),
        "rooms": (room(),),
        **parts,
    }
    return Car(
        id=VehicleId("v"),
        vehicle=Vehicle(
            record=RecordId("v"),
            slug="rill",
            description="Wendlecot Rill",
            dial=Dial(digits=6, tenths=False, unit=Unit.MI),
        ),
        **given,  # type: ignore[arg-type] # parts of a car by name
    )


def test_room_holds_while_the_set_it_was_measured_for_is_on() -> None:
    (found,) = rooms_here(car(), alignment_rules=frozenset())

    assert found.is_of_this_set
    assert not found.is_to_measure_again


def test_another_size_since_makes_it_a_room_of_another_set() -> None:
    after = placed("p9", date(2026, 11, 20), "new", "w", Spot.LF)

    (found,) = rooms_here(
        car(tires=(tire("old"), tire("new", "195/65R15")), placements=(ON_AT_FIRST, after)),
        alignment_rules=frozenset(),
    )

    assert not found.is_of_this_set
    assert left_on(Axle.FRONT, (found,), CHANGE) == ()


def test_an_equal_tire_on_an_equal_wheel_keeps_the_room() -> None:
    after = placed("p9", date(2026, 11, 20), "new", "w2", Spot.LF)

    (found,) = rooms_here(
        car(
            tires=(tire("old"), tire("new", "205/60 R 15")),
            wheels=(wheel("w"), wheel("w2")),
            placements=(ON_AT_FIRST, after),
        ),
        alignment_rules=frozenset(),
    )

    assert found.is_of_this_set


def test_what_was_fitted_later_that_very_day_was_not_measured() -> None:
    """The room was entered as r5: p4 before it, s9 after it."""
    later = placed("s9", MEASURED, "new", "w", Spot.LF)
    sooner = placed("p4", MEASURED, "new", "w", Spot.LF)
    tires = (tire("old"), tire("new", "195/65R15"))

    (after,) = rooms_here(
        car(tires=tires, placements=(ON_AT_FIRST, later)), alignment_rules=frozenset()
    )
    (before,) = rooms_here(
        car(tires=tires, placements=(ON_AT_FIRST, sooner)), alignment_rules=frozenset()
    )

    assert not after.is_of_this_set
    assert before.is_of_this_set


def test_an_alignment_after_it_asks_for_it_again() -> None:
    job = Job(
        record=RecordId("j"),
        on=date(2026, 11, 20),
        items=(ItemId(rule=ALIGN, component=RecordId("a")),),
    )

    (found,) = rooms_here(car(jobs=(job,)), alignment_rules=frozenset({ALIGN}))

    assert found.aligned_since == date(2026, 11, 20)
    assert found.is_to_measure_again


def test_a_spacer_that_came_since_gives_room_inside_and_takes_it_outside() -> None:
    spacer = Component(
        record=RecordId("s"),
        kind="spacer",
        place=Place(Spot.FRONT),
        attributes={"thickness": "5 mm"},
        on=date(2026, 11, 20),
    )

    (found,) = rooms_here(car(components=(spacer,)), alignment_rules=frozenset())

    assert (found.gaps.inner_mm, found.gaps.outer_mm) == (19.0, 4.0)


def test_the_tightest_stance_counts_and_the_missing_one_is_named() -> None:
    """14 and 9 straight, less 6 and 4."""
    straight = rooms_here(car(), alignment_rules=frozenset())
    locked = rooms_here(car(rooms=(room(when="full lock"),)), alignment_rules=frozenset())

    left = left_on(Axle.FRONT, straight, CHANGE)

    assert tightest(left) == (8.0, 5.0)
    assert list(not_at_full_lock(left)) == [Spot.LF]
    assert list(not_at_full_lock(left_on(Axle.FRONT, locked, CHANGE))) == []
