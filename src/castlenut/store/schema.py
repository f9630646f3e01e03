"""Tables and fields of the record, and whether a record is as they ask."""

from collections.abc import Iterable, Mapping

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.store.fields import (
    AMOUNT,
    DAY,
    DEEPEST,
    LINE,
    MONEY,
    NOTE,
    NUMBER,
    PLACE,
    YES_NO,
    FieldType,
    NotRead,
    choice,
    depth,
    either,
    has_control_characters,
    has_half_character,
    integer,
    listed,
    shown,
    tabled,
)
from castlenut.store.values import Value

SCHEMA = 1
GARAGE_RECORD = "garage"
PRIVATE = frozenset({"owner", "phone", "address", "email", "vin", "plate", "feed_secret"})
"""Fields whose values stand in no message."""

_UNIT = choice("mi", "km")
_LINES = listed(LINE)
_MEASURED = either(
    either(NUMBER, listed(NUMBER), "a figure or a list of figures"),
    choice("good", "not good"),
    "a figure, a list of figures, good or not good",
)


@dataclass(frozen=True, slots=True)
class Table:
    """The fields of one table; `one_of` names fields of which at least one must stand."""

    fields: Mapping[str, FieldType]
    required: frozenset[str]
    one_of: tuple[str, ...] = ()


def _table(*one_of: str, **fields: FieldType | tuple[FieldType]) -> Table:
    """Put a table together: a field in a tuple may be missing, as may the note all have."""
    types = {name: each[0] if isinstance(each, tuple) else each for name, each in fields.items()}
    return Table(
        {**types, "note": NOTE},
        frozenset(name for name, each in fields.items() if not isinstance(each, tuple)),
        one_of,
    )


