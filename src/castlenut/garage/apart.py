"""What else while it is apart, asked for one car."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.apart import Apart, Opening, apart, read_opening
from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.months import months_after
from castlenut.domain.rules.rule import Per
from castlenut.garage.garage import Garage

NO_RATE = Decimal(1)
"""Where no hourly rate is set, an hour counts one: hours are held against hours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What lies behind what is open on a car; `told` beside it, `months` the horizon.

    `hourly_rate` None: the garage has set none, and money is not told.
    """

    today: CarToday
    found: Apart
    hourly_rate: Fraction | None
    months: int
    told: tuple[str, ...]


def apart_on(garage: Garage, slug: str, texts: Sequence[str]) -> Asked:
    """Give what else to do while what the texts name is off: `wheel LF`, `hub LF`, `trim L`.

    Raises:
        BadInput: with every fault: no such access, no place of this car, a place where none counts.
    """
    today = garage.today(slug)
    accesses = garage.book.accesses
    openings: list[Opening] = []
    faults: list[Fault] = []
    told: list[str] = []
    for text in texts:
        try:
            found = read_opening(text, accesses, dual=today.car.vehicle.dual)
        except BadInput as bad:
            faults.extend(bad.faults)
            continue
        openings.append(found)
        if found.place is None and accesses[found.key].per is not Per.CAR:
            told.append(f"{found.key} without a place is every {accesses[found.key].per.value}")
    if faults:
        raise BadInput(*faults)
    rate = garage.settings.hourly_rate
    months = garage.settings.horizon_months
    return Asked(
        today=today,
        found=apart(
            today,
            openings,
            accesses,
            until=months_after(today.today, months),
            hourly_rate=Fraction(rate or NO_RATE),
        ),
        hourly_rate=None if rate is None else Fraction(rate),
        months=months,
        told=tuple(told),
    )
