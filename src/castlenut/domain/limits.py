"""Published inspection limits, each with its source."""

from collections.abc import Sequence
from enum import Enum

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.interval import exact
from castlenut.domain.units import MM_PER_IN


class Sense(Enum):
    """To which side of a limit a measure is good. A measure exactly at the limit is good."""

    AT_LEAST = "at least"
    AT_MOST = "at most"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A figure that must hold, and where it is published. A length is in inches."""

    allowed: float
    sense: Sense
    source: str


def holds(limit: Limit, measured: float) -> bool:
    """Tell whether a measure, in the unit of the limit, keeps it. At the limit it does."""
    if limit.sense is Sense.AT_LEAST:
        return exact(measured) >= exact(limit.allowed)
    return exact(measured) <= exact(limit.allowed)


def in_mm(limit: Limit) -> Limit:
    """Give a limit of length in millimeters."""
    return Limit(allowed=exact(limit.allowed * MM_PER_IN), sense=limit.sense, source=limit.source)


HEAVY_OVER_LB = 10_000
"""Gross weight rating above which 49 CFR 570 subpart B holds instead of subpart A."""

_LIGHT_TAKEN = "; no gross weight rating given, 10,000 lb or less taken"

# 1.01. The rows are the published ones; the largest row that the wheel reaches counts.
_LASH_IN = ((22.0, 2.75), (20.0, 2.5), (18.0, 2.25), (0.0, 2.0))

# 5.01-5.03, 5.05: least boiling point with water taken up, in degrees C.
_WET_BOILING_C = {
    "DOT 2": 140.0,
    "DOT 3": 140.0,
    "DOT 4": 155.0,
    "DOT 5": 180.0,
    "DOT 5.1": 180.0,
}
FLUIDS = tuple(_WET_BOILING_C)


def is_heavy(gvwr_lb: float | None) -> bool:
    """Tell whether subpart B holds. A rating that is not known counts as a light vehicle's."""
    return gvwr_lb is not None and gvwr_lb > HEAVY_OVER_LB


def steering_lash(wheel_diameter_in: float) -> Limit:
    """Give the free movement allowed at the rim of the steering wheel (1.01).

    The table names wheels up to 16, of 18, 20 and 22 in. A size between two rows takes the
    smaller one's figure, which allows less, and above 22 in the last row holds: no figure is
    given that is not printed, and none is milder than the printed one would be.
    """
    allowed = next(lash for diameter, lash in _LASH_IN if wheel_diameter_in >= diameter)
    return Limit(
        allowed=allowed,
        sense=Sense.AT_MOST,
        source="49 CFR 570.7(a) Table 1 (570.60 Table 2 alike);"
        " a size between two rows takes the smaller one's figure",
    )


def steering_linkage(*, gvwr_lb: float | None = None, rim_in: float | None = None) -> Limit:
    """Give the free play allowed at the tread of the tire: 1/4 in (1.03), heavier by rim (1.04).

    Raises:
        BadInput: a vehicle over 10,000 lb without the rim size.
    """
    if not is_heavy(gvwr_lb):
        return Limit(
            allowed=0.25,
            sense=Sense.AT_MOST,
            source="49 CFR 570.7(b)" + (_LIGHT_TAKEN if gvwr_lb is None else ""),
        )
    if rim_in is None:
        raise BadInput(
            Fault("is missing", "rim_in", "over 10,000 lb the limit goes by the rim size; give it")
        )
    allowed = 0.25 if rim_in <= 16 else 0.375 if rim_in <= 18 else 0.5
    return Limit(allowed=allowed, sense=Sense.AT_MOST, source="49 CFR 570.60(b) Table 3")


def toe(spec_in: float) -> Limit:
    """Give the toe allowed, in or out: one and a half times the maker's figure (1.05)."""
    return Limit(allowed=exact(1.5 * abs(spec_in)), sense=Sense.AT_MOST, source="49 CFR 570.7(d)")


def lining(*, gvwr_lb: float | None = None, is_bonded: bool | None = None) -> Limit:
    """Give the lining or pad thickness that must be left, over the rivet heads or over the shoe.

    1/32 in, and 1/16 in for bonded linings over 10,000 lb (1.07, 1.08).

    Raises:
        BadInput: over 10,000 lb, and whether it is bonded or riveted is not known.
    """
    if not is_heavy(gvwr_lb):
        return Limit(
            allowed=0.03125,
            sense=Sense.AT_LEAST,
            source="RCW 46.37.360(5), worded after 49 CFR 570.5"
            + (_LIGHT_TAKEN if gvwr_lb is None else ""),
        )
    if is_bonded is None:
        raise BadInput(
            Fault("is missing", "lining", "over 10,000 lb it decides; give bonded or riveted")
        )
    return Limit(
        allowed=0.0625 if is_bonded else 0.03125,
        sense=Sense.AT_LEAST,
        source="49 CFR 570.59(c)",
    )


