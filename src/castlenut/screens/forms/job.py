"""The forms that correct a job as it was recorded, and that strike it with a reason."""

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from typing import ClassVar

from textual.widget import Widget

from castlenut.domain.due import CarToday
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.happenings import Job
from castlenut.garage.changes.corrections import draft_correction, draft_strike
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.screens.forms.of_car import CarForm
from castlenut.screens.widgets.field import Field
from castlenut.words import figures


class _JobForm(CarForm):
    """A form about a job that is recorded."""

    def __init__(self, garage: Garage, car: CarToday, job: Job) -> None:
        super().__init__(garage, car)
        self.job = job

    def heading(self) -> str:
        return f"{self.HEAD}: {self.job.on} {self.car.car.vehicle.description}"


class CorrectJobForm(_JobForm):
    """What was written down wrong: a new revision; the former figures stay in the history."""

    HEAD: ClassVar[str] = "A job corrected"

    def fields(self) -> Iterable[Widget]:
        for name, (label, value, width) in _written(self.job).items():
            yield Field(name, label, value=value, width=width)

    def question(self) -> Callable[[], Draft]:
        changed = {each.name or "": each.text for each in self.typed if each.is_changed}
        return partial(_corrected, self.garage, self.slug(), self.job.record, changed)


class StrikeJobForm(_JobForm):
    """A job that never was: it is struck, and what it ended is due again."""

    HEAD: ClassVar[str] = "A job struck out"

    def fields(self) -> Iterable[Widget]:
        yield Field("why", "why", width=40, remark="entered twice, other car, ...")

    def question(self) -> Callable[[], Draft]:
        return partial(
            draft_strike,
            self.garage,
            self.slug(),
            self.job.record,
            why=self.text("why") or None,
        )


def _corrected(garage: Garage, slug: str, record: str, changed: Mapping[str, str]) -> Draft:
    if not changed:
        raise BadInput(Fault("nothing is changed yet", "on", "change a field, or leave with esc"))
    return draft_correction(garage, slug, record, changed)


def _written(job: Job) -> Mapping[str, tuple[str, str, int]]:
    """Give what may be corrected: by field its label, its value as typed, its width."""
    return {
        "on": ("on", job.on.isoformat(), 12),
        "at": ("dial", "" if job.at is None else figures.number(job.at), 12),
        "by": ("by", job.by or "", 30),
        "hours": ("hours", "" if job.hours is None else figures.number(job.hours), 8),
        "cost": ("cost", "" if job.cost is None else f"{job.cost:.2f}", 10),
        "note": ("note", job.note or "", 50),
    }
