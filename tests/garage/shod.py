"""A car on four invented tires and wheels that are all alike, for tests."""

from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage
from tests.garage.conftest import Shop

FITTED_ON, FITTED_AT = "2026-01-10", "50000"
TODAY_AT = "56000"
RADIAL = {
    "size": "205/60R15",
    "construction": "radial",
    "service": "91H",
    "tread": "symmetric",
    "new_depth": "10/32",
}
STEEL = {"rim_width": "6", "rim_diameter": "15", "offset": "10"}


def shoe(
    garage: Garage,
    slug: str = "linden",
    *,
    places: str = "all",
    drive: str = "rear",
    dual: bool = False,
    **fields: str,
) -> Shop:
    """Put a car on tires at 50,000 mi in January; today its dial shows 56,000.

    `fields` are of the tires and take the place of the usual ones.
    """
    car = {"description": "Linden, invented", "year": "1980", "digits": "5", "drive": drive}
    save(garage, draft_vehicle(garage, slug, {**car, **({"dual": "yes"} if dual else {})}))
    save(garage, draft_reading(garage, slug, FITTED_AT, on=FITTED_ON))
    save(garage, draft_reading(garage, slug, TODAY_AT))
    for kind, given in (("wheel", STEEL), ("tire", {**RADIAL, **fields})):
        save(garage, draft_fit(garage, slug, kind, places, given, on=FITTED_ON, at=FITTED_AT))
    return Shop(garage)