def rim_runout() -> Limit:
    """Give the runout allowed at each bead area, sideways and out of round (1.15)."""
    return Limit(allowed=0.125, sense=Sense.AT_MOST, source="49 CFR 570.10(b)")


def tread(*, gvwr_lb: float | None = None, is_front: bool = False) -> Limit:
    """Give the tread that must be left: 2/32 in, 4/32 in front over 10,000 lb (1.11, 1.12)."""
    if not is_heavy(gvwr_lb):
        return Limit(
            allowed=0.0625,
            sense=Sense.AT_LEAST,
            source="49 CFR 570.9, from memory" + (_LIGHT_TAKEN if gvwr_lb is None else ""),
        )
    return Limit(
        allowed=0.125 if is_front else 0.0625, sense=Sense.AT_LEAST, source="49 CFR 570.62(a)"
    )


def duals() -> Limit:
    """Give the difference in diameter allowed between the two tires of a dual wheel (1.13)."""
    return Limit(allowed=0.5, sense=Sense.AT_MOST, source="Maryland COMAR 11.14.05.05 A(1)(g)")


def wet_boiling_point(fluid: str) -> Limit:
    """Give the least boiling point of a brake fluid in use, degrees C: its wet minimum.

    No threshold for renewal is published as a standard (11.04); the wet minimum is the natural
    lower bound.

    Raises:
        BadInput: the fluid is none of the DOT classes.
    """
    name = " ".join(fluid.upper().replace("DOT", "DOT ").split())
    allowed = _WET_BOILING_C.get(name)
    if allowed is None:
        raise BadInput(
            Fault(f"{fluid!r} has no published minimum", "fluid", f"give {', '.join(FLUIDS)}")
        )
    return Limit(
        allowed=allowed,
        sense=Sense.AT_LEAST,
        source=f"wet minimum of {name}, FMVSS 116 as restated by makers' sheets",
    )


def rotor_runout(spec_in: float | None = None) -> Limit:
    """Give the runout allowed on the car: the maker's own figure, else 0.004 in (5.27)."""
    if spec_in is not None:
        return _own(spec_in, Sense.AT_MOST)
    return Limit(
        allowed=0.004,
        sense=Sense.AT_MOST,
        source="Honda Fit, Nissan Pathfinder 1999 service texts; others allow 0.0012 to 0.0028 in",
    )


def rotor_variation(spec_in: float | None = None) -> Limit:
    """Give the difference in thickness round a rotor: the maker's figure, else 0.0006 in (5.28)."""
    if spec_in is not None:
        return _own(spec_in, Sense.AT_MOST)
    return Limit(
        allowed=0.0006,
        sense=Sense.AT_MOST,
        source="Mitsubishi, Honda, Nissan 1999 service texts; Altima 1999 allows 0.0004 in",
    )


def rotor_thickness(spec_in: float) -> Limit:
    """Give the thickness that must be left: what is stamped on the rotor (1.09)."""
    return Limit(
        allowed=spec_in,
        sense=Sense.AT_LEAST,
        source="RCW 46.37.360(4), 49 CFR 570.59(b): the stamped figure",
    )


def drum(spec_in: float) -> Limit:
    """Give the greatest diameter of a drum in use: what is cast in it (1.09)."""
    return Limit(
        allowed=spec_in,
        sense=Sense.AT_MOST,
        source="RCW 46.37.360(4), 49 CFR 570.59(b): the cast figure",
    )


def drum_machining(spec_in: float) -> Limit:
    """Give the greatest diameter to machine a drum to: 0.030 in under the cast figure (5.25)."""
    return Limit(
        allowed=exact(spec_in - 0.030),
        sense=Sense.AT_MOST,
        source="GM Astro 1999: 0.030 in under the cast figure",
    )


def compression(pressures: Sequence[float]) -> Limit:
    """Give the pressure the lowest cylinder must reach: 75 percent of the highest (13.01).

    Raises:
        BadInput: fewer than two cylinders, or none with any pressure.
    """
    if len(pressures) < 2 or max(pressures) <= 0:
        raise BadInput(
            Fault("compares no cylinders", "measured", "give the pressures of two or more")
        )
    return Limit(
        allowed=exact(0.75 * max(pressures)),
        sense=Sense.AT_LEAST,
        source="Ford Probe 1992, 1997: lowest at least 75 percent of the highest",
    )


def battery_gravity() -> Limit:
    """Give the least specific gravity at 80 F of a battery at rest, 75 % charged (13.06)."""
    return Limit(
        allowed=1.230,
        sense=Sense.AT_LEAST,
        source="magazine table, 75 percent charged at 80 F; correction 0.004 per 10 F",
    )


def gravity_at_80(gravity: float, temperature_f: float) -> float:
    """Give a hydrometer reading as it would be at 80 F: 0.004 more for each 10 F above (13.07)."""
    return exact(gravity + 0.004 * (temperature_f - 80) / 10)


def _own(spec_in: float, sense: Sense) -> Limit:
    return Limit(allowed=spec_in, sense=sense, source="the maker's own figure, as given")
