"""Taking a car in: what is set, what is told, what is refused."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage


def refusals(garage: Garage, slug: str | None, **fields: str) -> list[str]:
    with pytest.raises(BadInput) as raised:
        draft_vehicle(garage, slug, fields)
    return [str(fault) for fault in raised.value.faults]


def test_a_car_needs_no_more_than_a_short_name(garage: Garage) -> None:
    save(garage, draft_vehicle(garage, "millrace", {}))

    vehicle = garage.car("millrace").car.vehicle
    assert (vehicle.description, vehicle.dial.unit.value, vehicle.dial.digits) == (
        "millrace",
        "mi",
        6,
    )


def test_a_short_name_is_made_from_the_description(garage: Garage) -> None:
    draft = draft_vehicle(garage, None, {"description": "Wendlecot Millracé 1956"})

    assert draft.slug == "wendlecot-millrace-1956"


def test_every_fault_is_told_at_once_and_nothing_stored(garage: Garage) -> None:
    assert refusals(garage, "millrace", digits="3", unit="league", yeer="1970") == [
        'digits: digits is "3", a whole number from 4 to 7 is needed; write it so',
        'unit: unit is "league", one of mi, km is needed; write it so',
        'yeer: "yeer" is no field of vehicle; did you mean year?',
    ]
    assert garage.slugs() == ()


def test_a_short_name_twice_is_refused(garage: Garage) -> None:
    save(garage, draft_vehicle(garage, "millrace", {}))

    assert refusals(garage, "millrace") == [
        "short name: millrace is in the garage already; choose another name"
    ]


def test_a_year_to_come_is_refused(garage: Garage) -> None:
    assert refusals(garage, "millrace", year="2028") == [
        "year: 2028 is not come yet; give the year of make"
    ]


def test_a_wrong_check_digit_is_told_and_does_not_block(garage: Garage) -> None:
    """1M8GDM9AXKP042788 is the published worked example (8.06); its check digit is X, here 1."""
    draft = draft_vehicle(garage, "millrace", {"vin": "1M8GDM9A1KP042788"})

    assert draft.told == (
        (
            "vin: The check digit does not hold: a character was probably misread, or the vehicle"
            " was built for a market that requires none."
        ),
    )
    assert save(garage, draft).change is not None


def test_a_year_other_than_the_vin_s_is_told(garage: Garage) -> None:
    draft = draft_vehicle(garage, "millrace", {"vin": "1M8GDM9AXKP042788", "year": "1977"})

    assert draft.told == ("vin: it says model year 1989, 1977 was given",)


def test_a_sound_vin_is_not_spoken_of(garage: Garage) -> None:
    draft = draft_vehicle(garage, "millrace", {"vin": "1M8GDM9AXKP042788", "year": "1989"})

    assert draft.told == ()


def test_the_unit_of_the_garage_is_taken(garage: Garage) -> None:
    from castlenut.garage.changes.settings import draft_settings

    save(garage, draft_settings(garage, {"distance_unit": "km"}))
    save(garage, draft_vehicle(garage, "pim", {}))

    assert garage.car("pim").car.vehicle.dial.unit.value == "km"
