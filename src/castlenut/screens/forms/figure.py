"""The form for one of the car's own figures."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.domain.car import OwnFigure
from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput
from castlenut.domain.figures import figure_name, figure_words, units_of
from castlenut.domain.measures import MEASURES
from castlenut.garage.changes.figures import draft_figure
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.following import schedule_lines
from castlenut.screens.forms.form import Form
from castlenut.screens.widgets.field import Field
from castlenut.words.own_figures import unit_of, value_of

_NAME_REMARK = "toe, lug nut torque, engine oil, ..."


class FigureForm(Form):
    """A figure: what it is, how much, in which unit, where on the car, where it came from."""

    HEAD: ClassVar[str] = "The car's own figure"

    def __init__(self, garage: Garage, car: CarToday, figure: OwnFigure | None = None) -> None:
        super().__init__(garage)
        self.car = car
        self._figure = figure

    def slug(self) -> str:
        return self.car.car.vehicle.slug

    def heading(self) -> str:
        return f"{self.HEAD}: {self.car.car.vehicle.description}"

    def fields(self) -> Iterable[Widget]:
        own = self._figure
        name = "" if own is None else figure_words(own.name)
        value = "" if own is None else value_of(own)
        unit = "" if own is None else unit_of(own)
        place = "" if own is None or own.place is None else str(own.place)
        source = "" if own is None else own.source or ""
        yield Field("figure", "figure", value=name, width=34, remark=_NAME_REMARK)
        yield Field("value", "value", value=value, width=14, remark="1/16, 0.05, 750-800, 20W-50")
        yield Field("unit", "unit", value=unit, width=8)
        yield Field("place", "where", value=place, width=14, remark="LF, front; empty: the car")
        yield Field("source", "from", value=source, width=40, remark="its book, page; plate")

    def begin(self) -> None:
        self.field("figure" if self._figure is None else "value").enter()
        self._tell_units()

    def take_change(self, field: Field) -> None:
        if field.name == "figure":
            self._tell_units()

    def _tell_units(self) -> None:
        """Say beside the unit which ones such a figure may have."""
        try:
            name = figure_name(self.text("figure"))
        except BadInput:
            name = ""
        units = units_of(name)
        self.field("unit").remark(" or ".join(units) if units else "- for none")

    def question(self) -> Callable[[], Draft]:
        return partial(
            _entered,
            self.garage,
            self.car.car.vehicle.slug,
            self.text("figure"),
            self.text("value"),
            self.text("unit"),
            where=self.text("place") or None,
            source=self.text("source"),
        )

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return (*draft.told, *schedule_lines(self.garage, draft))


def _entered(
    garage: Garage,
    slug: str,
    name: str,
    value: str,
    unit: str,
    *,
    where: str | None,
    source: str,
) -> Draft:
    given = unit or ("" if _is_measure(name) else "-")
    return draft_figure(garage, slug, name, value, given, where=where, source=source)


def _is_measure(name: str) -> bool:
    """Tell whether a figure is a measure's, whose unit may be left to its own."""
    try:
        return figure_name(name) in MEASURES
    except BadInput:
        return False
