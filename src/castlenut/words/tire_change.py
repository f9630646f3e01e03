"""What a change of tires or wheels does, said before it is saved or beside it."""

from collections.abc import Iterator

from castlenut.domain.tires.after import TiresChange
from castlenut.domain.tires.fitment import Bought
from castlenut.domain.units import Unit
from castlenut.words import amiss, figures
from castlenut.words.patterns import fewer_left


def lines(change: TiresChange, unit: Unit) -> Iterator[str]:
    """Say which patterns are left, how long a set lasts, and what the dial would be off by.

    Nothing is said of what stays as it was.
    """
    if change.changes_patterns and change.patterns_before:
        yield fewer_left(change.patterns_before, change.patterns_after)
        if change.unmeasured:
            places = " ".join(spot.value for spot in change.unmeasured)
            yield f"tread not measured at {places}: taken as not worn"
    before, after = change.bought_before, change.bought_after
    if before is not None and after is not None and before != after:
        yield (
            f"a new set lasts about {_life(after)} {unit.value}, before {_life(before)}; tires per"
            f" 100,000 {unit.value} {_tires(before)} -> {_tires(after)}"
        )
    if change.factor_offered is not None:
        yield amiss.factor(change.factor_offered)


def _life(bought: Bought) -> str:
    return figures.to_nearest(bought.life, 1000)


def _tires(bought: Bought) -> str:
    return figures.decimals(bought.tires, 1)
