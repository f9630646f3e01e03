"""Parts that exclude each other: refused where one change fits both, told where one stood there."""

from castlenut.domain.conflicts import Conflict, conflicts
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import replace
from castlenut.garage.changes.fitting import named
from castlenut.garage.drafts import Draft, car_after
from castlenut.garage.garage import Garage
from castlenut.store.revisions import Added


def with_conflicts(garage: Garage, draft: Draft) -> Draft:
    """Hold the car as it would be against what its parts exclude, and tell what it comes to.

    Raises:
        BadInput: the change itself fits two parts that exclude each other at one place.
    """
    car = car_after(draft)
    found = conflicts(car.components, garage.book.kinds, on=garage.today_date)
    new = {edit.id for edit in draft.edits if isinstance(edit, Added)}
    faults: list[Fault] = []
    told: list[str] = []
    for each in found:
        mine = {each.one.record, each.other.record} & new
        if len(mine) > 1:
            faults.append(Fault(sentence(each), "parts", "fit one of them"))
        elif mine and garage.book.kinds[each.one.kind].apart_by != "axle":  # told by fitting
            told.append(f"{sentence(each)}: take one off before it rolls")
    if faults:
        raise BadInput(*faults)
    return replace(draft, told=tuple(dict.fromkeys((*draft.told, *told)))) if told else draft


def sentence(conflict: Conflict) -> str:
    """Say which two parts exclude each other, and where."""
    one, other = conflict.one, conflict.other
    if conflict.attribute is None:
        return f"{named(one)} and {named(other)} exclude each other"
    values = " and ".join(
        part.attributes.get(conflict.attribute, "unknown") for part in (one, other)
    )
    where = f" at {conflict.place}" if conflict.place is not None else ""
    return f"{values} {one.kind}s exclude each other{where}"
