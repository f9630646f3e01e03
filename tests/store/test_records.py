"""Stored records become one car's record; what cannot be a value is set aside and told."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.component import Component, Origin
from castlenut.domain.dial import Dial, FactorFrom, Replaced
from castlenut.domain.happenings import Grade, Raised
from castlenut.domain.ids import ItemId, RecordId, RuleId
from castlenut.domain.place import Place, Spot
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive
from castlenut.store.records import CarRead, car_of
from castlenut.store.revisions import StoredRecord
from castlenut.store.values import Value

FIRST = "01a20000-0000-7000-8000-0000000000a1"
SECOND = "01a20000-0000-7000-8000-0000000000a2"
THIRD = "01a20000-0000-7000-8000-0000000000a3"


def stored(table: str, record: str = FIRST, *, gone: bool = False, **values: Value) -> StoredRecord:
    """Give a record as the store hands it over; `from_` stands for the field `from`."""
    return StoredRecord(
        table=table,
        id=record,
        values={name.rstrip("_"): value for name, value in values.items()},
        gone=gone,
        differences={},
        heads=(),
        made=(f"2026-11-25T12:00:00.{record[-2:]}0Z", "dev-test"),
        changed=("2026-11-25T12:00:00.000Z", "dev-test"),
        revisions=(),
    )


def read(*records: StoredRecord) -> CarRead:
    vehicle = stored(
        "vehicle",
        "01a20000-0000-7000-8000-0000000000f1",
        slug="tollgate-wagon",
        description="Tollgate wagon, invented",
        unit="km",
        digits=5,
        tenths=True,
        drive="all",
        year=1961,
    )
    return car_of("car-id", "tollgate-wagon", (vehicle, *records))


def one(*records: StoredRecord, kind: str) -> Component:
    return next(each for each in read(*records).car.components if each.kind == kind)


def test_the_vehicle_record_gives_dial_and_facts() -> None:
    vehicle = read().car.vehicle

    assert vehicle.dial == Dial(unit=Unit.KM, digits=5, tenths=True)
    assert (vehicle.drive, vehicle.year, vehicle.weight_lb) == (Drive.ALL, 1961, None)


def test_the_car_itself_is_a_component() -> None:
    assert one(kind="vehicle").origin is Origin.VEHICLE


def test_readings_of_one_day_come_in_the_order_they_were_entered() -> None:
    later = stored("reading", FIRST, figure=20, on="2026-11-25", unit="km")
    earlier = stored("reading", SECOND, figure=10, on="2026-11-25", unit="km")

    car = read(later, earlier).car

    assert [each.figure for each in car.readings] == [Decimal(20), Decimal(10)]


def test_a_struck_record_is_not_there() -> None:
    assert (
        read(stored("reading", gone=True, figure=1, on="2026-11-25", unit="km")).car.readings == ()
    )


def test_dial_events_have_their_figures_exactly() -> None:
    car = read(
        stored("odometer_event", FIRST, event="factor", on="2026-01-01", factor=Decimal("1.041")),
        stored("odometer_event", SECOND, event="replaced", on="2026-02-01", start=12),
    ).car

    assert car.dial_events == (
        FactorFrom(record=RecordId(FIRST), on=date(2026, 1, 1), factor=Fraction(1041, 1000)),
        Replaced(record=RecordId(SECOND), on=date(2026, 2, 1), start=Decimal(12), last=None),
    )


def test_a_job_has_items_events_and_money() -> None:
    car = read(
        stored(
            "job",
            on="2026-11-20",
            at=50000,
            by="this garage",
            items=[f"hub-repack~{SECOND}"],
            includes=[f"hub-play~{SECOND}"],
            events=["wheel-off LF", "hydraulics-open"],
            hours=Decimal("1.5"),
            cost="97.50",
        )
    ).car

    (job,) = car.jobs
    assert job.by is None
    assert job.items == (ItemId(rule=RuleId("hub-repack"), component=RecordId(SECOND)),)
    assert job.events == (
        Raised(event="wheel-off", place=Place(Spot.LF)),
        Raised(event="hydraulics-open", place=None),
    )
    assert (job.hours, job.cost) == (Decimal("1.5"), Decimal("97.50"))


def test_work_of_another_shop_keeps_its_name() -> None:
    (job,) = read(stored("job", on="2026-11-20", by="Fell Garage")).car.jobs

    assert job.by == "Fell Garage"


def test_a_measurement_is_a_figure_a_list_or_a_grade() -> None:
    car = read(
        stored(
            "measurement", FIRST, measure="rotor_runout", value=Decimal("0.004"), on="2026-11-20"
        ),
        stored("measurement", SECOND, measure="tread_depth", value=[7, 7, 6], on="2026-11-20"),
        stored("measurement", THIRD, item=f"hose-look~{FIRST}", value="not good", on="2026-11-20"),
    ).car

    assert [each.values for each in car.measurements] == [
        (Decimal("0.004"),),
        (Decimal(7), Decimal(7), Decimal(6)),
        (),
    ]
    assert [each.grade for each in car.measurements] == [None, None, Grade.NOT_GOOD]


def test_a_record_that_cannot_be_a_value_is_set_aside_and_the_rest_answered() -> None:
    found = read(
        stored("exposure", FIRST, name="fog", from_="2026-01-01"),
        stored("exposure", SECOND, name="salt", from_="2026-01-01"),
    )

    assert [each.name for each in found.car.exposures] == ["salt"]
    assert found.set_aside == (
        (
            'record 000000a1 (exposure) is set aside: name is "fog", one of wet, salt, dust,'
            " towing, stop-start, stored outdoors, laid up is needed"
        ),
    )


def test_an_item_that_is_none_sets_its_record_aside() -> None:
    found = read(stored("decline", item="hub-repack", on="2026-11-20"))

    assert found.car.declines == ()
    assert found.set_aside == (
        (
            'record 000000a1 (decline) is set aside: item is "hub-repack", an item as'
            " rule~component is needed"
        ),
    )


def test_a_stamped_figure_that_cannot_be_read_sets_the_part_aside() -> None:
    found = read(
        stored("component", kind="rotor", state="fitted", stamped={"rotor_thickness": "thick"})
    )

    assert "a figure with its unit for rotor_thickness is needed" in found.set_aside[0]


def test_a_car_without_a_vehicle_record_is_answered_with_what_its_readings_tell() -> None:
    found = car_of("car-id", "barn-find", [stored("reading", figure=7, on="2026-11-25", unit="km")])

    assert found.car.vehicle.dial.unit is Unit.KM
    assert found.car.vehicle.description == "barn-find"
    assert found.set_aside == ("no vehicle record can be used: barn-find stands without its facts",)


def test_an_own_figure_may_be_told_in_words() -> None:
    car = read(
        stored("figure", FIRST, name="oil grade", value="SAE 30", unit="-"),
        stored("figure", SECOND, name="toe", value=Decimal("0.125"), unit="in"),
    ).car

    assert [(each.name, each.value, each.unit) for each in car.figures] == [
        ("oil grade", "SAE 30", "-"),
        ("toe", Decimal("0.125"), "in"),
    ]


def test_a_car_s_own_rule_is_read_in_the_unit_of_its_dial() -> None:
    (change,) = read(
        stored(
            "rule_change", rule="oil", every="6k/12m", limits={"toe": Decimal("0.1")}, why="book"
        )
    ).car.rule_changes

    assert change.unit is Unit.KM
    assert change.every is not None
    assert (change.every.distance, change.every.months) == (Fraction(6000), 12)
    assert change.limits == {"toe": Fraction(1, 10)}


def test_a_tire_stands_where_its_latest_placement_says_since_it_came_onto_the_car() -> None:
    tire = one(
        stored("tire", FIRST, size="185/70R14", tin="2309", new_depth=11, tread="directional"),
        stored("placement", SECOND, tire=FIRST, place="LF", on="2026-01-01", at=100, turns="left"),
        stored("placement", THIRD, tire=FIRST, place="LR", on="2026-06-01", at=500),
        kind="tire",
    )

    assert (tire.place, tire.on, tire.at) == (Place(Spot.LR), date(2026, 1, 1), Decimal(100))
    assert tire.place_on(date(2026, 3, 1)) == Place(Spot.LF)
    assert tire.place_on(date(2026, 6, 1)) == Place(Spot.LR)
    assert tire.stamped == {"new": "11 32nds"}
    assert tire.attributes["directional"] == "yes"


def test_a_tire_is_made_in_the_week_of_its_number_where_only_one_is_meant() -> None:
    """Week 23 of 2009 began on Sunday 7 June; three digits leave the decade open."""
    sure = one(stored("tire", FIRST, size="185/70R14", tin="2309"), kind="tire")
    unsure = one(stored("tire", FIRST, size="185/70R14", tin="238"), kind="tire")

    assert sure.made == date(2009, 6, 7)
    assert unsure.made is None
    assert [day.year for day in unsure.made_may_be] == [1978, 1988, 1998]


def test_a_tire_without_a_place_is_on_the_shelf() -> None:
    never = one(stored("tire", FIRST, size="185/70R14"), kind="tire")
    taken_off = one(
        stored("tire", FIRST, size="185/70R14"),
        stored("placement", SECOND, tire=FIRST, place="LF", on="2026-01-01"),
        stored("placement", THIRD, tire=FIRST, on="2026-06-01"),
        kind="tire",
    )

    assert never.is_on_shelf
    assert taken_off.is_on_shelf
    assert taken_off.place is None


def test_a_tire_put_back_on_has_been_fitted_since_then() -> None:
    tire = one(
        stored("tire", FIRST, size="185/70R14"),
        stored("placement", SECOND, tire=FIRST, place="LF", on="2026-01-01"),
        stored("placement", THIRD, tire=FIRST, on="2026-06-01"),
        stored(
            "placement",
            "01a20000-0000-7000-8000-0000000000a4",
            tire=FIRST,
            place="RF",
            on="2026-09-01",
        ),
        kind="tire",
    )

    assert (tire.on, tire.is_on_shelf) == (date(2026, 9, 1), False)


def test_a_wheel_has_its_measures_as_attributes() -> None:
    wheel = one(
        stored("wheel", FIRST, rim_width=6, rim_diameter=15, offset=Decimal(-6), type="wire"),
        stored("placement", SECOND, wheel=FIRST, place="RR", on="2026-01-01"),
        kind="wheel",
    )

    assert wheel.origin is Origin.WHEEL
    assert wheel.attributes == {
        "rim_width": "6",
        "rim_diameter": "15",
        "offset": "-6",
        "type": "wire",
    }


def test_notes_are_found_by_record() -> None:
    car = read(stored("reading", figure=7, on="2026-11-25", unit="km", note="by telephone")).car

    assert car.notes == {RecordId(FIRST): "by telephone"}
