"""Reading `where`: which components a rule, a limit, a variant or an event point applies to."""

from collections.abc import Collection, Mapping

from castlenut.domain.rules.fields import Table, meant
from castlenut.domain.rules.rule import ANYWHERE, UNKNOWN, Condition, KindOfPart, Where
from castlenut.domain.rules.tables import read_places
from castlenut.domain.vehicle import EXPOSURES, Drive, KeptAt, Use

OF_THE_CAR: Mapping[str, tuple[str, ...]] = {
    "drive": tuple(each.value for each in Drive),
    "dual": ("yes", "no"),
    "kept_at": tuple(each.value for each in KeptAt),
    "use": tuple(each.value for each in Use),
    "exposure": EXPOSURES,
}
"""Attributes of the car as a whole, and their values."""

_OTHERS = ("any_of", "place", "year_from", "year_to", "weight_over_lb")
_EARLIEST_YEAR, _LATEST_YEAR = 1885, 2100
_HEAVIEST_LB = 100_000


def attributes_of(
    kinds: Collection[str], table: Mapping[str, KindOfPart]
) -> Mapping[str, tuple[str, ...]]:
    """Give the attributes a condition on these kinds may speak of, and their values; none: free."""
    found = dict(OF_THE_CAR)
    for kind in kinds:
        if kind in table:
            for name, values in table[kind].attributes.items():
                found[name] = tuple(dict.fromkeys((*found.get(name, ()), *values)))
    return found


def read_where(table: Table, attributes: Mapping[str, tuple[str, ...]]) -> Where:
    """Read the `where` field of a table; a table without one applies anywhere."""
    given = table.table("where", '{ attribute = "value" }')
    return ANYWHERE if given is None else _where(given, attributes)


def _where(given: Table, attributes: Mapping[str, tuple[str, ...]]) -> Where:
    conditions: list[Condition] = []
    for key in given.values:
        if key in _OTHERS:
            continue
        if key in attributes:
            conditions.append(_condition(given, key, attributes[key]))
        else:
            known = (*attributes, *_OTHERS)
            given.fault(
                key, "not an attribute of this kind or of the car", meant(key, known, say="use")
            )
    any_of = given.tables("any_of", '[{ type = "heavy" }, { dual = "yes" }]') or ()
    year_from = given.whole("year_from", _EARLIEST_YEAR, _LATEST_YEAR)
    year_to = given.whole("year_to", _EARLIEST_YEAR, _LATEST_YEAR)
    if year_from is not None and year_to is not None and year_from > year_to:
        given.fault("year_to", f"{year_to} lies before year_from", "turn the two round")
    return Where(
        conditions=tuple(conditions),
        any_of=tuple(_where(each, attributes) for each in any_of),
        places=read_places(given, "place"),
        year_from=year_from,
        year_to=year_to,
        weight_over_lb=given.whole("weight_over_lb", 1, _HEAVIEST_LB),
    )


def _condition(given: Table, key: str, allowed: Collection[str]) -> Condition:
    is_negated = isinstance(given.values[key], dict)
    holder, name = given, key
    if is_negated and (inner := given.table(key, '{ not = "value" }')) is not None:
        inner.only(("not",), "not a condition")
        if not inner.values:
            inner.fault("", "says nothing", f'write {key} = {{ not = "value" }}')
        holder, name = inner, "not"
    values = holder.texts(name) or ()
    for value in values:
        if allowed and value not in allowed and value != UNKNOWN:
            holder.fault(
                name,
                f'"{value}" is not a value of {key}',
                meant(value, (*allowed, UNKNOWN), say="allowed"),
            )
    return Condition(attribute=key, values=values, negated=is_negated)
