"""reckon months: days counted in calendar months from an anchor."""

from castlenut.command.reckon.fields import Answer, Field, Fields
from castlenut.command.reckon.kind import Kind, day
from castlenut.domain.interval import MOST_MONTHS
from castlenut.domain.months import months_after

_MOST_TIMES = 1200


def _answer(fields: Fields) -> Answer:
    anchor = fields.need_day("from")
    months = fields.need_whole("months", least=-MOST_MONTHS, most=MOST_MONTHS)
    times = fields.whole("times", least=1, most=_MOST_TIMES)
    fields.check()
    if not months:
        fields.fault("months", "0 counts nothing", "give 1 or more, or below 0 to count back")
        fields.check()
    return {
        "dates": [day(months_after(anchor, months * step)) for step in range(1, (times or 1) + 1)]
    }


KIND = Kind(
    name="months",
    summary="days so many calendar months on, each counted from the anchor",
    fields=(
        Field("from", "the anchor, a day"),
        Field("months", "calendar months, below 0 to count back"),
        Field("times", "how many days, 1 without it", optional=True),
    ),
    answers=(Field("dates", "the days; a day the month does not have is its last"),),
    answer=_answer,
)
