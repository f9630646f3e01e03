"""Fields typed for several new parts of different kinds, parted among them."""

from collections.abc import Collection, Mapping, Sequence

from castlenut.domain.conversion import NewPart
from castlenut.domain.errors import Fault
from castlenut.domain.place import Place
from castlenut.domain.rules.rule import RuleBook
from castlenut.garage.changes.part_fields import STAMPED
from castlenut.garage.drafting import Drafting
from castlenut.store.schema import fields_of


def alike_together(
    begins: Sequence[NewPart],
) -> Sequence[tuple[str, Mapping[str, str], Sequence[Place | None]]]:
    """Put the places of like parts together."""
    found: dict[tuple[str, tuple[tuple[str, str], ...]], list[Place | None]] = {}
    for part in begins:
        key = (part.kind, tuple(sorted(part.attributes.items())))
        found.setdefault(key, []).append(part.place)
    return [(kind, dict(attributes), places) for (kind, attributes), places in found.items()]


def fields_by_kind(
    new: Drafting,
    begins: Sequence[NewPart],
    fields: Mapping[str, str],
    book: RuleBook,
    *,
    for_all: Collection[str] = (),
) -> Mapping[str, Mapping[str, str]]:
    """Part the fields typed among the kinds of the new parts.

    `KIND.FIELD` is of that kind alone, `FIELD` of every kind that has it; what is of none is a
    fault. `for_all` names fields that every kind has.
    """
    kinds = list(dict.fromkeys(part.kind for part in begins))
    found: dict[str, dict[str, str]] = {kind: {} for kind in kinds}
    for name, value in fields.items():
        meant = [kind for kind in kinds if name.lower().startswith(f"{kind}.")]
        plain = name
        if meant:
            plain = name[len(meant[0]) + 1 :]
        else:
            typed = name.partition("@")[0]
            meant = [kind for kind in kinds if typed in for_all or _has(kind, typed, book)]
        if not meant:
            new.faults.append(
                Fault(
                    f"no new part has a field {name!r}",
                    name,
                    f"write KIND.FIELD=VALUE, KIND being {', '.join(kinds) or 'none here'}",
                )
            )
        for kind in meant:
            found[kind][plain] = value
    return found


def _has(kind: str, name: str, book: RuleBook) -> bool:
    """Tell whether a field typed without a kind is for parts of this kind."""
    of = book.kinds[kind]
    if kind in {"tire", "wheel"}:
        return name.lower() in {*fields_of(kind), "turns", "directional"}
    plain = name.lower().removeprefix(STAMPED)
    measured = {
        limit.measure for rule in book.rules.values() if kind in rule.kinds for limit in rule.limits
    }
    return name.lower() in of.attributes or plain in measured
