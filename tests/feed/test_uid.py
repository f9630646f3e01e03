"""Identities of events."""

from datetime import date
from uuid import UUID, uuid5

from castlenut.domain.ids import RecordId, VehicleId
from castlenut.feed.uid import (
    Audience,
    empty_uid,
    item_uid,
    namespace,
    open_work_uid,
    own_checks_uid,
)

GARAGE = UUID("0e1e6c1e-5c1f-7d40-9a11-3b1f5e0a7c55")


def test_each_kind_has_its_own_name_in_the_garages_namespace() -> None:
    vehicle, base = VehicleId("v-1"), RecordId("j-1")

    assert item_uid(GARAGE, Audience.GARAGE, vehicle, "hub-repack", base) == str(
        uuid5(GARAGE, "item|garage|v-1|hub-repack|j-1")
    )
    assert item_uid(GARAGE, Audience.OWNER, vehicle, "hub-repack", None) == str(
        uuid5(GARAGE, "item|owner|v-1|hub-repack|none")
    )
    assert own_checks_uid(GARAGE, Audience.OWNER, vehicle, date(2026, 12, 5)) == str(
        uuid5(GARAGE, "own|owner|v-1|2026-12")
    )
    assert open_work_uid(GARAGE, Audience.GARAGE, "garage") == str(
        uuid5(GARAGE, "open|garage|garage")
    )
    assert empty_uid(GARAGE, "garage") == str(uuid5(GARAGE, "empty|garage"))


def test_a_uid_is_lower_case_and_has_36_characters() -> None:
    uid = empty_uid(GARAGE, "garage")

    assert (len(uid), uid) == (36, uid.lower())


def test_the_garages_id_is_the_namespace() -> None:
    assert namespace("0E1E6C1E-5c1f-7d40-9a11-3b1f5e0a7c55") == GARAGE


def test_an_id_that_is_no_uuid_still_gives_one_namespace() -> None:
    assert namespace("my-garage-1") == namespace("my-garage-1") != namespace("my-garage-2")
