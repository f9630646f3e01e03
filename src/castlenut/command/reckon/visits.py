"""reckon visits: on which days a car comes in, and what is done on each."""

from castlenut.command.reckon.fields import Answer, Field, Fields, Json
from castlenut.command.reckon.kind import Kind, day, figure
from castlenut.command.reckon.visits_line import LINE, cents, may_go_on, read_line
from castlenut.domain.visits.at_risk import at_risk
from castlenut.domain.visits.line import Line
from castlenut.domain.visits.plan import Plan, Visit, plan_visits
from castlenut.words import visits as words


def _answer(fields: Fields) -> Answer:
    is_time = may_go_on(fields)
    line = read_line(fields)
    fields.check()
    plan = plan_visits(line, may_go_on=is_time)
    planned = [item.id for item in line.items if plan.done_on(item.id)]
    return {
        "visits": [_visit(each, line) for each in plan.visits],
        "cost": {
            "visits": cents(plan.cost.visits),
            "access": cents(plan.cost.access),
            "life": cents(plan.cost.life),
            "late": cents(plan.cost.late),
            "total": cents(plan.cost.total),
        },
        "bound": cents(plan.bound),
        "proved": plan.is_proved,
        "gap": round(plan.gap, 6) if not plan.is_proved else 0,
        "items": {name: _item(name, plan) for name in planned},
        "cannot": [
            {
                "item": each.item,
                "closes_on": day(each.closes_on),
                "planned_on": day(each.planned_on),
                "why": words.not_kept(each, line),
            }
            for each in plan.cannot
        ],
        "later": list(plan.later),
        "at_risk": [
            {"item": each.item, "on": day(each.on), "closes_on": day(each.closes_on)}
            for each in at_risk(line, plan)
        ],
    }


def _visit(visit: Visit, line: Line) -> Json:
    return {
        "on": day(visit.on),
        "hours": figure(visit.hours),
        "work": [[day(each.on), figure(each.hours)] for each in visit.work],
        "items": [each.item for each in visit.doings],
        "access": list(visit.access),
        "cost": {"visit": cents(visit.visit_cost), "access": cents(visit.access_cost)},
        "why": list(words.reasons(visit, line)),
    }


def _item(name: str, plan: Plan) -> Json:
    doings = plan.done_on(name)
    return {
        "done_on": [day(each.on) for each in doings],
        "closes_on": [day(each.closes_on) for each in doings],
        "life": cents(plan.life[name]),
    }


KIND = Kind(
    name="visits",
    summary="on which days a car comes in so that nothing runs over, at the least cost",
    fields=LINE,
    answers=(
        Field("visits", "on, hours, work, items, access, cost and why of each"),
        Field("cost", "visits, access, life, late and total"),
        Field("bound", "no plan costs less"),
        Field("proved", "whether the plan is the best there is"),
        Field("gap", "by what share of its cost it may be dearer than the best"),
        Field("items", "an object of planned items: done_on, closes_on, life"),
        Field("cannot", "what leaves no open day: item, closes_on, planned_on, why"),
        Field("later", "items that close after until"),
        Field("at_risk", "what closes sooner if the car is driven as much as it may be"),
    ),
    answer=_answer,
)
