"""The one form for what holds of the whole garage, and for the theme of this computer's screens."""

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from typing import ClassVar

from textual.widget import Widget
from textual.widgets import Static

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.units import Unit
from castlenut.garage.changes.settings import draft_settings
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.garage.settings import DEPTH_UNITS, settings_as_typed
from castlenut.screens.forms.form import Form
from castlenut.screens.themes import THEMES
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.field import Field
from castlenut.store.faults import NotSaved

THEME = "theme"
_THEME_NAMES = tuple(each.name for each in THEMES)


class SettingsForm(Form):
    """Name, units, money, open hours of the garage, and the theme: only what is changed is saved.

    `take_theme` puts a theme into force and keeps it; it raises NotSaved where it cannot be kept.
    """

    HEAD: ClassVar[str] = "Settings"

    def __init__(
        self, garage: Garage, *, theme: str, keys_file: str, take_theme: Callable[[str], None]
    ) -> None:
        super().__init__(garage)
        self._before = settings_as_typed(garage.settings)
        self._theme = theme
        self._keys_file = keys_file
        self._take_theme = take_theme

    def fields(self) -> Iterable[Widget]:
        before = self._before
        yield Field("name", "garage", value=before["name"], width=40)
        yield Field("address", "address", value=before["address"], width=50)
        yield Field("telephone", "telephone", value=before["telephone"], width=20)
        yield ChoiceField(
            "distance_unit",
            "distances",
            names=[each.value for each in Unit],
            value=before["distance_unit"],
            width=8,
            remark="of new cars and answers",
        )
        yield ChoiceField(
            "depth_unit",
            "tread depths",
            names=list(DEPTH_UNITS),
            value=before["depth_unit"],
            width=8,
        )
        yield Field(
            "hourly_rate",
            "rate an hour",
            value=before["hourly_rate"],
            width=10,
            remark="empty: no money is shown",
        )
        yield Field(
            "visit_cost",
            "visit cost",
            value=before["visit_cost"],
            width=10,
            remark="what coming in costs by itself",
        )
        yield Field("currency", "currency", value=before["currency"], width=8)
        yield Field(
            "hours",
            "open hours",
            value=before["hours"],
            width=44,
            remark="mon:8,tue:8; a day left out is closed",
        )
        yield Field(
            "closed", "closed on", value=before["closed"], width=44, remark="2026-12-25,2026-12-26"
        )
        yield Field(
            "horizon_months", "look ahead", value=before["horizon_months"], width=4, unit="months"
        )
        yield ChoiceField(
            THEME,
            THEME,
            names=_THEME_NAMES,
            value=self._theme,
            width=10,
            remark="of this computer",
        )
        yield Static(f"keys of your own stand in {self._keys_file}", markup=False)

    def question(self) -> Callable[[], Draft]:
        changed = {name: self.text(name) for name in self._before if self.field(name).is_changed}
        return partial(_drafted, self.garage, changed, self.text(THEME))

    def save(self) -> None:
        """Put the theme into force and save the settings; with any fault neither."""
        theme = self.text(THEME)
        if theme != self._theme and not self.looked(self.question()).faults:
            try:
                self._take_theme(theme)
            except NotSaved as refused:
                self.tell_faults((Fault(str(refused), THEME, "free the file, then save again"),))
                return
        super().save()


def _drafted(garage: Garage, changed: Mapping[str, str], theme: str) -> Draft:
    if theme not in _THEME_NAMES:
        raise BadInput(Fault(f'no theme "{theme}"', THEME, f"give {' or '.join(_THEME_NAMES)}"))
    return draft_settings(garage, changed)
