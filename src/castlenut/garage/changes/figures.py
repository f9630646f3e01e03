"""The car's own figures: entered, and entered anew as a correction of the one before."""

from castlenut.domain.car import OwnFigure
from castlenut.domain.figures import figure_words, read_figure, same_figure
from castlenut.domain.place import Place, places
from castlenut.garage.drafting import Drafting, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.values import Value


def draft_figure(
    garage: Garage,
    slug: str,
    name: str,
    value: str,
    unit: str,
    *,
    where: str | None = None,
    source: str | None = None,
    note: str | None = None,
) -> Draft:
    """Enter one of the car's own figures at a place, at several, or for the whole car.

    The same figure of the same place is corrected by it: its source stays unless another is given.

    Raises:
        BadInput: a unit that such a figure is not given in, no figure, or no place of this car.
    """
    new = Drafting(garage, slug)
    read = new.read(lambda: read_figure(name, value, unit))
    standing: tuple[Place | None, ...] = (None,)
    if where is not None and where.strip():
        standing = new.read(lambda: places(where, dual=new.car.vehicle.dual)) or ()
    if read is None or new.faults:
        return new.draft(name)
    held: Value = read.value if isinstance(read.value, str) else number(read.value)
    for at in standing:
        before = _before(new, read.name, at)
        values: dict[str, Value] = {"value": held, "unit": read.unit}
        if source is not None:
            values["source"] = source.strip() or None
        if note:
            values["note"] = note
        if before is None:
            place = str(at) if at is not None else None
            new.add("figure", {"name": read.name, "place": place, **values})
        else:
            new.amend("figure", before.record, values)
    at_places = ", ".join(str(each) for each in standing if each is not None)
    told = f"{value.strip()} {'' if unit == '-' else unit}".strip()
    return new.draft(f"{figure_words(read.name)}{f' at {at_places}' if at_places else ''}: {told}")


def _before(new: Drafting, name: str, at: Place | None) -> OwnFigure | None:
    """Give the figure entered before under this name at this place, the latest of several."""
    found = [each for each in new.car.figures if same_figure(each.name, name) and each.place == at]
    return max(found, key=lambda each: each.record, default=None)
