"""Names as a user types them: beginnings, near misses, and the short name of an item."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.ids import OWN, RuleId, short
from castlenut.domain.item import Item
from castlenut.domain.place import Place, lies_in, place
from castlenut.domain.rules.rule import Rule
from castlenut.domain.vocabulary import is_word, our_words

_WRITE_MORE = "write more of it"
_MOST_LISTED = 12
_SHORTEST_END = 4  # digits of a record's id that may stand for the usual 8


Words = Mapping[str, tuple[str, ...]]
OtherWords = Mapping[str, str | tuple[str, ...]]
"""For other words, the name each stands for, or the several it may."""


def choose(
    text: str,
    names: Iterable[str],
    *,
    what: str,
    also: OtherWords | None = None,
    last: OtherWords | None = None,
    in_trade: bool = False,
) -> str:
    """Give the name meant: exactly typed, another word for it, or the only one beginning so.

    `also` gives, for other words, the name each stands for; `last` has words that are taken only
    where nothing else is meant. Case, and `-` or `_` for a blank, make no difference. `what` is
    what is asked for, as `vehicle`. `in_trade`: every word of the trade finds what ours does.

    Raises:
        BadInput: no name begins so, with the nearest ones; or several do, with all of them.
    """
    by_key = {_key(name): (name,) for name in names}
    typed = _key(text)
    if typed in by_key:
        return by_key[typed][0]
    others = {
        _key(word): (name,) if isinstance(name, str) else name
        for word, name in (also or {}).items()
    }
    for found in _attempts(typed, by_key, others, last or {}, in_trade=in_trade):
        if len(found) == 1:
            return found[0]
        if found:
            shown = found[:_MOST_LISTED]
            more = " or more" if len(shown) < len(found) else ""
            raise BadInput(Fault(f"{text!r} may be {_listed(shown)}{more}", what, _WRITE_MORE))
    known = {key: found[0] for key, found in {**others, **by_key}.items() if found}
    raise BadInput(Fault(f"no {what} {text!r}", what, _did_you_mean(typed, known, what)))


def _attempts(
    typed: str, by_key: Words, others: Words, last: OtherWords, *, in_trade: bool
) -> Iterator[Sequence[str]]:
    """Give what a text may mean, one way after another: by our word for it, then as typed.

    A text that is a word of the trade as a whole is not taken for the beginning of something else.
    """
    ours = our_words(typed) if in_trade else typed
    if in_trade:
        evened: dict[str, tuple[str, ...]] = {}
        for word, names in others.items():
            key = our_words(word)
            evened[key] = (*evened.get(key, ()), *names)
        yield _meant(ours, by_key, {**evened, **others}) or sorted(_exact(ours, last))
    if ours == typed and in_trade:
        return
    if in_trade and is_word(typed):
        yield sorted(others.get(typed, ()))
        return
    yield _meant(typed, by_key, others) or sorted(_exact(typed, last))


def _meant(typed: str, by_key: Words, others: Words) -> list[str]:
    """Give the names a text may mean: the exact one, those of an exact word, those beginning so."""
    for exact in (by_key, others):
        if typed in exact:
            return sorted({*exact[typed]})
    for begun in (by_key, others):
        found = {
            name
            for key, all_of_it in begun.items()
            if typed and key.startswith(typed)
            for name in all_of_it
        }
        if found:
            return sorted(found)
    return []


def _exact(typed: str, words: OtherWords) -> tuple[str, ...]:
    found = words.get(typed, ())
    return (found,) if isinstance(found, str) else found


def other_words(pairs: Iterable[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    """Put pairs of a word and a name together: a word may stand for several names."""
    found: dict[str, dict[str, None]] = {}
    for word, name in pairs:
        found.setdefault(word, {})[name] = None
    return {word: tuple(names) for word, names in found.items()}


def item_name(item: Item, among: Sequence[Item]) -> str:
    """Give the shortest argument that means this item alone among the car's items."""
    if item.id.rule == OWN:
        return unique_name(item)
    same_rule = [other for other in among if other.id.rule == item.id.rule]
    if len(same_rule) == 1:
        return item.id.rule
    same_place = [other for other in same_rule if other.place == item.place]
    if len(same_place) == 1 and item.place is not None:
        return f"{item.id.rule}@{item.place}"
    return unique_name(item)


