"""Laws of rotation: what a plan may hold, what none can pass, and the best against a slower way."""

from collections.abc import Iterator, Sequence
from itertools import permutations
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from castlenut.domain.frozen import replace
from castlenut.domain.place import CORNERS, DUAL_CORNERS, Spot
from castlenut.domain.tires.assembly import Assembly, CarWheels, Tread
from castlenut.domain.tires.axle import Side
from castlenut.domain.tires.legality import pattern_verdicts, verdicts
from castlenut.domain.tires.prospect import MoveSet, prospect
from castlenut.domain.tires.reasons import Answer
from castlenut.domain.tires.rotation.bound import bound, classes
from castlenut.domain.tires.rotation.moves import MOVES, Pattern
from castlenut.domain.tires.rotation.plan import plan
from castlenut.domain.tires.rotation.wearing import Arrangement, Task, kept_up, moved, run
from castlenut.domain.tires.size import Construction, read_size
from castlenut.domain.vehicle import Drive
from tests.laws.examples import examples

MIRROR = {
    Spot.LF: Spot.RF,
    Spot.RF: Spot.LF,
    Spot.LR: Spot.RR,
    Spot.RR: Spot.LR,
    Spot.SP: Spot.SP,
    Spot.LRO: Spot.RRO,
    Spot.LRI: Spot.RRI,
    Spot.RRI: Spot.LRI,
    Spot.RRO: Spot.LRO,
}
RATES = {
    Spot.LF: 0.2,
    Spot.RF: 0.22,
    Spot.LR: 0.3,
    Spot.RR: 0.27,
    **dict.fromkeys((Spot.LRO, Spot.LRI), 0.3),
    **dict.fromkeys((Spot.RRI, Spot.RRO), 0.27),
}
OTHER_SIDE = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT, None: None}


@st.composite
def _assemblies(draw: st.DrawFn, at: Spot) -> Assembly:
    return Assembly(
        id=at.value,
        at=at,
        size=draw(st.sampled_from([read_size("205/60R15")] * 4 + [read_size("225/60R15"), None])),
        construction=draw(st.sampled_from([Construction.RADIAL] * 5 + [Construction.BIAS, None])),
        rim_width_in=draw(st.sampled_from([6.0] * 5 + [7.0, None])),
        rim_diameter_in=15.0,
        offset_mm=draw(st.sampled_from([10.0] * 5 + [-6.0, None])),
        tread=draw(st.sampled_from([Tread.SYMMETRIC] * 3 + [Tread.DIRECTIONAL, None])),
        turns=draw(st.sampled_from([Side.LEFT, Side.RIGHT, None])),
        load_index=draw(st.sampled_from([91] * 5 + [86, None])),
        speed_symbol=draw(st.sampled_from(["H"] * 5 + ["S", None])),
        is_studded=draw(st.sampled_from([False] * 5 + [True])),
        age_years=draw(st.sampled_from([3.0, 9.0, None])),
        depths_mm=(draw(st.sampled_from([4.0, 5.5, 6.0, 8.0, 9.0])),),
    )


@st.composite
def cars(draw: st.DrawFn) -> CarWheels:
    """Cars whose wheels differ here and there, with or without a spare, some on dual wheels."""
    road = draw(st.sampled_from([CORNERS, CORNERS, CORNERS, DUAL_CORNERS]))
    spots = (*road, Spot.SP) if draw(st.booleans()) else road
    return CarWheels(
        assemblies=tuple(draw(_assemblies(spot)) for spot in spots),
        drive=draw(st.sampled_from(Drive)),
        max_age_years=draw(st.sampled_from([None, 7.0])),
    )


def mirrored(wheels: CarWheels) -> CarWheels:
    return replace(
        wheels,
        assemblies=tuple(
            replace(each, at=MIRROR[each.at], turns=OTHER_SIDE[each.turns])
            for each in wheels.assemblies
        ),
    )


@given(cars())
def test_mirror_image_mirrors_the_verdicts(wheels: CarWheels) -> None:
    """Left and right are names: a car seen in a mirror is judged the same."""
    here = {(each.tire, each.to): each.answer for each in verdicts(wheels)}
    there = {(each.tire, MIRROR[each.to]): each.answer for each in verdicts(mirrored(wheels))}

    assert here == there


