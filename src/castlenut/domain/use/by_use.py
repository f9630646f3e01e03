"""Readings put in their places with the help of the car's own use and season."""

from collections.abc import Sequence

from castlenut.domain.dial import Dial, DialEvent, Reading
from castlenut.domain.odometer import Odometer, odometer
from castlenut.domain.use.forecast import Owner, start


def placed(
    dial: Dial, readings: Sequence[Reading], events: Sequence[DialEvent], owner: Owner
) -> Odometer:
    """Place readings, and share out by the car's use and season what no reading tells."""
    by_days = odometer(dial, readings, events)
    if not by_days.notes or not by_days.points:
        return by_days
    begun = start(by_days, since=by_days.points[-1].on, owner=owner)
    return odometer(dial, readings, events, begun.expected)
