"""reckon wear: rate between measurements, and the distance left to a limit."""

from collections.abc import Sequence

from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind, figure
from castlenut.domain.wear import wear


def _answer(fields: Fields) -> Answer:
    points = fields.pairs("points")
    limit = fields.need_number("limit")
    resolution = fields.number("resolution", least=0.000001)
    fields.check()
    result = wear(points, limit, resolution=resolution, at_most=_rises_to(points, limit))
    return {
        "rate_per_1000": figure(result.rate_per_1000),
        "left": figure(result.left),
        "left_low": figure(result.left_low),
        "left_high": figure(result.left_high),
        "reached": result.reached,
    }


def _rises_to(points: Sequence[tuple[float, float]], limit: float) -> bool:
    """Tell whether a measure rises to its limit: it began below and has grown, as a drum does.

    Below its limit and not grown it may as well be a pad worn too far; then it counts as reached,
    which sends somebody to look.
    """
    return bool(points) and points[0][1] < limit and points[-1][1] > points[0][1]


KIND = Kind(
    name="wear",
    summary="rate between measurements, and the distance left to a limit",
    fields=(
        Field("points", "a list of [distance, measure] pairs, the oldest first"),
        Field("limit", "the measure at which it is worn"),
        Field("resolution", "one step of the gauge", optional=True),
    ),
    answers=(
        Field("rate_per_1000", "wear in 1,000 of the distance unit, null where none can be told"),
        Field("left", "distance from the last point to the limit"),
        Field("left_low", "lower end of the 80 % band"),
        Field("left_high", "upper end, null where it may lie beyond any distance"),
        Field("reached", "whether the last measure is at its limit or past it"),
    ),
    answer=_answer,
)
