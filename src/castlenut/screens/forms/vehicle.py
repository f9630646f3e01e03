"""The form that takes a car in."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive, KeptAt, Use
from castlenut.garage.changes.vehicles import USUAL_DIGITS, draft_vehicle, vin_words
from castlenut.garage.drafts import Draft
from castlenut.screens.forms.form import Form
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.field import Field

_SLUG = "short name"
VIN_REMARK = "an odd one is told, not refused"
_NAMES = (
    "description",
    "year",
    "drive",
    "unit",
    "digits",
    "use",
    "kept_at",
    "owner",
    "phone",
    "plate",
    "vin",
    "note",
)


class VehicleForm(Form):
    """A car: its name, its dial, its owner. All but the name may wait."""

    HEAD: ClassVar[str] = "A car taken in"

    def fields(self) -> Iterable[Widget]:
        unit = self.garage.settings.distance_unit.value
        yield Field("description", "car", width=40, remark="as you call it")
        yield Field(_SLUG, _SLUG, width=40, remark="may stay empty")
        yield Field("year", "year", width=6)
        yield ChoiceField("drive", "drive", names=[each.value for each in Drive], width=8)
        yield ChoiceField(
            "unit",
            "dial counts",
            names=[each.value for each in Unit],
            value=unit,
            width=8,
            remark=" or ".join(each.value for each in Unit),
        )
        yield Field(
            "digits", "dial digits", value=str(USUAL_DIGITS), width=4, remark="without the tenths"
        )
        yield ChoiceField("use", "use", names=[each.value for each in Use], width=12)
        yield ChoiceField("kept_at", "kept at", names=[each.value for each in KeptAt], width=8)
        yield Field("owner", "owner", width=30)
        yield Field("phone", "telephone", width=20)
        yield Field("plate", "plate", width=12)
        yield Field("vin", "VIN or serial", width=20, remark=VIN_REMARK)
        yield Field("note", "note", width=50)

    def take_change(self, field: Field) -> None:
        """Say at once whether the check digit of a number holds."""
        if field.name in {"vin", "year"}:
            year = self.text("year")
            told = vin_words(self.text("vin"), year=int(year) if year.isdecimal() else None)
            self.field("vin").remark(told or VIN_REMARK)

    def question(self) -> Callable[[], Draft]:
        typed = {name: self.text(name) for name in _NAMES}
        return partial(
            draft_vehicle,
            self.garage,
            self.text(_SLUG) or None,
            {name: text for name, text in typed.items() if text},
        )
