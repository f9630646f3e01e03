"""The settings of the garage as an answer; what is secret says only that it is set."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.garage.settings import DEPTH_UNITS
from castlenut.words.figures import as_number

if TYPE_CHECKING:
    from decimal import Decimal

    from castlenut.garage.settings import Settings


def settings_answer(settings: Settings) -> dict[str, object]:
    """Give every setting by its field; money as text with two decimals."""
    depth = next(name for name, unit in DEPTH_UNITS.items() if unit == settings.depth_unit)
    return {
        "name": settings.name,
        "address": settings.address,
        "telephone": settings.telephone,
        "distance_unit": settings.distance_unit.value,
        "depth_unit": depth,
        "currency": settings.currency,
        "horizon_months": settings.horizon_months,
        "hourly_rate": _money(settings.hourly_rate),
        "visit_cost": _money(settings.visit_cost),
        "hours": {weekday: as_number(length) for weekday, length in settings.hours.items()},
        "closed": [day.isoformat() for day in settings.closed],
        "south": settings.south,
        "feed_base": settings.feed_base,
        "feed_targets": dict(settings.feed_targets),
        "feed_alarms": settings.feed_alarms,
        "feed_generations": dict(settings.feed_generations),
        "feed_secret": None if settings.feed_secret is None else "set",
    }


def _money(amount: Decimal | None) -> str | None:
    return None if amount is None else f"{amount:.2f}"
