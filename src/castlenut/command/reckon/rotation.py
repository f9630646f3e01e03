"""reckon rotation: which moves are legal, and the plan."""

from collections.abc import Iterable

from castlenut.command.reckon.fields import Answer, Field, Fields, Json
from castlenut.command.reckon.kind import Kind
from castlenut.command.reckon.rotation_line import Asked, read_line
from castlenut.domain.place import CORNERS
from castlenut.domain.tires.advice import advice
from castlenut.domain.tires.cost import StaggeredCost
from castlenut.domain.tires.prospect import Prospect, prospect
from castlenut.domain.tires.reasons import Answer as May
from castlenut.domain.tires.rotation.moves import usual
from castlenut.domain.tires.rotation.tread import WearRates
from castlenut.words import reasons
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
        "rates_sd": None if asked.wear is None else _by_corner(asked.wear.deviations),
        "set_aside": [] if asked.wear is None else _set_aside(asked.wear),
        "life": {
            "none": found.life_none,
            "usual": found.life_usual,
            "plan": found.plan.course.life,
            "bound": found.plan.bound,
        },
        "plan": _plan(found),
        "cost": None if asked.cost is None else _cost(asked.cost),
        "notes": _notes(asked, found),
    }


def _by_corner(figures: Iterable[float]) -> Json:
    return {spot.value: each for spot, each in zip(CORNERS, figures, strict=True)}


def _set_aside(wear: WearRates) -> list[Json]:
    return [
        {
            "tire": odd.pair.tire,
            "from": odd.pair.since,
            "to": odd.pair.until,
            "reason": reasons.set_aside(odd),
        }
        for odd in wear.set_aside
    ]


def _plan(found: Prospect) -> Json:
    plan = found.plan
    return {
        "schedule": [
            {
                "from": stint.since,
                "to": stint.until,
                "places": {spot.value: tire for spot, tire in stint.places.items()},
                "moves": stint.moves,
                "pattern": None if stint.pattern is None else stint.pattern.value,
            }
            for stint in found.stints
        ],
        "moves": plan.moves,
        "end_depth_mm": dict(found.end_depths_mm),
        "spread_mm": plan.course.spread_mm,
        "ends_with": list(found.ends_with),
        "greatest_difference_mm": found.greatest_difference_mm,
        "gap_percent": 100 * plan.gap,
        "proved": plan.is_proved,
        "moves_proved": plan.is_moves_proved,
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
        if not asked.wear.learned_from:
            notes.append("Wear by place is the usual one: not measured on this car.")
        notes.append("Wear is taken as linear in distance; real wear slows or quickens with depth.")
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
