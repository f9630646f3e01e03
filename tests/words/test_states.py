"""Mark, word and color of each state."""

import pytest

from castlenut.domain.working import State
from castlenut.words import states


@pytest.mark.parametrize(
    ("state", "may_be", "mark", "word"),
    [
        (State.OVERDUE, None, "!!", "overdue"),
        (State.DUE, State.OVERDUE, "!~", "may be overdue"),
        (State.DUE, None, "!", "due"),
        (State.AHEAD, State.DUE, "~", "may be due"),
        (State.AHEAD, State.OVERDUE, "!~", "may be overdue"),
        (State.NO_RECORD, None, "?", "no record"),
        (State.DECLINED, None, "/", "declined"),
        (State.AHEAD, None, ".", "ahead"),
    ],
)
def test_each_state_has_its_mark_and_word(
    state: State, may_be: State | None, mark: str, word: str
) -> None:
    stamp = states.stamp(state, may_be)

    assert (stamp.mark, stamp.word) == (mark, word)


def test_no_two_stamps_share_a_mark_or_a_word() -> None:
    """A state reads without its color, without its mark, and without its word."""
    marks = [stamp.mark for stamp in states.STAMPS]
    words = [stamp.word for stamp in states.STAMPS]

    assert len(set(marks)) == len(marks) == 9
    assert len(set(words)) == len(words) == 9


def test_marks_are_ascii_and_stand_in_two_columns() -> None:
    assert all(stamp.mark.isascii() and len(stamp.mark) <= 2 for stamp in states.STAMPS)
    assert str(states.DUE) == "!  due"
    assert str(states.OVERDUE) == "!! overdue"


def test_every_rank_says_until_when() -> None:
    assert states.RANKS == {
        1: "before it moves under its own power",
        2: "before it goes on the road",
        3: "by 500 mi",
        4: "when next reached",
    }
