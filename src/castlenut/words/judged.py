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

_FEW = 5


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
        yield "not proved: --seconds N looks longer"


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
