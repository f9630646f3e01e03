"""How an item stands, as a mark, a word and a color: each readable without the others."""

from castlenut.domain.frozen import dataclass
from castlenut.domain.item import Item
from castlenut.domain.working import State


@dataclass(frozen=True, slots=True)
class Stamp:
    """What is stamped at the left of a row. `color` names a color of the themes."""

    mark: str
    word: str
    color: str

    def __str__(self) -> str:
        """Give mark and word, the words of a column of stamps standing under each other."""
        return f"{self.mark:<2} {self.word}"


OVERDUE = Stamp("!!", "overdue", "overdue")
MAY_BE_OVERDUE = Stamp("!~", "may be overdue", "overdue")
DUE = Stamp("!", "due", "due")
MAY_BE_DUE = Stamp("~", "may be due", "due")
NO_RECORD = Stamp("?", "no record", "no-record")
DECLINED = Stamp("/", "declined", "no-record")
AHEAD = Stamp(".", "ahead", "ahead")
DONE = Stamp("ok", "done", "ahead")
CANNOT_BE_READ = Stamp("??", "cannot be read", "no-record")

STAMPS = (
    OVERDUE,
    MAY_BE_OVERDUE,
    DUE,
    MAY_BE_DUE,
    NO_RECORD,
    DECLINED,
    AHEAD,
    DONE,
    CANNOT_BE_READ,
)
"""Every stamp there is, worst first."""

BEFORE_IT_ROLLS = "before it rolls"


def stamp(state: State, may_be: State | None = None) -> Stamp:
    """Give the stamp of a state; `may_be` is where only the far end of the band has come to."""
    match state:
        case State.OVERDUE:
            return OVERDUE
        case State.DUE:
            return MAY_BE_OVERDUE if may_be is State.OVERDUE else DUE
        case State.NO_RECORD:
            return NO_RECORD
        case State.DECLINED:
            return DECLINED
        case State.AHEAD:
            return AHEAD if may_be is None else _AHEAD_BUT.get(may_be, AHEAD)


_AHEAD_BUT = {State.DUE: MAY_BE_DUE, State.OVERDUE: MAY_BE_OVERDUE}


def stamp_of(item: Item) -> Stamp:
    """Give the stamp of an item as it stands today."""
    return stamp(item.state, item.may_be)


RANKS = {
    1: "before it moves under its own power",
    2: "before it goes on the road",
    3: "by 500 mi",
    4: "when next reached",
}
"""What the rank of an item with no record asks for."""
