"""Keeping published targets up to date while the program is open: at its start, each new week."""

from collections.abc import Callable
from datetime import date
from threading import Event, Thread

from castlenut.domain.errors import BadInput
from castlenut.feed.week import monday_of
from castlenut.garage.feeds.targets import Target, bring_up_to_date
from castlenut.garage.garage import Garage
from castlenut.store.faults import NotSaved

_LOOK_SECONDS = 60.0
_CLOSE_SECONDS = 5.0


class Keeper:
    """A thread that writes the targets at once, and again when the ISO week turns.

    A save brings them up to date itself. What it could not write is in `faults`.
    """

    def __init__(
        self,
        garage: Garage,
        *,
        today: Callable[[], date],
        log: Callable[[str], None],
        look_seconds: float = _LOOK_SECONDS,
    ) -> None:
        """Begin nothing yet. `garage` is opened for this thread alone."""
        self._garage = garage
        self._today = today
        self._log = log
        self._look_seconds = look_seconds
        self._is_over = Event()
        self._thread = Thread(target=self._keep, name="published feeds", daemon=True)

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    def close(self) -> None:
        """End; a file that is being written is finished first."""
        self._is_over.set()
        self._thread.join(timeout=_CLOSE_SECONDS)

    def _keep(self) -> None:
        written_in: date | None = None
        while True:
            monday = monday_of(self._today())
            if monday != written_in:
                written_in = monday
                self._write()
            if self._is_over.wait(self._look_seconds):
                return

    def _write(self) -> None:
        self._garage.turn_to(self._today())
        self._garage.changed_files()
        try:
            found: tuple[Target, ...] = bring_up_to_date(self._garage)
        except (BadInput, NotSaved) as refused:
            self._log(str(refused))
            return
        for each in found:
            if each.fault is not None:
                self._log(f"{each.path}: {each.fault}")
