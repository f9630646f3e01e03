"""The kinds of reckoning there are, and the running of one."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import TextIO

from castlenut.command.reckon import (
    apart,
    change,
    distance,
    forecast,
    interval,
    limit,
    load,
    months,
    points,
    rotate,
    rotation,
    size,
    tin,
    vin,
    visits,
    wear,
    weeks,
)
from castlenut.command.reckon.fields import Answer, Field, Fields, Json, near
from castlenut.command.reckon.kind import Kind
from castlenut.command.reckon.lines import answer_lines
from castlenut.domain.errors import BadInput, Fault

_KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        kind.name: kind
        for kind in (
            interval.KIND,
            months.KIND,
            points.KIND,
            wear.KIND,
            limit.KIND,
            tin.KIND,
            vin.KIND,
            distance.KIND,
            forecast.KIND,
            size.KIND,
            change.KIND,
            load.KIND,
            rotate.KIND,
            rotation.KIND,
            visits.KIND,
            apart.KIND,
            weeks.KIND,
        )
    }
)

KINDS: Mapping[str, str] = MappingProxyType({name: kind.summary for name, kind in _KINDS.items()})
"""Every kind with one line of help."""


def run(kind: str, lines: Iterable[str | bytes], stdout: TextIO) -> int:
    """Answer lines of JSON by one kind, and give the exit code: 0, or 2 when a line had an error.

    Raises:
        BadInput: there is no such kind.
    """
    named = _kind(kind)

    def answer(values: Mapping[str, Json]) -> Answer:
        return named.answer(Fields(values, named.fields))

    return answer_lines(answer, lines, stdout)


def fields_help(kind: str) -> str:
    """Give the fields of a kind and of its answer, a line each; what may be left out in brackets.

    Raises:
        BadInput: there is no such kind.
    """
    named = _kind(kind)
    return "\n".join(
        [
            f"{named.name}: {named.summary}",
            "",
            "Each line, beside an id of any form:",
            *_listed(named.fields),
            "",
            "Its answer, beside the same id:",
            *_listed(named.answers),
            "",
            "A line that cannot be answered gives its id and an error.",
        ]
    )


def _listed(fields: Iterable[Field]) -> list[str]:
    return [
        f"  {f'[{field.name}]' if field.optional else field.name:<20} {field.meaning}"
        for field in fields
    ]


def _kind(name: str) -> Kind:
    kind = _KINDS.get(name)
    if kind is None:
        meant = near(name, _KINDS)
        remedy = f"{meant} is probably meant" if meant else f"the kinds are {', '.join(_KINDS)}"
        raise BadInput(Fault(f"{name!r} is not a kind of reckoning", "reckon", remedy))
    return kind
