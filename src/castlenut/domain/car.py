"""All that is recorded of one car, as the domain sees it."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from castlenut.domain.component import Component
from castlenut.domain.findings import Finding
from castlenut.domain.frozen import dataclass, field, replace
from castlenut.domain.happenings import Decline, Happening, Job, Measurement, Statement
from castlenut.domain.ids import RecordId, VehicleId
from castlenut.domain.odometer import DialEvent, Reading
from castlenut.domain.place import Place
from castlenut.domain.rules.precedence import RuleChange
from castlenut.domain.vehicle import LAID_UP, Exposure, Stay, Vehicle, VisitRecord
from castlenut.domain.wheels import Placement, Room, Tire, Wheel


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFigure:
    """One of the car's own figures, the `spec` of a limit: named by the measure it belongs to.

    A `value` in words (a grade of oil, a range) is no limit to anything; `unit` `-` is none.
    """

    record: RecordId
    name: str
    value: Decimal | str
    unit: str
    place: Place | None = None
    source: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnItem:
    """A note of this car alone that falls due: no rule file names it.

    `within` counts from `on` and `at`; both it and `every` are intervals as typed. `finding`: what
    is watched by it.
    """

    record: RecordId
    title: str
    on: date
    place: Place | None = None
    at: Decimal | None = None
    within: str | None = None
    due_on: date | None = None
    every: str | None = None
    finding: RecordId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Car:
    """One car's record. Records removed (struck) are not in it; parts taken off are.

    The order of the records tells nothing, but for readings of one day and for placements: those
    come in the order they were entered, placements the earliest day first. A tire or wheel is a
    component too, at the place it stands.
    """

    id: VehicleId
    vehicle: Vehicle
    readings: tuple[Reading, ...] = ()
    dial_events: tuple[DialEvent, ...] = ()
    components: tuple[Component, ...] = ()
    jobs: tuple[Job, ...] = ()
    happenings: tuple[Happening, ...] = ()
    measurements: tuple[Measurement, ...] = ()
    statements: tuple[Statement, ...] = ()
    declines: tuple[Decline, ...] = ()
    exposures: tuple[Exposure, ...] = ()
    stays: tuple[Stay, ...] = ()
    visits: tuple[VisitRecord, ...] = ()
    own_items: tuple[OwnItem, ...] = ()
    findings: tuple[Finding, ...] = ()
    figures: tuple[OwnFigure, ...] = ()
    rule_changes: tuple[RuleChange, ...] = ()
    tires: tuple[Tire, ...] = ()
    wheels: tuple[Wheel, ...] = ()
    placements: tuple[Placement, ...] = ()
    rooms: tuple[Room, ...] = ()
    notes: Mapping[RecordId, str] = field(default_factory=dict)

    def fitted(self, day: date) -> tuple[Component, ...]:
        """Give the components on the car on a day."""
        return tuple(part for part in self.components if part.is_fitted_on(day))

    def laid_up(self) -> tuple[tuple[date, date | None], ...]:
        """Give the spans in which the car is laid up, first and last day included."""
        return tuple((each.since, each.until) for each in self.exposures if each.name == LAID_UP)

    def booked_from(self, day: date) -> tuple[VisitRecord, ...]:
        """Give the visits agreed for a day or later, by day."""
        coming = [each for each in self.visits if each.is_booked and each.on >= day]
        return tuple(sorted(coming, key=lambda each: (each.on, each.record)))

    def stay_on(self, day: date) -> Stay | None:
        """Give the stay that holds the car in work on a day."""
        holding = [stay for stay in self.stays if stay.holds_on(day)]
        return min(holding, key=lambda stay: (stay.since, stay.record), default=None)


def as_of(car: Car, today: date) -> Car:
    """Give the record as it stood on a day: what is dated later is left out, plans are kept.

    A lay-up's planned end stays; a part removed later is still on. A tire or wheel that came onto
    the car later is not there yet.
    """
    placements = tuple(each for each in car.placements if each.on is None or each.on <= today)
    later = _named(car.placements) - _named(placements)
    return replace(
        car,
        readings=tuple(each for each in car.readings if each.on <= today),
        dial_events=tuple(each for each in car.dial_events if each.on <= today),
        components=tuple(each for each in car.components if each.on is None or each.on <= today),
        jobs=tuple(each for each in car.jobs if each.on <= today),
        happenings=tuple(each for each in car.happenings if each.on <= today),
        measurements=tuple(each for each in car.measurements if each.on <= today),
        declines=tuple(each for each in car.declines if each.on <= today),
        own_items=tuple(each for each in car.own_items if each.on <= today),
        findings=tuple(each for each in car.findings if each.on <= today),
        tires=tuple(each for each in car.tires if each.record not in later),
        wheels=tuple(each for each in car.wheels if each.record not in later),
        placements=placements,
        rooms=tuple(each for each in car.rooms if each.on <= today),
    )


def _named(placements: tuple[Placement, ...]) -> set[RecordId]:
    return {
        record for each in placements for record in (each.tire, each.wheel) if record is not None
    }