@examples(50)
@given(cars())
def test_mirror_image_mirrors_the_patterns_of_four(wheels: CarWheels) -> None:
    """Each of the five is its own image; those with the spare send it to the right rear."""
    here = [each.answer for each in pattern_verdicts(wheels)][:5]
    there = [each.answer for each in pattern_verdicts(mirrored(wheels))][:5]

    assert here == there


@examples(40)
@given(cars(), st.sampled_from([7500.0, 20_000.0]))
def test_mirror_image_has_a_plan_as_long(wheels: CarWheels, interval: float) -> None:
    """Lives within half a unit count as equal, in each of the two."""
    mirrored_rates = {MIRROR[spot]: rate for spot, rate in RATES.items()}

    here = prospect(wheels, RATES, interval=interval)
    there = prospect(mirrored(wheels), mirrored_rates, interval=interval)

    assert here.joins is there.joins
    assert here.life_none == pytest.approx(there.life_none)
    if not here.joins:
        assert here.life_usual == pytest.approx(there.life_usual)
    assert here.plan.bound == pytest.approx(there.plan.bound)
    if here.plan.is_proved and there.plan.is_proved:
        assert here.plan.course.life == pytest.approx(there.plan.course.life, abs=0.6)


@given(cars())
def test_pattern_is_as_good_as_its_worst_move(wheels: CarWheels) -> None:
    """A pattern is no if any move is no, else not known if any is, else yes."""
    moves = {(each.tire, each.to): each.answer for each in verdicts(wheels)}
    stands = {each.at: each.id for each in wheels.assemblies}

    for found in pattern_verdicts(wheels):
        if all(start in stands for start in MOVES[found.pattern]):
            answers = {moves[stands[start], to] for start, to in MOVES[found.pattern].items()}
            expected = next(
                each for each in (Answer.NO, Answer.NOT_KNOWN, Answer.YES) if each in answers
            )
            assert found.answer is expected
        else:
            assert found.answer is Answer.NO


@examples(60)
@given(cars(), st.sampled_from(MoveSet), st.sampled_from([4000.0, 7500.0, 20_000.0]))
def test_no_plan_holds_a_move_that_is_rejected(
    wheels: CarWheels, moves: MoveSet, interval: float
) -> None:
    """A tire stands where it stood at the start, or where it may go; not known never passes."""
    may = {(each.tire, each.to) for each in verdicts(wheels) if each.answer is Answer.YES}
    may |= {(each.id, each.at) for each in wheels.assemblies}

    found = prospect(wheels, RATES, interval=interval, moves=moves)

    for stint in found.stints:
        assert {(tire, spot) for spot, tire in stint.places.items()} <= may
        if moves is MoveSet.PATTERNS and stint.moves:
            assert stint.pattern is not None
    assert found.plan.course.life <= found.plan.bound + 0.001
    assert found.life_none <= found.plan.course.life + 0.5
    if found.life_usual is not None:
        assert found.life_usual <= found.plan.course.life + 0.5


def tasks(seed: int, *, count: int, most: int, chance_allowed: float) -> Task:
    """Make a set with its interval chosen so that the bound holds up to `most` stints."""
    chance = Random(seed)
    rates = [
        chance.choice([0.1, 0.15, 0.2, 0.25, 0.3, chance.uniform(0.08, 0.4)]) / 1000
        for _ in range(4)
    ]
    if chance.random() < 0.4:
        rates[1], rates[3] = rates[0], rates[2]
    if count == 5:
        rates.append(0.0)
    task = Task(
        rests_mm=tuple(
            chance.choice([round(chance.uniform(1, 7), 1), 5.0, 4.0]) for _ in range(count)
        ),
        rates=tuple(rates),
        allowed=tuple(
            tuple(tire == place or chance.random() < chance_allowed for place in range(count))
            for tire in range(count)
        ),
        interval=1.0,
        start=tuple(range(count)),
    )
    longest = bound(task, classes(task)).life
    return replace(task, interval=longest / chance.uniform(1, most - 0.001))


def arrangements(task: Task) -> list[Arrangement]:
    return [
        order
        for order in permutations(range(task.count))
        if all(task.allowed[tire][place] for tire, place in enumerate(order))
    ]


