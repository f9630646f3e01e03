"""A garage in which one car stands as if changes were saved that are not."""

from castlenut.domain.rules.rule import RuleBook
from castlenut.garage.car_record import CarRecord, car_record
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.garage.settings import Settings
from castlenut.store.foreseen import foreseen
from castlenut.store.record_file import RecordFile


class AsIfSaved(Garage):
    """Another garage, one car of it changed by drafts; whatever is asked of the rest is its own.

    Nothing may be saved in it: drafts made here belong to the files of the other.
    """

    def __init__(self, garage: Garage) -> None:
        """Begin with nothing changed."""
        super().__init__(garage.folder, garage.surroundings)
        self._garage = garage
        self._changed: dict[str, CarRecord] = {}

    @property
    def book(self) -> RuleBook:
        """Give the rules in force."""
        return self._garage.book

    @property
    def settings(self) -> Settings:
        """Give the garage's settings."""
        return self._garage.settings

    def car(self, slug: str) -> CarRecord:
        """Give a car as it would stand.

        Raises:
            CannotRead: its file cannot be read.
        """
        changed = self._changed.get(slug)
        return self._garage.car(slug) if changed is None else changed

    def file(self, slug: str) -> RecordFile:
        """Give a car's file as it would stand.

        Raises:
            CannotRead: it cannot be read.
        """
        return self.car(slug).file

    def add(self, draft: Draft) -> None:
        """Let a draft made here count as saved.

        Raises:
            BadInput: it cannot be.
        """
        file = foreseen(self.file(draft.slug), draft.edits, self._garage.change())
        self._changed[draft.slug] = car_record(file)
