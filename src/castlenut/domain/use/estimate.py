"""What is known of a car's use: its distance on a day, and the day it reaches a distance."""

from datetime import date
from enum import Enum
from typing import Protocol

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.pieces import Note
from castlenut.domain.units import Distance, Shown


@dataclass(frozen=True, slots=True, kw_only=True)
class DistanceBand:
    """A true distance: one chance in ten that it is less than `p10`, nine in ten for `p90`."""

    p10: Distance
    p50: Distance
    p90: Distance


@dataclass(frozen=True, slots=True, kw_only=True)
class DateBand:
    """The morning by which a distance is reached, `p10` the earliest.

    None: later than ten years after today, or not known. It counts as latest.
    """

    p10: date | None
    p50: date | None
    p90: date | None


NO_DAY = DateBand(p10=None, p50=None, p90=None)


class BandFrom(Enum):
    """How the ends of a band were found."""

    NO_RATE = "no rate known"  # no band
    FORECAST = "one chance in ten to nine in ten"


@dataclass(frozen=True, slots=True, kw_only=True)
class LastReading:
    """The last sound reading, `shown` in the dial's unit."""

    record: RecordId
    on: date
    shown: Shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """What a forecast takes a car's use for.

    `yearly` is the distance in the 365 days after its starting point. `season` is the first and
    the last of the months in which nearly all of it is run, None: all the year. `laid_up_chance`
    is that the car is laid up and nobody has told. `has_changed`: the latest readings speak of
    another use than those before. `longest_days` is the longest stretch between two readings.
    `was_run_laid_up`: it was driven while laid up.
    """

    yearly: DistanceBand
    season: tuple[int, int] | None
    laid_up_chance: float
    has_changed: bool
    longest_days: int
    was_run_laid_up: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class UseBasis:
    """What an estimate rests on.

    `readings` counts the sound ones, `held_back` the others, `unconfirmed` the rollovers that were
    counted and nobody has confirmed; `first_on` to `last_on` is what the sound ones span.
    `driving_days` are the days of the span on which the car was not laid up. `a_day` is the
    distance a day in the coming year; one chance in ten that it is less than `slowest`, nine in
    ten for `fastest`. `laid_up` has the spans, first and last day, in which the clock stands
    still. `notes`: what of the true distance is itself an estimate. `outlook` is None where there
    is no reading.
    """

    last: LastReading | None
    readings: int
    held_back: int
    first_on: date | None
    last_on: date | None
    driving_days: int
    a_day: Distance | None
    slowest: Distance | None
    fastest: Distance | None
    band: BandFrom
    laid_up: tuple[tuple[date, date | None], ...]
    notes: tuple[Note, ...]
    outlook: Outlook | None = None
    unconfirmed: int = 0


class Use(Protocol):
    """How a car is used."""

    @property
    def yearly(self) -> Distance | None:
        """The distance in the 365 days after the last reading; None: no rate is known."""

    @property
    def basis(self) -> UseBasis:
        """What the answers rest on."""

    def chance(self, distance: Distance, day: date) -> float:
        """Give the chance that a true distance is reached by the morning of a day."""

    def distance_on(self, day: date) -> DistanceBand | None:
        """Give the true distance on the morning of a day; None: there is no reading at all."""

    def reached(self, distance: Distance) -> DateBand:
        """Give when a true distance is reached, or was: then it is one day, between readings."""