def ends(task: Task, allowed: list[Arrangement]) -> Iterator[tuple[float, float]]:
    """Give life and spread of every schedule there is, those that wear alike once."""
    layer = {tuple(round(rest, 9) for rest in task.rests_mm)}
    wears = {tuple(task.rates[place] for place in order) for order in allowed}
    full = 0
    while layer:
        after = set()
        for rests in layer:
            for wear in wears:
                left = [r - task.interval * w for r, w in zip(rests, wear, strict=True)]
                if min(left) > 1e-6:
                    after.add(tuple(round(each, 9) for each in left))
                    continue
                last = min(
                    task.interval, *(r / w for r, w in zip(rests, wear, strict=True) if w > 0)
                )
                at_end = [r - last * w for r, w in zip(rests, wear, strict=True)]
                yield full * task.interval + last, max(at_end) - min(at_end)
        layer = after
        full += 1


def is_best(task: Task) -> None:
    found = plan(task)

    every = list(ends(task, arrangements(task)))
    longest = max(life for life, _ in every)
    least = min(spread for life, spread in every if life >= longest - 0.5)
    assert found.is_proved
    assert found.course.life == pytest.approx(longest, abs=0.5)
    assert found.course.spread_mm <= least + 0.02
    assert found.course.life <= found.bound + 0.001


@pytest.mark.parametrize("batch", range(10))
def test_plan_of_four_tires_is_the_best_of_all(batch: int) -> None:
    """200 sets of up to 4 stints, against every schedule there is."""
    for seed in range(20 * batch, 20 * batch + 20):
        is_best(tasks(seed, count=4, most=4, chance_allowed=0.75))


@pytest.mark.parametrize("batch", range(10))
def test_plan_of_five_tires_is_the_best_of_all(batch: int) -> None:
    """100 sets of up to 3 stints, against every schedule there is."""
    for seed in range(10 * batch, 10 * batch + 10):
        is_best(tasks(seed, count=5, most=3, chance_allowed=0.6))


@pytest.mark.parametrize(
    ("rests", "rates", "interval", "life"),
    [
        (
            (4.2, 5.6, 4.0, 5.3, 5.6),
            (0.00026034769744, 0.00025927045609, 0.00026771503459, 0.00028513483073, 0.0),
            2765.607212147324,
            21_730.5,
        ),
        (
            (6.2, 5.5, 6.3, 4.9, 6.2),
            (0.00021555028034, 0.00022321564535, 0.00021547981975, 0.00022035416216, 0.0),
            2737.648786803319,
            31_974.7,
        ),
    ],
)
def test_five_tires_that_wear_nearly_alike_are_proved(
    rests: tuple[float, ...], rates: tuple[float, ...], interval: float, life: float
) -> None:
    """Once given up: the same proof was made four times over, a little further up each time.

    The lives are those found then with ten times the steps.
    """
    task = Task(
        rests_mm=rests,
        rates=rates,
        allowed=((True,) * 5,) * 5,
        interval=interval,
        start=(0, 1, 2, 3, 4),
    )

    found = plan(task)

    assert found.is_proved
    assert found.course.life == pytest.approx(life, abs=0.5)


def patterns_of(spots: Sequence[Spot], *patterns: Pattern) -> list[Arrangement]:
    return [
        tuple(spots.index(MOVES[pattern].get(spot, spot)) for spot in spots) for pattern in patterns
    ]


def test_twelve_stints_of_patterns_are_proved() -> None:
    """Once given up: all patterns wear alike together, so none costs more than another."""
    task = Task(
        rests_mm=(5.0, 5.0, 4.0, 4.0),
        rates=(0.0002, 0.00021, 0.0003, 0.00031),
        allowed=((True,) * 4,) * 4,
        interval=1500.0,
        start=(0, 1, 2, 3),
    )

    found = plan(task, steps=patterns_of(CORNERS, *list(Pattern)[:5]))

    assert found.is_proved
    assert found.course.life == pytest.approx(17_533.3, abs=0.5)