def unique_name(item: Item) -> str:
    """Give the argument that means this item whatever else is on the car."""
    end = short(item.id.component)
    if item.id.rule == OWN:
        return f"{OWN}@{end}"
    at = f"@{item.place}" if item.place is not None else ""
    return f"{item.id.rule}{at}~{end}"


def find_items(
    text: str, among: Sequence[Item], rules: Mapping[RuleId, Rule] | None = None
) -> tuple[Item, ...]:
    """Give the items meant by `rule`, its beginning, `rule@PLACE`, either with `~8digits` behind.

    A rule alone stands for all its items on the car, a place for all that lie in it. Own notes are
    `own@8digits`. `rules`, where given, are those in force: one that has no item here is told so.

    Raises:
        BadInput: there is no such item on the car; near misses are named.
    """
    before_end, mark, end = text.strip().partition("~")
    rule_text, at_mark, at = before_end.partition("@")
    if rule_text.strip().lower() == OWN and at_mark:
        end, at_mark = at, ""
        mark = "~"
    names = sorted({str(item.id.rule) for item in among})
    known = (rules or {}).get(RuleId(rule_text.strip().lower()))
    if known is not None and known.id not in names:
        raise BadInput(
            Fault(
                f"{known.id} has no item on this car",
                "item",
                f"record what it is for: {' or '.join(known.kinds)}",
            )
        )
    if not names:
        raise BadInput(
            Fault(f"no item {text!r}", "item", "nothing is due on this car: record what is fitted")
        )
    also, kinds = rule_words({item.id.rule: item.rule for item in among}.values())
    rule = choose(rule_text, names, what="item", also=also, last=kinds, in_trade=True)
    found = [item for item in among if item.id.rule == rule]
    if rule == OWN:
        # own notes are of one rule, so a title means those of that title
        found = [item for item in found if _key(item.rule.title) == _key(rule_text)] or found
    if at_mark:
        found = _standing_in(place(at), found, rule)
    if mark:
        found = _ending_in(end.strip().lower(), found, text)
    return tuple(found)


def _standing_in(at: Place | None, found: Sequence[Item], rule: str) -> list[Item]:
    here = [item for item in found if item.place == at]
    if not here and at is not None:
        here = [item for item in found if lies_in(item.place, at)]
    if here:
        return here
    standing = sorted({item.place for item in found if item.place}, key=lambda each: each.order)
    where = ", ".join(str(each) for each in standing)
    raise BadInput(
        Fault(
            f"{rule} has no item at {at or 'no place'}",
            "item",
            f"it stands at {where}" if where else "leave the place out: it has none",
        )
    )


def _ending_in(end: str, found: Sequence[Item], text: str) -> list[Item]:
    here = [item for item in found if item.id.component.endswith(end)]
    if here and len(end) >= _SHORTEST_END:
        return here
    raise BadInput(
        Fault(
            f"no item {text!r}",
            "item",
            f"use one of {', '.join(unique_name(each) for each in found)}",
        )
    )


def rule_words(
    rules: Iterable[Rule],
) -> tuple[Words, Words]:
    """Give the words by which rules are found beside their ids: their own, then their kinds."""
    rules = tuple(rules)
    own = other_words((word, rule.id) for rule in rules for word in (rule.title, *rule.also_called))
    return own, other_words((kind, rule.id) for rule in rules for kind in rule.kinds)


def _key(text: str) -> str:
    return " ".join(text.lower().replace("-", " ").replace("_", " ").split())


def _did_you_mean(typed: str, known: Mapping[str, str], what: str) -> str:
    # needed only where something is wrong, and slow to import
    from difflib import get_close_matches

    near = dict.fromkeys(
        known[key] for key in get_close_matches(typed, list(known), n=3, cutoff=0.6)
    )
    if not near:
        # one word of a longer name, mistyped: milrace for wendlecot-millrace
        words = {
            word: name for key, name in known.items() for word in key.replace("-", " ").split()
        }
        near = dict.fromkeys(
            words[word] for word in get_close_matches(typed, list(words), n=3, cutoff=0.7)
        )
    if near:
        return f"did you mean {_listed([repr(name) for name in near])}?"
    names = sorted(set(known.values()))
    if not names:
        return f"there is no {what} yet"
    if len(names) > _MOST_LISTED:
        return f"use one of {', '.join(names[:_MOST_LISTED])} and {len(names) - _MOST_LISTED} more"
    return f"use {_listed(names)}"


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
