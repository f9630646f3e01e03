"""One kind of equipment replaced by another: what ends, what begins, in one change."""

from collections.abc import Iterable, Mapping

from castlenut.domain.conversion import NewPart, Parts, parts_of
from castlenut.domain.happenings import Raised
from castlenut.domain.naming import choose
from castlenut.domain.place import Place, Spot, lies_in
from castlenut.domain.rules.rule import Conversion, RuleBook
from castlenut.garage.changes.by_kind import alike_together, fields_by_kind
from castlenut.garage.changes.fitting import (
    Fitting,
    add_job,
    fit_parts,
    named,
    raised_by_fitting,
    take_off,
)
from castlenut.garage.drafting import Drafting
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage


def draft_conversion(
    garage: Garage,
    slug: str,
    name: str,
    fields: Mapping[str, str] | None = None,
    *,
    on: str | None = None,
    at: str | None = None,
    by: str | None = None,
    note: str | None = None,
) -> Draft:
    """Convert a car: parts end, others begin, and the job makes rules fall due.

    `fields` are of the new parts: `FIELD=VALUE` is for every new part that has such a field,
    `KIND.FIELD=VALUE` for those of one kind.

    Raises:
        BadInput: no such conversion, a field that no new part has, or a day that cannot be.
    """
    new = Drafting(garage, slug)
    book = garage.book
    conversion = book.conversions[find_conversion(name, book)]
    day = new.past_day(on)
    fitting = Fitting(on=day, then=new.dial_then(at, day), job=None)
    parts = parts_of(conversion, new.car, book.kinds, on=day)
    by_kind = fields_by_kind(new, parts.begins, fields or {}, book)
    job = add_job(new, fitting, _events(new, conversion, parts, fitting), by=by, note=note)
    fitting = Fitting(on=day, then=fitting.then, job=job)
    for part in parts.ends:
        take_off(new, part, day, fitting.then, why=conversion.title)
    for kind, attributes, standing in alike_together(parts.begins):
        fit_parts(
            new,
            book.kinds[kind],
            standing,
            {**attributes, **by_kind.get(kind, {})},
            fitting,
            model={},
            leaving=frozenset(part.record for part in parts.ends),
            makes_set=all(part.kind != "tire set" for part in parts.begins),
        )
    if conversion.ends and not parts.ends:
        kinds = ", ".join(dict.fromkeys(change.kind for change in conversion.ends))
        new.told.append(f"nothing was recorded that {conversion.name} takes off: {kinds}")
    else:
        new.told.extend(f"{named(part)} taken off" for part in parts.ends)
    if conversion.asks:
        new.told.append(f"ask for: {'; '.join(conversion.asks)}")
    title = f"{conversion.title} on {day.isoformat()}"
    return new.draft(title, cautions=conversion.cautions)


def find_conversion(text: str, book: RuleBook) -> str:
    """Give the conversion meant.

    Raises:
        BadInput: there is none of that name; all are named.
    """
    also = {each.title: each.name for each in book.conversions.values()}
    return choose(text, book.conversions, what="conversion", also=also, in_trade=True)


def _events(
    new: Drafting, conversion: Conversion, parts: Parts, fitting: Fitting
) -> tuple[Raised, ...]:
    """Give the events of the job: those of the conversion and of its parts, and its own name.

    By its name what it triggers is found, wherever on the car that is; the rest is where the parts
    are.
    """
    kinds = new.garage.book.kinds
    end = _end_of(parts.begins)
    own = [Raised(event=event, place=end) for event in conversion.raises]
    fitted = raised_by_fitting(
        new, [(kinds[part.kind], part.place) for part in parts.begins], fitting.on or new.today
    )
    return tuple(dict.fromkeys((Raised(event=conversion.name), *own, *fitted)))


def _end_of(begins: Iterable[NewPart]) -> Place | None:
    """Give the end of the car where all new parts stand; None: not one end."""
    places = [part.place for part in begins if part.place is not None]
    return next(
        (
            end
            for end in (Place(Spot.FRONT), Place(Spot.REAR))
            if places and all(lies_in(each, end) for each in places)
        ),
        None,
    )


def conversion_parts(garage: Garage, slug: str, name: str) -> tuple[Conversion, Parts]:
    """Give what a conversion would take off a car today, and put on.

    Raises:
        BadInput: no such conversion, or the car cannot be read.
    """
    conversion = garage.book.conversions[find_conversion(name, garage.book)]
    car = garage.car(slug).car
    return conversion, parts_of(conversion, car, garage.book.kinds, on=garage.surroundings.today)
