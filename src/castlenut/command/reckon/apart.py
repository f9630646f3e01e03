"""reckon apart: what else is worth doing while something is open."""

from castlenut.command.reckon.fields import Answer, Field, Fields, Json
from castlenut.command.reckon.kind import Kind, figure
from castlenut.command.reckon.visits_line import LINE, cents, may_go_on, names_of, read_line
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.together import Worth, together
from castlenut.words import visits as words


def _answer(fields: Fields) -> Answer:
    is_time = may_go_on(fields)
    line = read_line(fields)
    told = len(fields.faults)
    on = fields.day("on")
    opened = names_of(fields, "open", tuple(line.access), "no access")
    doing = names_of(fields, "doing", [item.id for item in line.items], "no item")
    if on is not None and not told:
        if not line.calendar.today <= on <= line.calendar.until:
            fields.fault("on", "is not from today to until", "give an open day of the plan")
        elif on.toordinal() not in OpenDays(line.calendar).all:
            fields.fault("on", "is closed", "give an open day")
    fields.check()
    if on is None:
        raise BadInput(Fault("is missing", "on", "give an open day"))
    found = together(line, on=on, opened=opened, doing=doing, may_go_on=is_time)
    return {
        "ranked": [_worth(each) for each in found.ranked],
        "together": {"items": list(found.items), "net": cents(found.net)},
        "proved": found.is_proved,
    }


def _worth(each: Worth) -> Json:
    return {
        "item": each.item,
        "net": cents(each.net),
        "visits_saved": each.visits_saved,
        "access_saved": cents(each.access_saved),
        "hours_saved": figure(each.hours_saved),
        "life_given_up": cents(each.life_given_up),
        "why": words.worth(each),
    }


KIND = Kind(
    name="apart",
    summary="what else is worth doing on a day on which some access is open",
    fields=(
        *LINE,
        Field("on", "an open day"),
        Field("open", "a list of accesses that are open"),
        Field("doing", "a list of items done on that day anyway", optional=True),
    ),
    answers=(
        Field("ranked", "item, net, visits_saved, access_saved, hours_saved, life_given_up, why"),
        Field("together", "items and net of the best set"),
        Field("proved", "whether all of it is proved"),
    ),
    answer=_answer,
)
