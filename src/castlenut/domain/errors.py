"""Bad input, said in one way everywhere: where, what, and what would put it right."""

from castlenut.domain.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with what was given: what it is, where it stands, what would put it right."""

    what: str
    where: str
    remedy: str

    def __str__(self) -> str:
        """Give the fault as one line, `WHERE: WHAT; REMEDY`."""
        return f"{self.where}: {self.what}; {self.remedy}"


class BadInput(Exception):
    """What was given cannot be used. Nothing was stored or changed."""

    def __init__(self, *faults: Fault) -> None:
        super().__init__(*faults)
        self.faults = faults
