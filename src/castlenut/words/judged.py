"""What is worth doing while it is apart, in words: the set first, figures one key deeper."""

from collections.abc import Iterator, Mapping
from datetime import date

from castlenut.domain.item import Item
from castlenut.domain.visits.together import Together, Worth
from castlenut.words.answers import Answer
from castlenut.words.car_visits import called, title
from castlenut.words.listing import titled
from castlenut.words.visit_answers import named, to_cents
from castlenut.words.visits import worth

NOW, WORTH, TOGETHER, LATER = "anyway", "worth it", "together", "can wait"
"""In a word: its last day, or told; saves more than it costs; so in company; costs more."""
_FEW = 5
_LEAST = 0.005


def in_a_word(name: str, found: Together) -> str:
    """Say in a word whether an item is worth doing now; empty where it was not judged."""
    if name in found.doing:
        return NOW
    each = next((each for each in found.ranked if each.item == name), None)
    if each is None:
        return ""
    if name in found.items:
        return WORTH if each.net > _LEAST else TOGETHER
    return WORTH if each.net > _LEAST and not found.items else LATER


def place_of(name: str, found: Together) -> int:
    """Give the place of an item, worth first: what is done anyway, the ranked, all others."""
    if name in found.doing:
        return 0
    names = [each.item for each in found.ranked]
    return 1 + (names.index(name) if name in names else len(names))


def figure_lines(each: Worth) -> Iterator[str]:
    """Give what doing an item now comes to, in figures, a line each."""
    yield f"net: {to_cents(each.net):,.2f}"
    yield f"visits saved: {each.visits_saved}"
    yield f"opening saved: {to_cents(each.access_saved):,.2f}, {each.hours_saved:.4g} h"
    yield f"life given up: {to_cents(each.life_given_up):,.2f}"
    if each.late_saved:
        yield f"lateness saved: {to_cents(each.late_saved):,.2f}"


def judged_lines(found: Together, items: Mapping[str, Item], *, in_full: bool) -> Iterator[str]:
    """Give what to do together now, and with `in_full` what each is worth, alone and together."""
    if found.items:
        yield f"worth doing now, together: {_grouped([items[name] for name in found.items])}"
    elif found.ranked:
        yield "nothing of it is worth doing before it has to be"
    if not in_full:
        return
    names = called(items)
    gains = [each for each in found.ranked if each.net > 0]
    others = found.ranked[len(gains) :]
    yield from (worth(each, names) for each in (*gains, *others[:_FEW]))
    if len(others) > _FEW:
        yield f"and {len(others) - _FEW} more that can wait"
    if found.items:
        yield f"together: worth {found.net:,.2f}"
    if found.ranked and not found.is_proved:
        yield "not proved: there may be better choices"


def _grouped(items: list[Item]) -> str:
    places: dict[str, list[str]] = {}
    for item in items:
        here = places.setdefault(item.rule.title, [])
        if item.place is not None:
            here.append(str(item.place))
    return "; ".join(titled(name, " ".join(at)) for name, at in places.items())


def judged_answer(
    found: Together, items: Mapping[str, Item], on: date, *, has_money: bool
) -> dict[str, Answer]:
    """Give it for other programs; money counts in hours where no rate is set."""
    return {
        "on": on.isoformat(),
        "has_rate": has_money,
        "doing": [named(items[name])["item"] for name in found.doing],
        "ranked": [_worth(each, items) for each in found.ranked],
        "together": {
            "items": [named(items[name])["item"] for name in found.items],
            "net": to_cents(found.net),
        },
        "proved": found.is_proved,
    }


def _worth(each: Worth, items: Mapping[str, Item]) -> dict[str, Answer]:
    item = items[each.item]
    return {
        **named(item),
        "net": to_cents(each.net),
        "visits_saved": each.visits_saved,
        "access_saved": to_cents(each.access_saved),
        "hours_saved": to_cents(each.hours_saved),
        "life_given_up": to_cents(each.life_given_up),
        "why": worth(each, {each.item: title(item)}),
    }
