"""The garage's own settings changed."""

from collections.abc import Mapping

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.naming import choose
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.garage.settings import WEEKDAYS
from castlenut.store.revisions import Added, Changed, Edit
from castlenut.store.schema import GARAGE_RECORD, check_record, fields_of, typed
from castlenut.store.values import Value

_TABLE = "garage"
_NOT_TYPED = frozenset({"feed_secret", "feed_generations"})
_HOURS_A_DAY = 24


def draft_settings(garage: Garage, fields: Mapping[str, str]) -> Draft:
    """Set settings, each read by its type: `hours=mon:7,tue:7`; an empty text clears one.

    Raises:
        BadInput: no such setting, a value it cannot have, or settings that cannot be read.
    """
    file = garage.garage_file()
    stored = next(iter(file.table(_TABLE)), None)
    values: dict[str, Value] = {}
    faults: list[Fault] = []
    names = [name for name in fields_of(_TABLE) if name not in _NOT_TYPED]
    for name, text in fields.items():
        try:
            meant = choose(name, names, what="setting")
            values[meant] = _read(meant, text)
        except BadInput as bad:
            faults.extend(Fault(each.what, name, each.remedy) for each in bad.faults)
    before = stored.values if stored else {}
    after = {name: each for name, each in {**before, **values}.items() if each is not None}
    faults.extend(check_record(_TABLE, after))
    if faults:
        raise BadInput(*dict.fromkeys(faults))
    edit: Edit
    if stored is None:
        edit = Added(table=_TABLE, id=GARAGE_RECORD, values=after)
    else:
        edit = Changed(table=_TABLE, id=stored.id, values=values)
    return Draft(
        slug="",
        file=file,
        edits=(edit,) if values else (),
        told=(),
        title=f"settings: {', '.join(values) or 'nothing'}",
    )


def _read(name: str, text: str) -> Value:
    value = typed(_TABLE, name, text)
    if name != "hours" or not isinstance(value, dict):
        return value
    hours: dict[str, Value] = {}
    for weekday, each in value.items():
        meant = choose(weekday[:3].lower(), WEEKDAYS, what="weekday")
        if isinstance(each, str) or each is None or not 0 <= float(str(each)) <= _HOURS_A_DAY:
            raise BadInput(
                Fault(f"{weekday} has {each} hours", name, "give 0 to 24, as mon:7,tue:7")
            )
        hours[meant] = each
    return hours
