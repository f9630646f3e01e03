"""Odd readings in words: what is wrong with a reading, and what to do about it."""

from decimal import Decimal

from castlenut.domain.dial import Dial
from castlenut.domain.oddity import Cause, Neighbor, Oddity
from castlenut.domain.odometer import Placed
from castlenut.domain.units import Unit
from castlenut.words import days, figures


def reading(placed: Placed, dial: Dial) -> str:
    """Give an odd reading as a message of its own: the figure as entered, what is odd, what now."""
    read = placed.reading
    entered = figures.shown(read.figure, dial)
    told = f"{entered} {read.unit.value} on {read.on.isoformat()}"
    if placed.oddity is None:
        return told
    kept = " Kept, and left out until somebody says what it was." if placed.oddity.held else ""
    return f"{told}: {reason(placed, placed.oddity, dial)}{kept}"


def cause(oddity: Oddity) -> str:
    """Give the likely cause in a word or two."""
    return oddity.cause.value


def reason(placed: Placed, oddity: Oddity, dial: Dial) -> str:
    """Give what is odd about a reading, and what would explain it."""
    told = _explained(placed, oddity, dial)
    if oddity.instead is not None:
        told += " Either of the two may be the mistaken one."
    return told


def _explained(placed: Placed, oddity: Oddity, dial: Dial) -> str:
    odd = _odd(placed, oddity, dial)
    fit = "" if oddity.would_fit is None else figures.shown(oddity.would_fit, dial)
    match oddity.cause:
        case Cause.ROLLED_OVER:
            return _rolled(placed, oddity, dial)
        case Cause.REPLACED:
            return _replaced(placed, oddity, dial)
        case Cause.SWAPPED:
            return f"{odd} With two digits swapped it would be {fit}."
        case Cause.OTHER_UNIT:
            return f"{odd} {fit} {dial.unit.value} would fit; {_other_unit(placed, oddity, dial)}."
        case Cause.ONE_DIGIT:
            return f"{odd} {fit} would fit; one digit may be wrong."
        case Cause.TENTHS:
            if oddity.would_fit is None:
                return f"{odd} No common slip explains it."
            return f"{odd} With the point it would be {fit}."
        case Cause.DATE:
            return _other_day(placed, oddity, odd)
        case Cause.MISREAD:
            if oddity.before is None or oddity.after is None:
                return f"{odd} No common slip explains it."
            return f"{odd} It fits neither neighbor and no common slip explains it."


def _odd(placed: Placed, oddity: Oddity, dial: Dial) -> str:
    """Give what is odd, by the dial or by the sound readings around it."""
    shown = figures.shown(placed.shown, dial)
    before, after = oddity.before, oddity.after
    if oddity.instead is not None:
        how = "lower" if placed.shown < oddity.instead.shown else "higher"
        return f"{shown} is {how} than {_at(oddity.instead, dial)}."
    if oddity.digits is not None:
        return f"{shown} is more than this {days.digits(oddity.digits)} dial can show."
    lower = before is not None and placed.shown < before.shown
    higher = after is not None and placed.shown > after.shown
    if before is not None and after is not None and (lower or higher):
        first, last = figures.shown(before.shown, dial), figures.shown(after.shown, dial)
        return f"{shown} does not lie between {first} and {last}."
    if before is not None and lower:
        return f"{shown} is lower than {_at(before, dial)}."
    if after is not None and higher:
        return f"{shown} is higher than the next reading, {_at(after, dial)}."
    nearest = after if before is None else before
    if nearest is None:
        return f"{shown} does not fit."
    return f"{shown} is further from {_at(nearest, dial)} than a car is driven in that time."


def _rolled(placed: Placed, oddity: Oddity, dial: Dial) -> str:
    shown = figures.shown(placed.shown, dial)
    on = days.spelled(placed.reading.on)
    before = oddity.before
    if before is None or oddity.distance is None:
        return f"{shown} on {on}: the dial has passed its end. Counted so; confirm it."
    end = Decimal(10) ** dial.digits - (Decimal("0.1") if dial.tenths else 1)
    passed = (placed.reading.on - before.on).days
    return (
        f"{shown} on {on} is lower than {_at(before, dial)}. A {days.digits(dial.digits)} dial"
        f" passes {figures.shown(end, dial)} and starts again:"
        f" {figures.with_unit(oddity.distance, dial)} in {figures.count(passed, 'day')}, which fits"
        " this car. Counted so; confirm it."
    )


def _replaced(placed: Placed, oddity: Oddity, dial: Dial) -> str:
    shown = figures.shown(placed.shown, dial)
    before = oddity.before
    if before is None:
        told = f"{shown} fits no reading before it"
    else:
        passed = figures.count((placed.reading.on - before.on).days, "day")
        told = f"From {figures.shown(before.shown, dial)} to {shown} in {passed}"
    why = "no rollover explains it"
    if before is not None and placed.shown > before.shown:
        why = "no car is driven so far"
    later = "" if oddity.after is None else f", and later readings go on from {shown}"
    return (
        f"{told}: {why}{later}. Was the odometer replaced or set back? Enter the new dial's first"
        " figure."
    )


def _other_unit(placed: Placed, oddity: Oddity, dial: Dial) -> str:
    shown = figures.shown(placed.shown, dial)
    is_larger = oddity.would_fit is not None and oddity.would_fit > placed.shown
    if dial.unit is Unit.KM and is_larger:
        return f"the figure {shown} looks like miles"
    if dial.unit is Unit.MI and not is_larger:
        return f"the figure {shown} looks like kilometers"
    return f"the figure {shown} looks converted once too often"


def _other_day(placed: Placed, oddity: Oddity, odd: str) -> str:
    fits, on = oddity.would_fit_on, placed.reading.on
    if fits is None:
        return odd
    slip = "a year off?" if fits.year != on.year else "day and month swapped?"
    return f"{odd} Fits {days.spelled(fits)}, not {days.spelled(on)}: {slip}"


def _at(neighbor: Neighbor, dial: Dial) -> str:
    return f"{figures.shown(neighbor.shown, dial)} on {days.spelled(neighbor.on)}"
