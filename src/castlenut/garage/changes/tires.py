"""The `FIELD=VALUE` of a tire or a wheel as typed."""

from collections.abc import Mapping
from datetime import date

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass, field
from castlenut.domain.naming import choose
from castlenut.domain.rules.rule import KindOfPart
from castlenut.domain.tires.service import read_service
from castlenut.domain.tires.size import read_size
from castlenut.domain.tires.tin import made
from castlenut.store.schema import fields_of, typed
from castlenut.store.values import Value

_NOT_TYPED = frozenset({"job"})


@dataclass(frozen=True, slots=True, kw_only=True)
class TireFields:
    """What was typed of a tire or wheel, as its record holds it; `turns` belongs to its place."""

    values: Mapping[str, Value]
    turns: str | None = None
    told: tuple[str, ...] = field(default_factory=tuple)


def read_tire_fields(kind: KindOfPart, fields: Mapping[str, str], *, today: date) -> TireFields:
    """Read the fields of a tire or wheel; a directional tire is one of that tread.

    Raises:
        BadInput: with every fault.
    """
    names = [name for name in fields_of(kind.name) if name not in _NOT_TYPED]
    also = {"directional": "tread"} if kind.name == "tire" else {}
    values: dict[str, Value] = {}
    faults: list[Fault] = []
    turns: str | None = None
    told: tuple[str, ...] = ()
    for name, text in fields.items():
        try:
            if name.strip().lower() == "turns" and kind.name == "tire":
                turns = choose(text, ("left", "right"), what="turns")
                continue
            if name.strip().lower() in also:
                if text.strip().lower() in {"yes", "true"}:
                    values.setdefault("tread", "directional")
                continue
            meant = choose(name, names, what=f"field of a {kind.name}")
            value = typed(kind.name, meant, _depth(meant, text, values))
            if meant == "type":
                value = choose(text, kind.attributes["type"], what="type")
            if value is not None:
                values[meant] = value
            if meant == "tin":
                told = _told(text, today)
            check_marking(meant, text)
        except BadInput as bad:
            faults.extend(Fault(each.what, name, each.remedy) for each in bad.faults)
    if faults:
        raise BadInput(*faults)
    return TireFields(values=values, turns=turns, told=told)


def _depth(name: str, text: str, values: dict[str, Value]) -> str:
    """Give a new depth without its unit, which stands in a field of its own: `11/32`, `8mm`."""
    plain = text.strip().lower()
    if name != "new_depth":
        return text
    for ending, unit in (("mm", "mm"), ("/32", "32nds"), ("32nds", "32nds")):
        if plain.endswith(ending):
            values["depth_unit"] = unit
            return plain.removesuffix(ending).strip()
    return text


def check_marking(field: str, text: str) -> None:
    """Refuse a size or service description that cannot be read.

    Raises:
        BadInput: at which character, and what was expected there.
    """
    if not text.strip():
        return
    if field in {"size", "calibrated_size"}:
        read_size(text, where=field)
    elif field == "service":
        read_service(text, where=field)


def _told(tin: str, today: date) -> tuple[str, ...]:
    """Say what the identification number leaves open."""
    read = made(tin, looked_at=None if today == date.max else today)
    return tuple(f"tin: {note.value}" for note in read.notes)