VEHICLE_TABLES: Mapping[str, Table] = {
    "vehicle": _table(
        slug=LINE,
        description=LINE,
        year=(integer(1880, 2200),),
        owner=(LINE,),
        phone=(LINE,),
        address=(NOTE,),
        email=(LINE,),
        plate=(LINE,),
        vin=(LINE,),
        drive=(choice("front", "rear", "all"),),
        dual=(YES_NO,),
        unit=_UNIT,
        digits=integer(4, 7),
        tenths=(YES_NO,),
        weight_lb=(AMOUNT,),
        use=(choice("daily", "seasonal", "occasional", "stored"),),
        kept_at=(choice("garage", "owner"),),
        calibrated_size=(LINE,),
        sold_on=(DAY,),
        sold_to=(LINE,),
        ticks=(tabled(LINE),),
    ),
    "component": _table(
        kind=LINE,
        place=(PLACE,),
        state=choice("fitted", "shelf"),
        attributes=(tabled(LINE),),
        part=(LINE,),
        made=(DAY,),
        on=(DAY,),
        at=(AMOUNT,),
        removed_on=(DAY,),
        removed_at=(AMOUNT,),
        why=(LINE,),
        stamped=(tabled(LINE),),
        every=(LINE,),
        job=(LINE,),
    ),
    "statement": _table(
        "item",
        "kind",
        item=(LINE,),
        kind=(LINE,),
        place=(PLACE,),
        answer=choice("stated", "inspected", "unknown", "n/a"),
        on=(DAY,),
        at=(AMOUNT,),
        until=(DAY,),
        until_at=(AMOUNT,),
        why=(LINE,),
    ),
    "reading": _table(figure=AMOUNT, on=DAY, unit=_UNIT, judged=(choice("right"),)),
    "odometer_event": _table(
        event=choice("rolled over", "replaced", "factor"),
        on=DAY,
        start=(AMOUNT,),
        last=(AMOUNT,),
        factor=(AMOUNT,),
    ),
    "happening": _table(
        event=LINE, on=DAY, at=(AMOUNT,), place=(PLACE,), access=(LINE,), job=(LINE,)
    ),
    "exposure": _table(name=LINE, **{"from": DAY}, to=(DAY,)),
    "stay": _table(**{"from": DAY}, over=(DAY,), at=(AMOUNT,), open=(_LINES,)),
    "job": _table(
        on=DAY,
        at=(AMOUNT,),
        estimated=(YES_NO,),
        by=(LINE,),
        items=(_LINES,),
        includes=(_LINES,),
        hours=(AMOUNT,),
        cost=(MONEY,),
        events=(_LINES,),
    ),
    "decline": _table(item=LINE, on=DAY, who=(LINE,), why=(LINE,), until=(DAY,)),
    "measurement": _table(
        "measure",
        "item",
        measure=(LINE,),
        item=(LINE,),
        place=(PLACE,),
        value=_MEASURED,
        unit=(LINE,),
        resolution=(AMOUNT,),
        on=DAY,
        at=(AMOUNT,),
        job=(LINE,),
    ),
    "tire": _table(
        size=LINE,
        construction=(choice("bias", "bias belted", "radial"),),
        service=(LINE,),
        tin=(LINE,),
        tread=(choice("symmetric", "asymmetric", "directional"),),
        new_depth=(AMOUNT,),
        depth_unit=(choice("mm", "32nds"),),
        temporary=(YES_NO,),
        studded=(YES_NO,),
        make=(LINE,),
        part=(LINE,),
        job=(LINE,),
    ),
    "wheel": _table(
        rim_width=(AMOUNT,),
        rim_diameter=(AMOUNT,),
        offset=(NUMBER,),
        type=(LINE,),
        part=(LINE,),
        job=(LINE,),
    ),
    "placement": _table(
        "tire",
        "wheel",
        tire=(LINE,),
        wheel=(LINE,),
        place=(PLACE,),
        turns=(choice("left", "right"),),
        on=(DAY,),  # missing: nobody knows since when
        at=(AMOUNT,),
        job=(LINE,),
    ),
    "visit": _table(
        on=DAY,
        state=choice("booked", "refused", "done"),
        items=(_LINES,),
        hours=(AMOUNT,),
        job=(LINE,),
    ),
    "finding": _table(
        what=LINE,
        place=(PLACE,),
        kind=(choice("crack", "rust", "leak", "wear", "play", "damage", "other"),),
        on=DAY,
        at=(AMOUNT,),
        decided=(choice("mend", "watch", "declined"),),
        mended_by=(LINE,),
        photo=(LINE,),
        job=(LINE,),
    ),
    "own_item": _table(
        title=LINE,
        place=(PLACE,),
        on=DAY,
        at=(AMOUNT,),
        **{"in": (LINE,)},
        due_on=(DAY,),
        every=(LINE,),
        finding=(LINE,),
    ),
    "figure": _table(
        name=LINE,
        place=(PLACE,),
        value=either(NUMBER, LINE, "a figure or a text"),
        unit=(LINE,),
        source=(LINE,),
    ),
    "rule_change": _table(
        rule=LINE,
        every=(LINE,),
        first=(listed(AMOUNT),),
        limits=(tabled(either(NUMBER, LINE, "a figure, spec or stamped")),),
        off=(YES_NO,),
        why=LINE,
    ),
    "room": _table(
        place=PLACE,
        inner=AMOUNT,
        outer=AMOUNT,
        caliper=(AMOUNT,),
        when=choice("straight", "full lock", "bump", "droop"),
        aligned=(YES_NO,),
        on=DAY,
    ),
}

GARAGE_TABLES: Mapping[str, Table] = {
    "garage": _table(
        name=(LINE,),
        address=(NOTE,),
        telephone=(LINE,),
        distance_unit=(_UNIT,),
        depth_unit=(choice("mm", "32nds"),),
        currency=(LINE,),
        horizon_months=(integer(1, 120),),
        hourly_rate=(MONEY,),
        visit_cost=(MONEY,),
        hours=(tabled(AMOUNT),),
        closed=(listed(DAY),),
        south=(YES_NO,),
        feed_base=(LINE,),
        feed_targets=(tabled(LINE),),
        feed_alarms=(choice("visits", "all", "none"),),
        feed_generations=(tabled(integer(0, 999_999_999)),),
        feed_secret=(LINE,),
    )
}

TABLES: Mapping[str, Table] = {**VEHICLE_TABLES, **GARAGE_TABLES}


def check_record(table: str, values: Mapping[str, Value]) -> tuple[Fault, ...]:
    """Give everything that stands against a record being entered with these values, all at once."""
    return *check_values(table, values), *missing(table, values)


