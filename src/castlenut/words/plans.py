"""The plan of a set of tires: the next move in plain words, all of it in lines, and as JSON."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from castlenut.domain.place import CORNERS, Spot
from castlenut.words import depth, figures, reasons

if TYPE_CHECKING:
    from castlenut.domain.tires.outlook import Outlook
    from castlenut.domain.tires.prospect import Prospect, Stint
    from castlenut.domain.tires.rotation.tread import WearRates
    from castlenut.domain.tires.today import TiresToday
    from castlenut.words.answers import Answer

_THOUSAND = 1000.0
LINEAR = "Wear is taken as linear in distance; real wear slows or quickens with depth."
NO_PLAN_OF_DUALS = "No plan is made for dual wheels: page 3 tells which may change places."
NOT_MEASURED = "Wear by place is the usual one: not measured on this car."


def moves_of(before: Mapping[Spot, str], after: Mapping[Spot, str]) -> Mapping[Spot, Spot]:
    """Give where the wheel of each place goes from one arrangement to the next."""
    stood = {tire: spot for spot, tire in before.items()}
    return {
        stood[tire]: spot for spot, tire in after.items() if tire in stood and stood[tire] != spot
    }


def move_words(moves: Mapping[Spot, Spot]) -> str:
    """Say moves: `LF to RR, RF to LR`."""
    order = list(Spot)
    return ", ".join(
        f"{start.value} to {moves[start].value}" for start in sorted(moves, key=order.index)
    )


def stint_words(stint: Stint, before: Mapping[Spot, str]) -> str:
    """Say what is done at the start of a stint: a pattern and its moves, or that all stay."""
    if not stint.moves:
        return "all stay"
    moves = move_words(moves_of(before, stint.places))
    return moves if stint.pattern is None else f"{stint.pattern.value}: {moves}"


def next_lines(
    outlook: Outlook, tires: TiresToday, *, dial_at: Callable[[float], str], depth_unit: str
) -> Iterator[str]:
    """Say the next move, when it is to be done, and why it is that one.

    `dial_at` gives what the dial will show after a distance from now.
    """
    found, unit = outlook.prospect, tires.unit.value
    coming = outlook.next_move
    if coming is None:
        yield "next: leave all in place; no rotation makes the set last longer"
    else:
        before = _before(found, coming)
        when = "now" if coming.since == 0 else f"at {dial_at(coming.since)}"
        yield f"next, {when}: {stint_words(coming, before)}"
        yield from _why(coming, before, outlook, tires, depth_unit)
    yield (
        f"so the set lasts about {_far(found.plan.course.life, unit)};"
        f" left as it stands {_far(found.life_none, unit)}{_usual(found, tires, unit)}"
    )


def _why(
    coming: Stint,
    before: Mapping[Spot, str],
    outlook: Outlook,
    tires: TiresToday,
    depth_unit: str,
) -> Iterator[str]:
    """Say how fast tread goes at each place, and which deeper tires go where it goes faster."""
    depths = depths_after(tires, outlook, until=coming.since)
    to_faster: list[str] = []
    for start, to in moves_of(before, coming.places).items():
        goes_faster = outlook.rates.get(to, 0.0) > outlook.rates.get(start, 0.0)
        if goes_faster and depths[before[start]] > depths[before[to]]:
            deep = depth.with_unit(depths[before[start]], depth_unit)
            to_faster.append(f"{start.value} ({deep}) to {to.value}")
    rates = rate_words(outlook.rates, tires)
    share = (
        f"the deeper tire goes where it wears faster, {', '.join(to_faster)}"
        if to_faster
        else "the tires share the places that wear fast"
    )
    yield f"why: tread goes {rates}; {share}"


def rate_words(rates: Mapping[Spot, float], tires: TiresToday) -> str:
    """Say the wear by place: `0.15 mm in 1,000 mi at LF, ...`."""
    by_rate: dict[str, list[str]] = {}
    for spot, rate in rates.items():
        by_rate.setdefault(figures.decimals(rate, 2), []).append(spot.value)
    told = ", ".join(f"{rate} at {' '.join(spots)}" for rate, spots in by_rate.items())
    return f"{told} (mm in 1,000 {tires.unit.value})"


def _far(distance: float, unit: str) -> str:
    """Give a distance to the hundred: a life is known no better."""
    return f"{figures.to_nearest(distance, 100)} {unit}"


def _usual(found: Prospect, tires: TiresToday, unit: str) -> str:
    if found.life_usual is None:
        return ""
    return f", with {tires.usual.value} each time {_far(found.life_usual, unit)}"


def _before(found: Prospect, stint: Stint) -> Mapping[Spot, str]:
    """Give who stood where before a stint began; before the first, each at its own place."""
    number = found.stints.index(stint)
    if number:
        return found.stints[number - 1].places
    return {spot: spot.value for spot in stint.places}


def depths_after(tires: TiresToday, outlook: Outlook, *, until: float) -> dict[str, float]:
    """Give the thinnest groove of each tire of the set after a distance, mm."""
    found = {
        each.spot.value: each.depths.thinnest_mm
        for each in tires.standing
        if each.depths is not None
    }
    for stint in outlook.prospect.stints:
        far = min(stint.until, until) - stint.since
        if far > 0:
            for spot, tire in stint.places.items():
                found[tire] -= far / _THOUSAND * outlook.rates.get(spot, 0.0)
    return found


def plan_lines(
    outlook: Outlook, tires: TiresToday, *, dial_at: Callable[[float], str], depth_unit: str
) -> Iterator[str]:
    """Give the whole sequence, how good it is known to be, and what it is held against."""
    found, unit = outlook.prospect, tires.unit.value
    plan = found.plan
    yield f"plan, rotations every {figures.decimals(outlook.interval)} {unit}:"
    for stint in found.stints:
        after = depths_after(tires, outlook, until=stint.until)
        deep = "  ".join(
            f"{spot.value} {depth.depth(after[tire], depth_unit)}"
            for spot, tire in stint.places.items()
        )
        when = "now" if stint.since == 0 else dial_at(stint.since)
        yield f"  {when}  {stint_words(stint, _before(found, stint))}"
        yield f"    at {dial_at(stint.until)} then, {depth.unit_words(depth_unit)}: {deep}"
    yield (
        f"life {figures.decimals(plan.course.life)} {unit}"
        f" ({figures.decimals(outlook.life_p10)} to {figures.decimals(outlook.life_p90)},"
        " by how well the wear is known)"
    )
    yield f"no rotation {figures.decimals(found.life_none)} {unit}{_usual_whole(found, tires)}"
    proof = "proved the best at this interval" if plan.is_proved else "not proved the best"
    yield (
        f"bound {figures.decimals(plan.bound)} {unit}, which no schedule can pass; gap"
        f" {figures.decimals(100 * plan.gap, 1)} %; {proof}"
    )
    yield (
        f"{figures.count(plan.moves, 'wheel move')}; at the end the deepest is"
        f" {figures.decimals(plan.course.spread_mm, 2)} mm above the thinnest"
    )
    if found.joins:
        yield "the spare is one of the set"


def _usual_whole(found: Prospect, tires: TiresToday) -> str:
    if found.life_usual is None:
        return ""
    return (
        f"; {tires.usual.value} each time {figures.decimals(found.life_usual)} {tires.unit.value}"
    )


def next_answer(outlook: Outlook) -> dict[str, Answer] | None:
    """Give the next move: after which distance, which pattern, and from where to where."""
    found, coming = outlook.prospect, outlook.next_move
    if coming is None:
        return None
    moves = moves_of(_before(found, coming), coming.places)
    return {
        "after": coming.since,
        "pattern": None if coming.pattern is None else coming.pattern.value,
        "moves": {start.value: to.value for start, to in moves.items()},
    }


def plan_answer(found: Prospect) -> dict[str, Answer]:
    """Give the schedule of a plan, and how good it is known to be."""
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


def life_answer(found: Prospect) -> dict[str, Answer]:
    """Give how far the set lasts: left as it stands, with the usual pattern, planned, at most."""
    return {
        "none": found.life_none,
        "usual": found.life_usual,
        "plan": found.plan.course.life,
        "bound": found.plan.bound,
    }


def by_corner(rates: Sequence[float]) -> dict[str, Answer]:
    """Give figures of the four corners by place."""
    return {spot.value: each for spot, each in zip(CORNERS, rates, strict=True)}


def set_aside_answer(wear: WearRates) -> list[Answer]:
    """Give the measurements that do not fit, with what each is likely to be."""
    return [
        {
            "tire": odd.pair.tire,
            "from": odd.pair.since,
            "to": odd.pair.until,
            "reason": reasons.set_aside(odd),
        }
        for odd in wear.set_aside
    ]


def wear_notes(wear: WearRates) -> Iterator[str]:
    """Say how the wear by place is known."""
    if not wear.learned_from:
        yield NOT_MEASURED
    yield LINEAR
