"""The car's own figures as plain lines, and as answers of docs/json.md."""

from collections.abc import Iterable
from decimal import Decimal

from castlenut.domain.car import OwnFigure
from castlenut.domain.figures import NO_UNIT, figure_words, serves
from castlenut.domain.measures import THIRTY_SECOND
from castlenut.domain.rules.rule import Rule
from castlenut.words import figures
from castlenut.words.answers import Answer
from castlenut.words.escape import one_line

GAP = "  "
NOWHERE = "source not given"


def in_order(own: Iterable[OwnFigure]) -> tuple[OwnFigure, ...]:
    """Give figures by name and place, as they are listed."""
    return tuple(
        sorted(
            own,
            key=lambda each: (
                figure_words(each.name).lower(),
                each.place.order if each.place else (-1, ""),
                each.record,
            ),
        )
    )


def value_of(figure: OwnFigure) -> str:
    """Give the figure without its unit: `1/16` stays decimal, thirty-seconds are written so."""
    if isinstance(figure.value, str):
        return one_line(figure.value)
    told = figures.number(figure.value)
    return f"{told}/32" if figure.unit == THIRTY_SECOND else told


def unit_of(figure: OwnFigure) -> str:
    """Give the unit as it is told; empty where there is none."""
    if figure.unit == THIRTY_SECOND:
        return "in"
    return "" if figure.unit == NO_UNIT else one_line(figure.unit)


def figure_line(figure: OwnFigure, rules: Iterable[Rule]) -> str:
    """Give a figure as one line: name, place, value with unit, source, what it is the limit of."""
    of = ", ".join(rule.id for rule in serves(figure, rules))
    parts = (
        one_line(figure_words(figure.name)),
        str(figure.place) if figure.place else "",
        f"{value_of(figure)} {unit_of(figure)}".rstrip(),
        one_line(figure.source) if figure.source else NOWHERE,
        f"limit of {of}" if of else "",
        figure.record[-8:],
    )
    return GAP.join(part for part in parts if part)


def figure_answer(figure: OwnFigure, slug: str, rules: Iterable[Rule]) -> dict[str, Answer]:
    """Give a figure for other programs; `unit` null: it has none."""
    value = figure.value
    return {
        "vehicle": slug,
        "id": figure.record,
        "name": figure.name,
        "title": figure_words(figure.name),
        "position": str(figure.place) if figure.place else None,
        "value": figures.as_number(value) if isinstance(value, Decimal) else value,
        "unit": None if figure.unit in {"", NO_UNIT} else figure.unit,
        "source": figure.source,
        "limit_of": [rule.id for rule in serves(figure, rules)],
    }