def check_values(table: str, values: Mapping[str, Value]) -> tuple[Fault, ...]:
    """Give what stands against these values of a record being entered. None clears a field."""
    fields = fields_of(table)
    faults = []
    for name, value in values.items():
        if (of := fields.get(name)) is None:
            faults.append(_unknown_field(table, name))
        elif value is None:
            continue
        elif not of.holds(value):
            faults.append(Fault(_odd(name, of, value), _where(table, name), f"give {of.needed}"))
        elif odd := of.may_enter(value):
            faults.append(
                Fault(f"{name} {odd}", _where(table, name), "take them out or shorten it")
            )
    return tuple(faults)


def missing(table: str, values: Mapping[str, Value]) -> tuple[Fault, ...]:
    """Give the fields a record must have and these values lack; an empty text is none."""
    asked = TABLES[table]
    faults = [
        Fault(f"{name} is missing", _where(table, name), f"give {asked.fields[name].needed}")
        for name in asked.fields
        if name in asked.required and values.get(name) in (None, "")
    ]
    if asked.one_of and all(values.get(name) is None for name in asked.one_of):
        names = " or ".join(asked.one_of)
        faults.append(Fault(f"{names} is missing", _where(table, names), f"give {names}"))
    return tuple(faults)


def typed(table: str, field: str, text: str) -> Value:
    """Read a value as typed, by its field's type; an empty text clears a field that may be missing.

    Raises:
        BadInput: no such field, a text that cannot be read, or a field that must stand is cleared.
    """
    of = fields_of(table).get(field)
    if of is None:
        raise BadInput(_unknown_field(table, field))
    if not text.strip():
        if field in TABLES[table].required:
            raise BadInput(
                Fault(f"{field} may not be empty", _where(table, field), f"give {of.needed}")
            )
        return None
    try:
        value = of.read(text)
    except NotRead as unread:
        quoted = "that" if field in PRIVATE else shown(text)
        raise BadInput(
            Fault(f"{field} is {quoted}, {unread}", _where(table, field), "write it so")
        ) from unread
    if value is not None and (odd := of.may_enter(value)):
        raise BadInput(Fault(f"{field} {odd}", _where(table, field), "take them out or shorten it"))
    return value


def fields_of(table: str) -> Mapping[str, FieldType]:
    """Give the fields of a table by name.

    Raises:
        BadInput: no such table; a near miss is named.
    """
    if table not in TABLES:
        raise BadInput(Fault(f"{shown(table)} is no table", "table", _did_you_mean(table, TABLES)))
    return TABLES[table].fields


def wrong_on_disk(
    table: Table, values: Mapping[str, Value], *, may_hold_half_characters: bool
) -> str | None:
    """Give what a revision read from disk sets that its field cannot be, or None.

    Fields the schema does not know are kept, whatever they hold. Texts too long or with control
    characters are kept as well: see `control_fields`.
    """
    for name, value in values.items():
        of = table.fields.get(name)
        if of is None or value is None:
            if value is not None and depth(value) > DEEPEST:
                return f"{name} is nested deeper than {DEEPEST}"
        elif not of.holds(value):
            return _odd(name, of, value)
        elif may_hold_half_characters and has_half_character(value):
            return f"{name} holds half a character"
    return None


def control_fields(table: str, values: Mapping[str, Value]) -> tuple[str, ...]:
    """Name the fields whose text may not reach a terminal as it is."""
    fields = TABLES[table].fields if table in TABLES else {}
    return tuple(
        name
        for name, value in values.items()
        if has_control_characters(value, note=fields.get(name) is NOTE)
    )


def _odd(name: str, of: FieldType, value: Value) -> str:
    if depth(value) > DEEPEST:
        return f"{name} is nested deeper than {DEEPEST}"
    quoted = "something else" if name in PRIVATE else shown(value)
    return f"{name} is {quoted}, {of.needed} is needed"


def _where(table: str, field: str) -> str:
    return f"{table} {field}"


def _unknown_field(table: str, field: str) -> Fault:
    return Fault(
        f"{shown(field)} is no field of {table}",
        _where(table, shown(field)),
        _did_you_mean(field, TABLES[table].fields),
    )


def _did_you_mean(word: str, known: Iterable[str]) -> str:
    from difflib import get_close_matches

    names = list(known)
    near = get_close_matches(word.lower(), names, n=2, cutoff=0.6)
    return f"did you mean {' or '.join(near)}?" if near else f"use one of {', '.join(names)}"
