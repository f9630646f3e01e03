"""A command as it was called: what was typed, and the world it is answered in."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date
    from pathlib import Path

    from castlenut.command.world import World
    from castlenut.garage.garage import Garage, Surroundings

_FIRST_YEAR, _LAST_YEAR = 1900, 9000
DAY_FORM = "write a day that exists, as 2026-11-25"


class Call:
    """One command with its options, each asked for by its name and type."""

    __slots__ = ("_options", "command", "world")

    def __init__(self, command: str, options: Mapping[str, object], world: World) -> None:
        self.command = command
        self.world = world
        self._options = options

    def text(self, name: str) -> str:
        """Give an argument that cannot be missing."""
        return str(self._options[name])

    def maybe(self, name: str) -> str | None:
        """Give an argument that may be missing."""
        value = self._options.get(name)
        return None if value is None else str(value)

    def given(self, *names: str) -> dict[str, str | None]:
        """Give arguments that may be missing, by their names: what a change is drafted from."""
        return {name: self.maybe(name) for name in names}

    def texts(self, name: str) -> Sequence[str]:
        """Give an argument that may stand several times; none is an empty list."""
        value = self._options.get(name)
        return [str(each) for each in value] if isinstance(value, list) else []

    def flag(self, name: str) -> bool:
        """Tell whether a flag was given."""
        return self._options.get(name) is True

    @property
    def as_json(self) -> bool:
        """Tell whether the answer is wanted as JSON."""
        return self.flag("json")

    @property
    def is_plain(self) -> bool:
        """Tell whether plain lines are wanted even on a terminal."""
        return self.flag("plain")

    def today(self) -> date:
        """Give the day that counts as today.

        Raises:
            BadInput: `--today` is no day.
        """
        given = self.maybe("today")
        if given is None:
            return self.world.today()
        from datetime import date

        from castlenut.domain.errors import BadInput, Fault

        try:
            found = date.fromisoformat(given)
        except ValueError:
            raise BadInput(Fault(f'"{given}" is not a day', "--today", DAY_FORM)) from None
        if not _FIRST_YEAR <= found.year <= _LAST_YEAR:
            raise BadInput(
                Fault(f"{found} is no day of a car", "--today", f"{_FIRST_YEAR} to {_LAST_YEAR}")
            )
        return found

    def garage_path(self) -> Path:
        """Give the garage folder: the option, then CASTLENUT_GARAGE, then the platform's own."""
        from pathlib import Path

        given = self.maybe("garage") or self.world.environment.get("CASTLENUT_GARAGE")
        if given:
            return Path(given)
        from platformdirs import user_data_path

        return user_data_path("castlenut", appauthor=False) / "garage"

    def surroundings(self) -> Surroundings:
        """Give what the garage needs of the world."""
        from castlenut.garage.garage import Surroundings

        return Surroundings(
            today=self.today(),
            now=self.world.now,
            new_id=self.world.new_id,
            draw=self.world.draw,
            device=self._device,
            command=self.command,
        )

    def garage(self, *, by_rules: bool = True) -> Garage:
        """Open the garage, and tell on stderr what is wrong with its settings and its rules.

        `by_rules`: whether the answer rests on the rules at all.

        Raises:
            BadInput: there is no garage there, or it cannot be read.
        """
        from castlenut.command.output import tell

        garage = self.quiet_garage()
        if garage.settings_fault is not None:
            tell(str(garage.settings_fault))
        for told in garage.settings_told:
            tell(told)
        if by_rules:
            for told in garage.rule_faults_told:
                tell(told)
        return garage

    def garage_and_car(self) -> tuple[Garage, str]:
        """Open the garage, and give the short name of the vehicle meant.

        Raises:
            BadInput: there is no garage there, or no such vehicle in it.
        """
        garage = self.garage()
        return garage, garage.find(self.text("vehicle"))

    def quiet_garage(self) -> Garage:
        """Open the garage, and tell nothing yet.

        Raises:
            BadInput: there is no garage there, or it cannot be read.
        """
        from castlenut.garage.garage import open_garage

        return open_garage(self.garage_path(), self.surroundings())

    def _device(self) -> str:
        from castlenut.store.device import device_id

        return device_id(
            self.world.environment.get("CASTLENUT_DEVICE"), fresh=lambda: self.world.draw(3).hex()
        )
