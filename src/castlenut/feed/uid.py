"""Identities of events: the same for the life of an occurrence, on any computer, with any ledger.

Nothing that readings, renaming, an edited rule or a corrected date can change takes part in them.
"""

from datetime import date
from enum import Enum
from uuid import UUID, uuid5

from castlenut.domain.ids import RecordId, VehicleId

GARAGE_SUBJECT = "garage"
_NO_BASELINE = "none"
_NO_NAMESPACE = UUID(int=0)


class Audience(Enum):
    """Who reads a feed: it decides what is shown, and each has its own rendering of an event."""

    GARAGE = "garage"
    OWNER = "owner"


def namespace(garage: str) -> UUID:
    """Give what all UIDs of a garage rest on: its id, where that is a UUID."""
    try:
        return UUID(garage)
    except ValueError:
        return uuid5(_NO_NAMESPACE, garage)


def item_uid(
    garage: UUID, audience: Audience, vehicle: VehicleId, rule: str, baseline: RecordId | None
) -> str:
    """Give the UID of an occurrence: vehicle, rule and baseline record."""
    return _uid(garage, "item", audience.value, vehicle, rule, baseline or _NO_BASELINE)


def visit_uid(garage: UUID, audience: Audience, visit: RecordId) -> str:
    """Give the UID of a visit, by its record."""
    return _uid(garage, "visit", audience.value, visit)


def own_checks_uid(garage: UUID, audience: Audience, vehicle: VehicleId, month: date) -> str:
    """Give the UID of the own checks of a vehicle in the month that holds a day."""
    return _uid(garage, "own", audience.value, vehicle, f"{month:%Y-%m}")


def open_work_uid(garage: UUID, audience: Audience, subject: str) -> str:
    """Give the UID of the open work of a vehicle, by its id, or of the whole garage."""
    return _uid(garage, "open", audience.value, subject)


def empty_uid(garage: UUID, feed: str) -> str:
    """Give the UID of what stands in a feed that has nothing to show."""
    return _uid(garage, "empty", feed)


def _uid(garage: UUID, *parts: str) -> str:
    return str(uuid5(garage, "|".join(parts)))
