"""reckon points: first points after a start, then an even step, and what the dial shows there."""

from math import floor

from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind, figure
from castlenut.domain.interval import points_after

_MOST_POINTS = 1000


def _answer(fields: Fields) -> Answer:
    start = fields.need_number("from")
    first = fields.numbers("first")
    every = fields.number("every", least=0.001)
    digits = fields.whole("digits", least=1, most=9)
    count = fields.need_whole("count", least=1, most=_MOST_POINTS)
    if fields.has("first") and not first and every is None and not fields.faults:
        fields.fault("first", "holds no point", "give points, or every")
    fields.check()
    points = points_after(start, first, every=every, count=count)
    return {
        "at": [figure(point) for point in points],
        "shown": None if digits is None else [floor(point) % 10**digits for point in points],
    }


KIND = Kind(
    name="points",
    summary="first points after a start, then an even step, and what the dial shows there",
    fields=(
        Field("from", "the true distance at the start"),
        Field("first", "a list of distances after the start, rising"),
        Field("every", "the step after the last of them", optional=True),
        Field("digits", "whole digits of the dial", optional=True),
        Field("count", "how many points"),
    ),
    answers=(
        Field("at", "true distances; without every no more than first holds"),
        Field("shown", "what the dial shows there in whole units, null without digits"),
    ),
    answer=_answer,
)
