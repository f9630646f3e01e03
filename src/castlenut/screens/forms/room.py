"""The form for the room measured round a wheel."""

from collections.abc import Callable, Iterable
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.domain.tires.room import When
from castlenut.garage.changes.rooms import draft_room
from castlenut.garage.drafts import Draft
from castlenut.screens.forms.of_car import CarForm
from castlenut.screens.widgets.choice_field import ChoiceField
from castlenut.screens.widgets.date_field import DateField
from castlenut.screens.widgets.field import Field


class RoomForm(CarForm):
    """The gaps of the set that is on now: what may be fitted there is reckoned from them."""

    HEAD: ClassVar[str] = "Room at the wheel"

    def fields(self) -> Iterable[Widget]:
        yield Field("place", "where", width=14, remark="LF, front, all")
        yield Field("--inner", "inner", unit="mm", width=6, remark="tire to what is inward of it")
        yield Field("--outer", "outer", unit="mm", width=6, remark="tire to the fender")
        yield Field("--caliper", "caliper", unit="mm", width=6, remark="wheel to the caliper")
        stances = [each.value for each in When]
        yield ChoiceField("--when", "wheel", names=stances, value=When.STRAIGHT.value, width=10)
        yield ChoiceField(
            "--aligned", "aligned", names=("yes", "no"), width=6, remark="empty: not known"
        )
        today = self.garage.surroundings.today
        yield DateField("on", "on", today=today, past=True, value=today.isoformat())

    def question(self) -> Callable[[], Draft]:
        return partial(
            draft_room,
            self.garage,
            self.slug(),
            self.text("place"),
            inner=self.maybe("--inner"),
            outer=self.maybe("--outer"),
            caliper=self.maybe("--caliper"),
            when=self.maybe("--when"),
            aligned=self.maybe("--aligned"),
            on=self.maybe("on"),
        )

    def follows(self, draft: Draft) -> tuple[str, ...]:
        return draft.told
