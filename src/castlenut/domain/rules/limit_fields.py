"""Reading `limits`: what a measurement must hold."""

from fractions import Fraction

from castlenut.domain.measures import MEASURES
from castlenut.domain.rules.conditions import read_where
from castlenut.domain.rules.fields import Table, as_fraction, meant, shown
from castlenut.domain.rules.intervals import Attributes
from castlenut.domain.rules.rule import Bound, Figure, Limit

_FIELDS = (
    "measure", "at_least", "at_most", "at_least_of_new", "times", "if_unknown", "unit", "advise",
    "where",
)  # fmt: skip
_BOUNDS = ("at_least", "at_most", "at_least_of_new")
_EXAMPLE = '[{ measure = "pad_thickness", at_least = "1/8", unit = "in" }]'
_LOWEST, _HIGHEST = -1000, 1_000_000


def read_limits(table: Table, attributes: Attributes) -> tuple[Limit, ...] | None:
    """Read the list of limits of a rule."""
    given = table.tables("limits", _EXAMPLE)
    if given is None:
        return None
    read = (_limit(each, attributes) for each in given)
    return tuple(limit for limit in read if limit is not None)


def _limit(given: Table, attributes: Attributes) -> Limit | None:
    given.only(_FIELDS, "not a part of a limit")
    measure = (given.named("measure", MEASURES, "a measure") or (None,))[0]
    if "measure" not in given:
        given.fault("measure", "is missing", f"write {_EXAMPLE}")
    bounds = [key for key in _BOUNDS if key in given]
    if len(bounds) != 1:
        what = "has no bound" if not bounds else f"has both {bounds[0]} and {bounds[1]}"
        given.fault("", what, "give one of at_least, at_most or at_least_of_new")
        return None
    times = given.number("times", 0, 100)
    share, value = None, None
    if bounds[0] == "at_least_of_new":
        share = given.number("at_least_of_new", 0, 1)
    else:
        value = _value(given, bounds[0])
        if times is not None and not isinstance(value, Figure):
            given.fault("times", "multiplies no figure", 'use it beside "spec" or "stamped" only')
    if_unknown = given.number("if_unknown", _LOWEST, _HIGHEST)
    advise = given.number("advise", _LOWEST, _HIGHEST)
    known = MEASURES.get(measure or "")
    units = tuple(known.resolutions) if known else ()
    unit = (given.named("unit", units, f"a unit of {measure}") or (None,))[0] if units else None
    where = read_where(given, attributes)
    if known is None or (value is None and share is None):
        return None
    return Limit(
        measure=known.id,
        bound=Bound.AT_MOST if bounds[0] == "at_most" else Bound.AT_LEAST,
        value=value,
        unit=unit or known.unit,
        share_of_new=share,
        times=Fraction(1) if times is None else times,
        if_unknown=if_unknown,
        advise=advise,
        where=where,
    )


def _value(given: Table, key: str) -> Fraction | Figure | None:
    """Read a number, or the word for a figure the rule does not hold itself."""
    value = given.values[key]
    if isinstance(value, str) and as_fraction(value) is None:
        for figure in Figure:
            if figure.value == value:
                return figure
        allowed = [figure.value for figure in Figure]
        given.fault(
            key,
            f"{shown(value)} is neither a number nor a figure of the car",
            f'a number, "1/8", or {meant(value, allowed, say="one of")}',
        )
        return None
    return given.number(key, _LOWEST, _HIGHEST)