@pytest.mark.parametrize("interval", [1000.0, 300.0])
def test_long_plan_of_patterns_lasts_no_shorter_than_the_same_at_every_rotation(
    interval: float,
) -> None:
    """Beyond what is proved, what anybody would do is still not bettered by doing less."""
    spots = (*CORNERS, Spot.SP)
    task = Task(
        rests_mm=(5.0, 5.0, 4.0, 4.0, 6.4),
        rates=(0.0002, 0.00021, 0.0003, 0.00031, 0.0),
        allowed=((True,) * 5,) * 5,
        interval=interval,
        start=(0, 1, 2, 3, 4),
    )
    (step,) = patterns_of(spots, Pattern.FIVE_REARWARD_CROSS)

    found = plan(task, steps=[step])

    usual = kept_up(task, step)
    assert usual is not None
    assert found.course.life >= usual.life - 0.5


@pytest.mark.parametrize("seed", range(20))
def test_moves_are_the_fewest_of_all(seed: int) -> None:
    """Against every order of every schedule as long and as even, four tires and 3 stints."""
    task = tasks(seed, count=4, most=3, chance_allowed=0.8)
    allowed = arrangements(task)
    every: list[tuple[float, float, int]] = []

    def drive(stints: tuple[Arrangement, ...], moves: int) -> None:
        before = stints[-1] if stints else task.start
        for order in allowed:
            course = run(task, (*stints, order))
            made = moves + moved(before, order)
            if course.last < task.interval or min(course.rests_mm) <= 1e-6:
                every.append((course.life, course.spread_mm, made))
            else:
                drive((*stints, order), made)

    drive((), 0)
    longest = max(life for life, _, _ in every)
    even = [each for each in every if each[0] >= longest - 0.5]
    least = min(spread for _, spread, _ in even)

    found = plan(task)

    assert found.is_moves_proved
    assert found.moves == min(moves for _, spread, moves in even if spread <= least + 0.02)


@pytest.mark.parametrize("seed", range(40))
def test_walk_of_patterns_is_the_best_of_all_walks(seed: int) -> None:
    """Against every walk of up to 5 stints, some moves forbidden on the way."""
    task = tasks(seed, count=4, most=5, chance_allowed=0.95)
    spots = list(CORNERS)
    steps = [
        step
        for pattern in list(Pattern)[:5]
        for step in [tuple(spots.index(MOVES[pattern][spot]) for spot in spots)]
        if all(task.allowed[tire][place] for tire, place in enumerate(step))
    ]
    every: list[tuple[float, float, int]] = []

    def walk(stints: tuple[Arrangement, ...], moves: int) -> None:
        before = stints[-1] if stints else task.start
        for step in [tuple(range(4)), *steps]:
            order = tuple(step[place] for place in before)
            if not all(task.allowed[tire][place] for tire, place in enumerate(order)):
                continue
            course = run(task, (*stints, order))
            made = moves + moved(before, order)
            if course.last < task.interval or min(course.rests_mm) <= 1e-6:
                every.append((course.life, course.spread_mm, made))
            else:
                walk((*stints, order), made)

    walk((), 0)
    longest = max(life for life, _, _ in every)
    even = [each for each in every if each[0] >= longest - 0.5]
    least = min(spread for _, spread, _ in even)

    found = plan(task, steps=steps)

    assert found.is_proved
    assert found.course.life == pytest.approx(longest, abs=0.5)
    assert found.course.spread_mm <= least + 0.02
    assert found.moves == min(moves for _, spread, moves in even if spread <= least + 0.02)


@given(
    st.lists(st.floats(0.5, 8.0), min_size=4, max_size=4),
    st.lists(st.floats(0.05, 0.5), min_size=4, max_size=4),
)
def test_bound_is_closed_where_all_is_allowed(rests: list[float], rates: list[float]) -> None:
    """T = least over k of (the k least rests) / (the k least rates)."""
    task = Task(
        rests_mm=tuple(rests),
        rates=tuple(rate / 1000 for rate in rates),
        allowed=((True,) * 4,) * 4,
        interval=5000.0,
        start=(0, 1, 2, 3),
    )
    closed = min(1000 * sum(sorted(rests)[:k]) / sum(sorted(rates)[:k]) for k in range(1, 5))

    assert bound(task, classes(task)).life == pytest.approx(closed, rel=1e-9)
