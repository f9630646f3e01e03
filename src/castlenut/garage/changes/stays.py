"""In work from a day, and over again."""

from datetime import date
from decimal import Decimal

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.stay import Against, against_rolling, is_ready
from castlenut.domain.vehicle import Stay
from castlenut.garage.drafting import Drafting, noted, number
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.words.ready import open_line


@dataclass(frozen=True, slots=True, kw_only=True)
class StayOver:
    """The end of a stay, drafted, and what stood against handing the car over that day."""

    draft: Draft
    standing: tuple[Against, ...]

    @property
    def has_to_ask(self) -> bool:
        """Tell whether something blocks, so that it is asked once more before it is saved."""
        return not is_ready(self.standing)


def draft_stay(
    garage: Garage, slug: str, *, since: str | None = None, note: str | None = None
) -> Draft:
    """Take a car in work from a day; none typed is today.

    Raises:
        BadInput: it is in work already, or the day lies in an earlier stay or ahead.
    """
    new = Drafting(garage, slug)
    first = new.past_day(since, field="from")
    taken = next((each for each in new.car.stays if each.over is None or first < each.over), None)
    if taken is not None:
        _refuse_second(new, taken)
    new.add("stay", {"from": first.isoformat(), "note": note or None})
    return new.draft(f"in work from {first.isoformat()}")


def _refuse_second(new: Drafting, stay: Stay) -> None:
    if stay.over is None:
        what, remedy = f"is in work since {stay.since.isoformat()}", "stay --over ends that"
    else:
        what = f"was in work from {stay.since.isoformat()} to {stay.over.isoformat()}"
        remedy = f"give a day from {stay.over.isoformat()} on"
    new.fault(f"{new.slug} {what}", where="from", remedy=remedy)


def draft_stay_over(
    garage: Garage,
    slug: str,
    *,
    on: str | None = None,
    at: str | None = None,
    note: str | None = None,
) -> StayOver:
    """End the stay of a car on a day, and keep on record what was open then.

    A dial figure that was read is a reading as well.

    Raises:
        BadInput: it is not in work, or the day is before the stay began.
    """
    new = Drafting(garage, slug)
    stay = _stay_to_end(new)
    day = new.past_day(on)
    if day < stay.since:
        raise BadInput(
            *new.faults,
            Fault(
                f"{day.isoformat()} is before it began, {stay.since.isoformat()}",
                "on",
                f"give a day from {stay.since.isoformat()} on",
            ),
        )
    then = new.dial_then(at, day)
    standing = against_rolling(garage.today(slug, on=day), garage.book)
    new.amend(
        "stay",
        stay.record,
        {
            "over": day.isoformat(),
            "at": number(then.at),
            "open": [open_line(each) for each in standing if each.blocks] or None,
            "note": noted(_with_old(new, stay, note), is_estimated=then.is_estimated),
        },
    )
    if at is not None and then.at is not None:
        _add_reading(new, day, then.at)
    return StayOver(draft=new.draft(f"in work until {day.isoformat()}"), standing=standing)


def _stay_to_end(new: Drafting) -> Stay:
    """Give the stay that is not over.

    Raises:
        BadInput: there is none.
    """
    lasting = [each for each in new.car.stays if each.over is None]
    if not lasting:
        raise BadInput(
            Fault(f"{new.slug} is not in work", "stay", f"stay {new.slug} takes it in work first")
        )
    return min(lasting, key=lambda each: (each.since, each.record))


def _with_old(new: Drafting, stay: Stay, note: str | None) -> str | None:
    return "; ".join(each for each in (new.car.notes.get(stay.record), note) if each) or None


def _add_reading(new: Drafting, day: date, at: Decimal) -> None:
    unit = new.car.vehicle.dial.unit
    if any(each.on == day and each.shown(unit) == at for each in new.car.readings):
        return
    new.add("reading", {"figure": number(at), "on": day.isoformat(), "unit": unit.value})
