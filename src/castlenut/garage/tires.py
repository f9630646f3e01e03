"""Questions about the tires of a car, as it stands and as a draft would leave it."""

from castlenut.domain.car import Car
from castlenut.domain.tires.after import TiresChange, tires_after
from castlenut.domain.tires.today import TiresToday, tires_today
from castlenut.garage.drafts import Draft, preview
from castlenut.garage.garage import Garage

_TABLES = frozenset({"tire", "wheel", "placement"})


def tires_of(garage: Garage, slug: str) -> TiresToday:
    """Give the tires of a car today.

    Raises:
        CannotRead: its file cannot be read.
    """
    return _reckoned(garage, garage.car(slug).car)


def tires_if_saved(garage: Garage, draft: Draft) -> TiresToday:
    """Give the tires of a car as they would be if a draft were saved."""
    return _reckoned(garage, preview(garage, draft).car)


def change_of_tires(garage: Garage, draft: Draft) -> TiresChange | None:
    """Give what a draft does to the tires of its car; None where it is about other things."""
    if not any(edit.table in _TABLES for edit in draft.edits):
        return None
    return tires_after(tires_of(garage, draft.slug), tires_if_saved(garage, draft))


def _reckoned(garage: Garage, car: Car) -> TiresToday:
    return tires_today(car, garage.book, today=garage.today_date, south=garage.settings.south)
