"""The garage's own settings, as its record holds them, with what holds where nothing is set."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal, InvalidOperation

from castlenut.domain.frozen import dataclass, field
from castlenut.domain.measures import MM, THIRTY_SECOND
from castlenut.domain.units import Unit
from castlenut.store.revisions import StoredRecord
from castlenut.store.typed_fields import CannotBe, Fields

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DEPTH_UNITS = {"mm": MM, "32nds": THIRTY_SECOND}
_HORIZON_MONTHS = 12
_HOURS = {weekday: Decimal(8) for weekday in WEEKDAYS[:5]}


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Settings of a garage.

    `depth_unit` is one of the units of a measure. `hours`: open hours by weekday, a day that is
    missing is closed. A rate of None: no money is shown.
    """

    record: str | None = None
    name: str = ""
    address: str = ""
    telephone: str = ""
    distance_unit: Unit = Unit.MI
    depth_unit: str = THIRTY_SECOND
    currency: str = ""
    horizon_months: int = _HORIZON_MONTHS
    hourly_rate: Decimal | None = None
    visit_cost: Decimal | None = None
    hours: Mapping[str, Decimal] = field(default_factory=lambda: dict(_HOURS))
    closed: tuple[date, ...] = ()
    south: bool = False
    feed_base: str | None = None
    feed_targets: Mapping[str, str] = field(default_factory=dict)
    feed_alarms: str | None = None
    feed_generations: Mapping[str, int] = field(default_factory=dict)
    feed_secret: str | None = None


def settings_of(record: StoredRecord | None) -> Settings:
    """Read the settings from the garage's record; what cannot be used keeps its default."""
    if record is None:
        return Settings()
    fields = Fields(record)
    try:
        return _settings(fields)
    except (CannotBe, InvalidOperation, ValueError):
        # its types were checked when the file was read: only a value beyond its range comes here
        return Settings(record=record.id)


def _settings(fields: Fields) -> Settings:
    usual = Settings()
    hours = {name: Decimal(text) for name, text in fields.table("hours").items()}
    rate, cost = fields.text("hourly_rate"), fields.text("visit_cost")
    return Settings(
        record=fields.record.id,
        name=fields.text("name") or "",
        address=fields.text("address") or "",
        telephone=fields.text("telephone") or "",
        distance_unit=fields.choice("distance_unit", Unit) or usual.distance_unit,
        depth_unit=DEPTH_UNITS.get(fields.text("depth_unit") or "", usual.depth_unit),
        currency=fields.text("currency") or "",
        horizon_months=fields.whole("horizon_months") or usual.horizon_months,
        hourly_rate=Decimal(rate) if rate else None,
        visit_cost=Decimal(cost) if cost else None,
        hours=hours or usual.hours,
        closed=tuple(map(date.fromisoformat, fields.lines("closed"))),
        south=fields.yes("south"),
        feed_base=fields.text("feed_base"),
        feed_targets=fields.table("feed_targets"),
        feed_alarms=fields.text("feed_alarms"),
        feed_generations={
            name: int(text) for name, text in fields.table("feed_generations").items()
        },
        feed_secret=fields.text("feed_secret"),
    )


def settings_as_typed(settings: Settings) -> dict[str, str]:
    """Give each setting that is typed as one would type it; what is not set is empty."""
    depth = next(name for name, unit in DEPTH_UNITS.items() if unit == settings.depth_unit)
    return {
        "name": settings.name,
        "address": settings.address,
        "telephone": settings.telephone,
        "distance_unit": settings.distance_unit.value,
        "depth_unit": depth,
        "currency": settings.currency,
        "horizon_months": str(settings.horizon_months),
        "hourly_rate": "" if settings.hourly_rate is None else f"{settings.hourly_rate:.2f}",
        "visit_cost": "" if settings.visit_cost is None else f"{settings.visit_cost:.2f}",
        "hours": ",".join(
            f"{weekday}:{settings.hours[weekday]}"
            for weekday in WEEKDAYS
            if weekday in settings.hours
        ),
        "closed": ",".join(day.isoformat() for day in settings.closed),
    }
