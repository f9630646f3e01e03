"""reckon rotation: which moves are legal, and the plan."""

from castlenut.command.reckon.fields import Answer, Field, Fields, Json
from castlenut.command.reckon.kind import Kind
from castlenut.command.reckon.rotation_line import Asked, read_line
from castlenut.domain.tires.advice import advice
from castlenut.domain.tires.cost import StaggeredCost
from castlenut.domain.tires.prospect import Prospect, prospect
from castlenut.domain.tires.reasons import Answer as May
from castlenut.domain.tires.rotation.moves import usual
from castlenut.words import plans, reasons
from castlenut.words.patterns import pattern_answer, verdict_answer


def _answer(fields: Fields) -> Answer:
    asked = read_line(fields)
    found = prospect(
        asked.wheels,
        asked.rates,
        interval=asked.interval,
        moves=asked.moves,
        use_spare=asked.use_spare,
    )
    return {
        "verdicts": [verdict_answer(each) for each in found.verdicts],
        "patterns": [pattern_answer(each) for each in found.patterns],
        "spare_joins": found.joins,
        "rates_mm_per_1000": {spot.value: rate for spot, rate in asked.rates.items()},
        "rates_sd": None if asked.wear is None else plans.by_corner(asked.wear.deviations),
        "set_aside": [] if asked.wear is None else plans.set_aside_answer(asked.wear),
        "life": plans.life_answer(found),
        "plan": plans.plan_answer(found),
        "cost": None if asked.cost is None else _cost(asked.cost),
        "notes": _notes(asked, found),
    }


def _cost(cost: StaggeredCost) -> Json:
    return {
        "life_one_size": cost.life_one_size,
        "tires_one_size": cost.tires_one_size,
        "life_front": cost.life_front,
        "life_rear": cost.life_rear,
        "tires_staggered": cost.tires_staggered,
    }


def _notes(asked: Asked, found: Prospect) -> list[Json]:
    notes = [reasons.advised(each) for each in advice(asked.wheels, found.patterns)]
    if all(each.answer is not May.YES for each in found.patterns):
        habit = usual(asked.wheels.drive, with_spare=False)
        because = next(each.reasons for each in found.patterns if each.pattern is habit)
        notes.append(reasons.none_possible(because))
    if asked.wear is not None:
        notes.extend(plans.wear_notes(asked.wear))
    return list(notes)


KIND = Kind(
    name="rotation",
    summary="which wheels may go where, and the rotations that wear a set out evenly",
    fields=(
        Field("unit", "mi or km, of every distance of the line"),
        Field("drive", "front, rear, all"),
        Field("limit_mm", "the depth at which a tire is worn, 1.6 without it", optional=True),
        Field("interval", "the distance between rotations"),
        Field("moves", "any (as without it) or patterns", optional=True),
        Field("use_spare", "whether the spare may join, true without it", optional=True),
        Field("max_age_years", "the greatest age of a spare that joins", optional=True),
        Field(
            "max_difference_mm",
            "the greatest tread difference on all-wheel drive, 2.4 without it",
            optional=True,
        ),
        Field("fitment", "what the axles take: an object of front and rear", optional=True),
        Field("assemblies", "a list of objects, one a tire on its wheel"),
        Field("rates_mm_per_1000", "an object of places and their wear", optional=True),
        Field("history", "instead: a list of measurements", optional=True),
        Field("staggered", "new depths to compare what sizes cost", optional=True),
    ),
    answers=(
        Field("verdicts", "for every tire and every place but its own: answer and reasons"),
        Field("patterns", "all seven, with every reason of every move"),
        Field("spare_joins", "whether the spare is one of the set"),
        Field("rates_mm_per_1000", "wear by place, as given or from history"),
        Field("rates_sd", "how uncertain they are, null where given"),
        Field("set_aside", "measurements that do not fit, with what they are likely to be"),
        Field("life", "without rotation, with the usual pattern, of the plan, and the bound"),
        Field("plan", "the schedule and how good it is known to be"),
        Field("cost", "one size all round against staggered, null without staggered"),
        Field("notes", "sentences"),
    ),
    answer=_answer,
)
