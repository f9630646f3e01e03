"""What a row of the car's own figures says: name, value, unit, where, where it came from."""

from collections.abc import Iterator

from castlenut.domain.car import OwnFigure
from castlenut.domain.due import CarToday
from castlenut.domain.figures import figure_words, serves
from castlenut.garage.garage import Garage
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words.own_figures import in_order, unit_of, value_of

COLUMNS = (
    Column(head="figure", width=22, grow=2),
    Column(head="value", width=10, is_right=True),
    Column(head="unit", width=5),
    Column(head="where", width=6, grow=1),
    Column(head="where it came from", width=16, grow=3),
    Column(head="limit of", width=12, grow=1, least=78),
)
ANOTHER = "another figure"
EMPTY = "No figure yet: limits that say spec are not known. e enters the first"


def figure_lines(today: CarToday, garage: Garage) -> Iterator[Line]:
    """Give the rows of a car's own figures, and one more to enter another."""
    rules = tuple(garage.book.rules.values())
    own = in_order(today.car.figures)
    for figure in own:
        of = ", ".join(rule.id for rule in serves(figure, rules))
        yield Line(
            key=figure.record,
            cells=(
                figure_words(figure.name),
                value_of(figure),
                unit_of(figure) or "-",
                str(figure.place) if figure.place else "-",
                figure.source or "-",
                of or "-",
            ),
            name=figure_words(figure.name),
        )
    if own:
        cells = ("+ another: e", "-", "-", "-", "-", "-")
        yield Line(key=ANOTHER, cells=cells, color="quiet", name=ANOTHER)


def figure_of(today: CarToday, key: str | None) -> OwnFigure | None:
    """Give the figure under a key."""
    return next((each for each in today.car.figures if each.record == key), None)
