"""The distance that no schedule can pass, whatever its interval: a linear program, solved exactly.

Let x[i,c] be the distance tire i runs in places of class c, and T the life. Each tire runs T in
all, each class takes T times its places, and no tire loses more than it has above the limit.
The greatest T is the bound; its prices tell how much each choice costs against it.
"""

from collections.abc import Sequence

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.rotation.wearing import Task

_TINY = 1e-11
_THOUSAND = 1000.0  # distances in thousands, so that all figures of the tableau are of one size


@dataclass(frozen=True, slots=True, kw_only=True)
class Classes:
    """Places alike in rate and in what may stand there, as one class each.

    `of[p]` is the class of place p. Rates and what is allowed are by class.
    """

    of: tuple[int, ...]
    sizes: tuple[int, ...]
    rates: tuple[float, ...]
    allowed: tuple[tuple[bool, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """The greatest life, and its prices: what is lost of it per mm left over and per unit run.

    For every schedule: `life` less its life is the sum of `price[i]` times what tire i has left,
    and of `cost[i][c]` times the distance it ran in class c. Neither is ever below 0.
    `shares[i][c]` is the distance tire i runs in class c at the bound itself.
    """

    life: float
    price: tuple[float, ...]
    cost: tuple[tuple[float, ...], ...]
    shares: tuple[tuple[float, ...], ...]


def classes(task: Task) -> Classes:
    """Put places together that differ in nothing a plan counts."""
    kinds = [
        (rate, tuple(row[place] for row in task.allowed)) for place, rate in enumerate(task.rates)
    ]
    distinct = list(dict.fromkeys(kinds))
    return Classes(
        of=tuple(distinct.index(kind) for kind in kinds),
        sizes=tuple(kinds.count(kind) for kind in distinct),
        rates=tuple(rate for rate, _ in distinct),
        allowed=tuple(tuple(may[tire] for _, may in distinct) for tire in range(task.count)),
    )


def bound(task: Task, alike: Classes) -> Bound:
    """Give the bound over all schedules that move any wheel anywhere it may stand."""
    tires, kinds = range(task.count), range(len(alike.sizes))
    variables = [(tire, kind) for tire in tires for kind in kinds if alike.allowed[tire][kind]]
    # The last variable is T. Rows and columns are bounded one-sidedly: since all columns together
    # run at most as far as all rows at least, both hold with equality.
    rows = [
        *([-float(i == tire) for i, _ in variables] + [1.0] for tire in tires),
        *([float(c == kind) for _, c in variables] + [-float(alike.sizes[kind])] for kind in kinds),
        *(
            [_THOUSAND * alike.rates[c] * (i == tire) for i, c in variables] + [0.0]
            for tire in tires
        ),
    ]
    limits = [0.0] * (task.count + len(alike.sizes)) + list(task.rests_mm)
    found = maximize([0.0] * len(variables) + [1.0], rows, limits)
    rows_dual = found.dual[: task.count]
    columns_dual = found.dual[task.count : -task.count]
    price = found.dual[-task.count :]
    shares = dict(zip(variables, found.values, strict=False))
    return Bound(
        life=_THOUSAND * found.best,
        price=tuple(_THOUSAND * each for each in price),
        cost=tuple(
            tuple(
                max(
                    0.0,
                    columns_dual[kind]
                    - rows_dual[tire]
                    + _THOUSAND * price[tire] * alike.rates[kind],
                )
                for kind in kinds
            )
            for tire in tires
        ),
        shares=tuple(
            tuple(_THOUSAND * shares.get((tire, kind), 0.0) for kind in kinds) for tire in tires
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Optimum:
    """The best value of a linear program, its variables, and the price of each of its limits."""

    best: float
    values: tuple[float, ...]
    dual: tuple[float, ...]


def maximize(
    objective: Sequence[float], rows: Sequence[Sequence[float]], limits: Sequence[float]
) -> Optimum:
    """Maximize over variables of 0 or more with each row at most its limit, itself 0 or more.

    The simplex method with the rule of the smallest index (Bland), which never circles. The
    problem must be bounded.
    """
    count, width = len(rows), len(objective)
    table = [
        [*row, *(float(number == other) for other in range(count)), limit]
        for number, (row, limit) in enumerate(zip(rows, limits, strict=True))
    ]
    top = [*(-each for each in objective), *([0.0] * count), 0.0]
    basis = list(range(width, width + count))
    while True:
        entering = next((index for index in range(width + count) if top[index] < -_TINY), None)
        if entering is None:
            break
        leaving = min(
            (number for number in range(count) if table[number][entering] > _TINY),
            key=lambda number: (table[number][-1] / table[number][entering], basis[number]),
        )
        pivot_row = table[leaving]
        pivot = pivot_row[entering]
        table[leaving] = pivot_row = [each / pivot for each in pivot_row]
        for row in (*table, top):
            factor = row[entering]
            if row is not pivot_row and factor:
                row[:] = [each - factor * by for each, by in zip(row, pivot_row, strict=True)]
        basis[leaving] = entering
    values = [0.0] * (width + count)
    for number, index in enumerate(basis):
        values[index] = table[number][-1]
    return Optimum(
        best=top[-1], values=tuple(values[:width]), dual=tuple(top[width : width + count])
    )
