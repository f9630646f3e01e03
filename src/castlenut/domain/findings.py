"""What was found that no rule names: what was decided about it, its mending, and the other side."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from enum import Enum

from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId
from castlenut.domain.place import Place, Spot

REPAIR_CAUTIONS = ("weld", "fuel", "lead")
"""Cautions told before a repair: how it will be mended is not known yet, so the hardest way."""


class Nature(Enum):
    """What kind of thing was found."""

    CRACK = "crack"
    RUST = "rust"
    LEAK = "leak"
    WEAR = "wear"
    PLAY = "play"
    DAMAGE = "damage"
    OTHER = "other"


class Decided(Enum):
    """What was decided about a finding."""

    MEND = "mend"
    WATCH = "watch"
    DECLINED = "declined"


class How(Enum):
    """How a finding was mended."""

    WELD = "weld"
    PATCH = "patch"
    BRAZE = "braze"
    PART = "part"


_NO_METAL = frozenset({Nature.LEAK, Nature.WEAR, Nature.PLAY})


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something found on a car.

    `decided` None: the other side of a finding, still to be looked at. `mended_by` names the
    repair. `photo` is the name of its file among the garage's photos. `job`: saved with that work.
    """

    record: RecordId
    what: str
    on: date
    place: Place | None = None
    nature: Nature | None = None
    at: Decimal | None = None
    decided: Decided | None = None
    mended_by: RecordId | None = None
    photo: str | None = None
    job: RecordId | None = None

    @property
    def is_to_be_mended(self) -> bool:
        """Tell whether a repair was decided on and is not made."""
        return self.decided is Decided.MEND and self.mended_by is None

    @property
    def title(self) -> str:
        """Give what is to be done about it."""
        return f"mend {self.what}" if self.decided is Decided.MEND else f"look at {self.what}"


_OTHER_SIDES: Mapping[Spot, Spot] = {
    Spot.LF: Spot.RF,
    Spot.LR: Spot.RR,
    Spot.LRO: Spot.RRO,
    Spot.LRI: Spot.RRI,
    Spot.L: Spot.R,
}
_OTHER_SIDE = {**_OTHER_SIDES, **{there: here for here, there in _OTHER_SIDES.items()}}


def other_side(place: Place | None) -> Place | None:
    """Give the same place on the other side of the car; None where a place has none."""
    if place is None or place.spot is None or place.spot not in _OTHER_SIDE:
        return None
    return Place(_OTHER_SIDE[place.spot], place.which)


def event_of_repair(how: How, nature: Nature | None) -> str | None:
    """Give the event a repair raises: whatever is heated counts as welded, a new part as a panel.

    A new part for a leak, for wear or for play is no panel, and raises none.
    """
    if how is not How.PART:
        return "weld"
    return None if is_without_metal(how, nature) else "panel"


def is_without_metal(how: How, nature: Nature | None) -> bool:
    """Tell whether a repair leaves no bare metal: a new part for a leak, for wear or for play."""
    return how is How.PART and nature in _NO_METAL
