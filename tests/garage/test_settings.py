"""The garage's own settings: read by their types, changed whole or not at all."""

from decimal import Decimal

import pytest

from castlenut.domain.errors import BadInput
from castlenut.garage.changes.settings import draft_settings
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage


def test_settings_are_set_and_read_back(garage: Garage) -> None:
    save(
        garage,
        draft_settings(
            garage,
            {
                "name": "Quorrick Yard, invented",
                "hours": "mon:7,Tuesday:7.5",
                "hourly_rate": "65",
                "closed": "2026-12-25,2026-12-26",
                "depth_unit": "mm",
                "south": "yes",
            },
        ),
    )

    settings = garage.settings
    assert settings.name == "Quorrick Yard, invented"
    assert settings.hours == {"mon": Decimal(7), "tue": Decimal("7.5")}
    assert settings.hourly_rate == Decimal(65)
    assert [day.day for day in settings.closed] == [25, 26]
    assert (settings.depth_unit, settings.south) == ("mm", True)


def test_an_empty_text_takes_a_setting_back(garage: Garage) -> None:
    save(garage, draft_settings(garage, {"hourly_rate": "65", "horizon_months": "6"}))
    save(garage, draft_settings(garage, {"hourly_rate": ""}))

    assert (garage.settings.hourly_rate, garage.settings.horizon_months) == (None, 6)


def test_every_fault_is_told_and_nothing_changed(garage: Garage) -> None:
    with pytest.raises(BadInput) as raised:
        draft_settings(garage, {"nam": "x", "hourz": "3", "hours": "mon:25", "horizon_months": "0"})

    assert [str(fault).partition(";")[0] for fault in raised.value.faults] == [
        "hourz: no setting 'hourz'",
        "hours: mon has 25 hours",
        'horizon_months: horizon_months is "0", a whole number from 1 to 120 is needed',
    ]


def test_the_secret_of_the_feeds_cannot_be_typed(garage: Garage) -> None:
    with pytest.raises(BadInput, match=r"no setting 'feed_secret'"):
        draft_settings(garage, {"feed_secret": "0" * 64})
