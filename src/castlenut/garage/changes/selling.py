"""A car sold, or back again."""

from castlenut.garage.drafting import Drafting
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.values import Value


def draft_sold(garage: Garage, slug: str, *, on: str | None = None, to: str | None = None) -> Draft:
    """Record that a car is sold: it leaves board, ring list and feeds, its record stays.

    Raises:
        BadInput: a day to come, or one before the car was made.
    """
    new = Drafting(garage, slug)
    day = new.past_day(on)
    before = new.car.vehicle.sold_on
    if before is not None and on is None:
        day = before
    values: dict[str, Value] = {"sold_on": day.isoformat()}
    if to is not None:
        values["sold_to"] = to.strip() or None
    if new.car.stay_on(new.today) is not None:
        new.told.append(f"{slug} is in work still: castlenut stay {slug} --over ends that")
    new.amend("vehicle", new.car.vehicle.record, values)
    return new.draft(f"{slug} sold on {day.isoformat()}{f' to {to.strip()}' if to else ''}")


def draft_back(garage: Garage, slug: str) -> Draft:
    """Take back that a car is sold.

    Raises:
        BadInput: it is not sold.
    """
    new = Drafting(garage, slug)
    if new.car.vehicle.sold_on is None:
        new.fault(f"{slug} is not sold", where="--back", remedy="leave it so")
    new.amend("vehicle", new.car.vehicle.record, {"sold_on": None, "sold_to": None})
    return new.draft(f"{slug} back: not sold")
