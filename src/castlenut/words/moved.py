"""One item moved to another visit, in words: what it costs more or saves, what goes past."""

from datetime import date

from castlenut.domain.visits.moving import Moved
from castlenut.words import figures
from castlenut.words.visits import money

SAME = "costs the same"
_LEAST = 0.005


def cost_word(moved: Moved) -> str:
    """Say in few words what moving costs in all: `costs 12.30`, `saves 3.10`."""
    total = moved.more.total
    if abs(total) < _LEAST:
        return SAME
    return f"{'costs' if total > 0 else 'saves'} {money(abs(total))}"


def what_changes(moved: Moved, *, has_money: bool) -> str:
    """Say what moving changes: visits, opening, life given up, and what goes past its window.

    Without money an hour counts one, so that life is told in hours.
    """
    unit = "" if has_money else " h"
    told = []
    if moved.past is not None:
        told.append(f"!! past its window since {moved.past.isoformat()}")
    if moved.visits:
        told.append(_more(abs(moved.visits), "visit", is_more=moved.visits > 0))
    if abs(moved.hours) >= _LEAST:
        told.append(
            f"{figures.hours(abs(moved.hours))} of opening {'more' if moved.hours > 0 else 'less'}"
        )
    if abs(moved.more.life) >= _LEAST:
        way = "given up" if moved.more.life > 0 else "gained"
        told.append(f"{money(abs(moved.more.life))}{unit} of life {way}")
    if moved.more.late >= _LEAST:
        told.append(f"{money(moved.more.late)} for being late")
    return "; ".join(told) or "nothing else changes"


def past_words(name: str, closes: date | None, to: date) -> str:
    """Say whether an item goes past its window by a day."""
    if closes is not None and closes < to:
        return f"!! {name}: past its window by then, it closes on {closes:%a} {closes.isoformat()}"
    return f"{name}: within its window on {to:%a} {to.isoformat()}"


def _more(count: int, what: str, *, is_more: bool) -> str:
    return f"{figures.count(count, what)} {'more' if is_more else 'less'}"
