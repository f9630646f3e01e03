"""Exposures and lay-ups: from when to when, planned ends, and what cannot be."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.garage.changes.exposures import draft_exposure, draft_layup
from tests.garage.conftest import CAR, Shop


def refusal(shop: Shop, **days: str) -> str:
    with pytest.raises(BadInput) as raised:
        draft_layup(shop.garage, CAR, **days)
    return str(raised.value.faults[0])


def test_a_layup_may_have_a_planned_end(shop: Shop) -> None:
    shop.save(draft_layup(shop.garage, CAR, since="2026-11-01", until="2027-04-15"))

    assert shop.table("exposure") == [{"name": "laid up", "from": "2026-11-01", "to": "2027-04-15"}]


def test_its_end_may_be_set_and_changed_later(shop: Shop) -> None:
    shop.save(draft_layup(shop.garage, CAR, since="2026-11-01"))
    shop.save(draft_layup(shop.garage, CAR, until="2027-04-15"))
    shop.save(draft_layup(shop.garage, CAR, until="2027-05-01"))

    assert shop.table("exposure") == [{"name": "laid up", "from": "2026-11-01", "to": "2027-05-01"}]


def test_the_same_first_day_changes_the_end(shop: Shop) -> None:
    shop.save(draft_layup(shop.garage, CAR, since="2026-11-01", until="2027-04-15"))
    shop.save(draft_layup(shop.garage, CAR, since="2026-11-01", until="2027-03-01"))

    assert [each["to"] for each in shop.table("exposure")] == ["2027-03-01"]


def test_a_layup_can_lie_ahead(shop: Shop) -> None:
    shop.save(draft_layup(shop.garage, CAR, since="2026-12-20"))

    assert shop.table("exposure")[0]["from"] == "2026-12-20"


def test_what_cannot_be_is_refused(shop: Shop) -> None:
    assert refusal(shop) == "layup: no day is given; give --from DATE, --to DATE or both"
    assert refusal(shop, until="2027-01-01").startswith("to: the car is not laid up;")
    assert refusal(shop, since="2026-11-01", until="2026-10-01").startswith(
        "to: 2026-10-01 is before the first day, 2026-11-01;"
    )
    assert refusal(shop, since="2026-02-30").startswith("from: '2026-02-30' is no day")


def test_lay_ups_do_not_overlap(shop: Shop) -> None:
    shop.save(draft_layup(shop.garage, CAR, since="2026-11-01", until="2027-04-15"))

    assert refusal(shop, since="2027-01-01") == (
        "from: laid up is recorded from 2026-11-01 to 2027-04-15 already; give --to alone to change"
        " its end, or other days"
    )


def test_an_end_before_the_beginning_is_refused(shop: Shop) -> None:
    shop.save(draft_layup(shop.garage, CAR, since="2026-11-01"))

    assert refusal(shop, until="2026-10-01").startswith("to: 2026-10-01 is before it began")


def test_several_exposures_begin_together(shop: Shop) -> None:
    shop.save(draft_exposure(shop.garage, CAR, "wet, salt"))

    assert [(each["name"], each["from"]) for each in shop.table("exposure")] == [
        ("wet", "2026-11-25"),
        ("salt", "2026-11-25"),
    ]


def test_an_exposure_ends(shop: Shop) -> None:
    shop.save(draft_exposure(shop.garage, CAR, "towing", since="2026-01-01"))
    shop.save(draft_exposure(shop.garage, CAR, "towing", until="2026-12-31"))

    assert shop.table("exposure") == [{"name": "towing", "from": "2026-01-01", "to": "2026-12-31"}]


def test_an_unknown_exposure_is_refused_with_the_nearest(shop: Shop) -> None:
    with pytest.raises(BadInput, match=r"no exposure 'slt'; did you mean 'salt'"):
        draft_exposure(shop.garage, CAR, "slt")
