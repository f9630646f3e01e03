"""Wear between measurements, and the distance left to a limit."""

from collections.abc import Sequence
from itertools import pairwise
from math import isfinite, pi, sqrt, tan

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.interval import exact

_P90 = 1.2815515655446004  # normal quantile: 80 % lie between P10 and P90


@dataclass(frozen=True, slots=True, kw_only=True)
class Wear:
    """How a measure runs toward its limit.

    `rate_per_1000` is what is lost (or gained, for a measure that rises) over 1,000 of the
    vehicle's distance unit; None when no wear can be told from the measurements. `left` is the
    distance from the last measurement to the limit, never below 0. `left_low` and `left_high`
    hold the true crossing 4 times in 5; `left_high` is None while it may lie beyond any distance,
    both are None while nothing tells how far the measurements may be off. `reached` is told by
    the last measurement alone; a measure exactly at its limit has reached it.
    """

    rate_per_1000: float | None
    left: float | None
    left_low: float | None
    left_high: float | None
    reached: bool


def wear(
    points: Sequence[tuple[float, float]],
    limit: float,
    *,
    resolution: float | None = None,
    at_most: bool = False,
) -> Wear:
    """Give wear rate and distance left from measurements (distance, measure), oldest first.

    The rate is that of the least-squares line; two measurements give it exactly. A change from
    the first to the last that is smaller than the gauge's resolution, or that runs away from the
    limit, is no wear rate. `at_most` is for a measure that rises to its limit, such as a drum.

    The band: one reading is off by a rounding error, evenly spread over one step of the gauge,
    so by the step over root 12 as a standard deviation, or by the scatter about the line where
    three or more measurements show more than that. The band holds every distance at which the
    line, as uncertain as those errors leave it, may cross the limit with 80 % (the crossing read
    back from the line, after Fieller). Scatter estimated from few measurements is widened by
    Student's t. Two measurements without a known resolution have no band. That later miles wear
    as the earlier did is assumed; the band does not speak of a change of use.

    Raises:
        BadInput: no measurement, distances that fall, or a figure that is none.
    """
    _check(points, limit, resolution)
    # From here on a measure falls to 0 and more is better, whichever way it runs on the gauge.
    sign = -1.0 if at_most else 1.0
    last_at = points[-1][0]
    rests = [(at - last_at, sign * (measure - limit)) for at, measure in points]
    reached = exact(rests[-1][1]) <= 0
    lost = exact(rests[0][1] - rests[-1][1])
    line = _line(rests)
    if (
        line is None
        or exact(line.slope * rests[0][0]) <= 0
        or lost <= 0
        or (resolution is not None and lost < exact(resolution))
    ):
        nothing = 0.0 if reached else None
        return Wear(
            rate_per_1000=None,
            left=nothing,
            left_low=nothing,
            left_high=nothing,
            reached=reached,
        )
    rate = -1000 * line.slope
    if reached:
        return Wear(rate_per_1000=rate, left=0.0, left_low=0.0, left_high=0.0, reached=True)
    left = max(0.0, line.mean_at - line.mean_rest / line.slope)
    low, high = _band(line, _error(line, resolution))
    return Wear(
        rate_per_1000=rate,
        left=left,
        left_low=None if low is None else min(low, left),
        left_high=None if high is None else max(high, left),
        reached=False,
    )


def _check(points: Sequence[tuple[float, float]], limit: float, resolution: float | None) -> None:
    faults = []
    if not points:
        faults.append(Fault("holds no measurement", "points", "give [distance, measure] pairs"))
    if not all(isfinite(figure) and figure >= 0 for point in points for figure in point):
        faults.append(Fault("holds a figure below 0", "points", "give figures of 0 or more"))
    if any(later[0] < earlier[0] for earlier, later in pairwise(points)):
        faults.append(Fault("has distances that fall", "points", "give the oldest first"))
    if not (isfinite(limit) and limit >= 0):
        faults.append(Fault(f"{limit} is not possible", "limit", "give a figure of 0 or more"))
    if resolution is not None and not (isfinite(resolution) and resolution > 0):
        faults.append(
            Fault(f"{resolution} is not possible", "resolution", "give one step of the gauge")
        )
    if faults:
        raise BadInput(*faults)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """The least-squares line through what is left over the distance, about its middle."""

    count: int
    mean_at: float
    mean_rest: float
    slope: float
    spread: float
    """Sum of the squared distances from the middle."""
    scatter: float
    """Sum of the squared differences from the line."""


def _line(rests: Sequence[tuple[float, float]]) -> _Line | None:
    count = len(rests)
    mean_at = sum(at for at, _ in rests) / count
    mean_rest = sum(rest for _, rest in rests) / count
    spread = sum((at - mean_at) ** 2 for at, _ in rests)
    if spread == 0:
        return None
    slope = sum((at - mean_at) * (rest - mean_rest) for at, rest in rests) / spread
    return _Line(
        count=count,
        mean_at=mean_at,
        mean_rest=mean_rest,
        slope=slope,
        spread=spread,
        scatter=sum((rest - mean_rest - slope * (at - mean_at)) ** 2 for at, rest in rests),
    )


def _error(line: _Line, resolution: float | None) -> float | None:
    """Give the error of one reading at P90, or None when nothing tells it."""
    by_gauge = None if resolution is None else _P90 * resolution / sqrt(12)
    free = line.count - 2
    if free < 1:
        return by_gauge
    deviation = sqrt(line.scatter / free)
    if resolution is not None and by_gauge is not None and deviation <= resolution / sqrt(12):
        return by_gauge
    return _student_p90(free) * deviation


def _band(line: _Line, error: float | None) -> tuple[float | None, float | None]:
    """Give the distances from the last point between which the line crosses 0 with 80 %.

    Where the crossing may lie beyond any distance, there is no upper end.
    """
    if error is None:
        return None, None
    fall = -line.slope
    at_middle = line.mean_rest**2 - error**2 / line.count
    if line.mean_rest <= 0 or at_middle <= 0:
        return 0.0, _upper(line, fall, error)
    root = error * sqrt(
        line.mean_rest**2 / line.spread
        + fall**2 / line.count
        - error**2 / (line.spread * line.count)
    )
    low = line.mean_at + at_middle / (line.mean_rest * fall + root)
    return max(0.0, low), _upper(line, fall, error)


def _upper(line: _Line, fall: float, error: float) -> float | None:
    certain = fall**2 - error**2 / line.spread
    if certain <= 0:
        return None
    under_root = line.mean_rest**2 / line.spread + certain / line.count
    high = line.mean_at + (line.mean_rest * fall + error * sqrt(under_root)) / certain
    return max(0.0, high)


def _student_p90(free: int) -> float:
    """Give the 90 % point of Student's t: closed for 1 and 2, else expanded about the normal's."""
    if free == 1:
        return tan(pi * 0.4)
    if free == 2:
        return 0.8 / sqrt(2 * 0.9 * 0.1)
    z = _P90
    return (
        z
        + (z**3 + z) / (4 * free)
        + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * free**2)
        + (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / (384 * free**3)
    )
