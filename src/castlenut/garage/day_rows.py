"""The rows of a day's work as they were typed, and what stands once for all of them."""

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RuleId

TREAD_RULE = RuleId("tire-tread")
"""The rule whose items the treads are measured on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What holds for the whole day: when, what the dial showed, who did it.

    `at` None: the estimate, so marked. `by` None: this garage.
    """

    on: str
    at: str | None
    by: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """Items done: their arguments, the values measured on the first of them, what is left out."""

    row: int
    items: tuple[str, ...]
    values: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """Findings mended, and how."""

    row: int
    findings: tuple[str, ...]
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Items measured, with a value each."""

    row: int
    items: tuple[str, ...]
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Declined:
    """Items that the owner said no to."""

    row: int
    items: tuple[str, ...]
    who: str | None
    why: str | None
    until: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """Something that happened to the car."""

    row: int
    event: str
    where: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Something found, and what was decided about it: one of the words of `Decided`."""

    row: int
    what: str
    where: str | None = None
    nature: str | None = None
    photo: str | None = None
    decided: str
    watch: str | None = None
    every: str | None = None
    who: str | None = None
    has_other_side: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Tread:
    """Tread depths by place, up to three grooves each: `8 8 7`."""

    row: int
    depths: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A part fitted; `kind` may be the id of one from the shelf."""

    row: int
    kind: str
    places: str | None
    part: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Removed:
    """A part taken off, by its record."""

    row: int
    record: str
    why: str | None


Entry = Done | Mended | Measured | Declined | Happened | Found | Tread | Fitted | Removed


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """Hours, cost and note of the job."""

    hours: str | None = None
    cost: str | None = None
    note: str | None = None

    @property
    def is_empty(self) -> bool:
        """Tell whether nothing of it is given."""
        return self.hours is None and self.cost is None and self.note is None
