"""What does not fit about the tires on record, in sentences."""

from castlenut.domain.ids import RecordId, short
from castlenut.domain.tires.amiss import (
    Amiss,
    DeeperThanNew,
    DriveNotKnown,
    FigureNotRead,
    NoSuchPlace,
    NotRead,
    OtherConstruction,
    TireWithoutWheel,
    TreadGrew,
    TwoAtOnePlace,
    WheelWithoutTire,
)
from castlenut.domain.tires.speedometer import FactorOffered
from castlenut.words import depth, figures


def look_at(amiss: Amiss, *, depth_unit: str) -> str:
    """Say what does not fit, and what to look at."""
    match amiss:
        case TwoAtOnePlace(spot=spot, kind=kind, records=records):
            ids = ", ".join(short(RecordId(each)) for each in records)
            return (
                f"Two {kind}s stand at {spot.value} ({ids}); the one put there last is taken:"
                " remove the other."
            )
        case WheelWithoutTire(spot=spot):
            return f"The wheel at {spot.value} has no tire on record: fit one."
        case TireWithoutWheel(spot=spot):
            return (
                f"Of the wheel under the tire at {spot.value} nothing is recorded: rim width and"
                " offset are not known."
            )
        case NoSuchPlace(spot=spot, kind=kind, record=record):
            return (
                f"A {kind} ({short(record)}) stands at {spot.value}, which this car does not have:"
                " correct its place."
            )
        case NotRead(spot=spot, fault=fault):
            return f"{spot.value}: {fault.what}; {fault.remedy}."
        case FigureNotRead(axle=axle, fault=fault):
            return (
                f"What the {axle.value} axle takes, by the car's own figures: {fault.what};"
                f" {fault.remedy}."
            )
        case OtherConstruction(spot=spot, recorded=recorded, marked=marked):
            return (
                f"{spot.value} is recorded as {recorded.value}; its size is marked as that of a"
                f" {marked.value} tire."
            )
        case DriveNotKnown():
            return "Which wheels are driven is not recorded: judged as all-wheel drive."
        case DeeperThanNew(spot=spot, depth_mm=deep, new_mm=new):
            return (
                f"{spot.value} measured {depth.with_unit(deep, depth_unit)}, deeper than new"
                f" ({depth.with_unit(new, depth_unit)}): tire changed?"
            )
        case TreadGrew(spot=spot, by_mm=by):
            return (
                f"{spot.value} measured {depth.with_unit(by, depth_unit)} deeper than the time"
                " before: wrong place, or tire changed?"
            )


def factor(offered: FactorOffered) -> str:
    """Say which odometer factor follows from a change of size; it is offered, never applied."""
    was = (
        f"the dial was made for {offered.was.designation}"
        if offered.is_calibrated
        else f"before it was {offered.was.designation}"
    )
    since = "" if offered.since is None else f" since {figures.day(offered.since)}"
    return (
        f"The wheels that drive the dial carry {offered.size.designation}{since}, {was}: a factor"
        f" of {figures.decimals(offered.factor, 4)} follows and is not recorded."
    )
