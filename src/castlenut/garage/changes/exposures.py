"""Exposures of a car, and its lay-ups."""

from datetime import date
from functools import partial

from castlenut.domain.naming import choose
from castlenut.domain.vehicle import EXPOSURES, LAID_UP, Exposure
from castlenut.garage import entry
from castlenut.garage.drafting import Drafting, iso
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage

_OTHER_WORDS = {
    "fording": "wet",
    "trailer": "towing",
    "tow": "towing",
    "stop start": "stop-start",
    "outdoors": "stored outdoors",
    "outside": "stored outdoors",
    "storage": LAID_UP,
    "layup": LAID_UP,
}


def draft_layup(
    garage: Garage,
    slug: str,
    *,
    since: str | None = None,
    until: str | None = None,
    note: str | None = None,
) -> Draft:
    """Lay a car up from a day, or set the day it ends, which may be planned.

    Raises:
        BadInput: no day at all, days that run backward or lie in another lay-up.
    """
    new = Drafting(garage, slug)
    if since is None and until is None:
        new.fault("no day is given", where="layup", remedy="give --from DATE, --to DATE or both")
    _spans(new, (LAID_UP,), since=since, until=until, note=note)
    return new.draft(_title(LAID_UP, since, until))


def draft_exposure(
    garage: Garage,
    slug: str,
    names: str,
    *,
    since: str | None = None,
    until: str | None = None,
    note: str | None = None,
) -> Draft:
    """Record that a car is exposed to something, from today if no day is given, or no longer is.

    Raises:
        BadInput: no such exposure, or days that cannot be.
    """
    new = Drafting(garage, slug)
    found = [
        new.read(partial(find_exposure, part))
        for part in (each.strip() for each in names.split(","))
        if part
    ]
    if not found:
        new.fault("no exposure is given", where="exposure", remedy=f"use {', '.join(EXPOSURES)}")
    known = tuple(dict.fromkeys(each for each in found if each is not None))
    _spans(new, known, since=since, until=until, note=note)
    return new.draft(_title(", ".join(known), since, until))


def find_exposure(text: str) -> str:
    """Give the exposure meant.

    Raises:
        BadInput: there is none of that name.
    """
    return choose(text, EXPOSURES, what="exposure", also=_OTHER_WORDS)


def _title(names: str, since: str | None, until: str | None) -> str:
    days = " ".join(part for part in (since and f"from {since}", until and f"to {until}") if part)
    return f"{names} {days or 'from today'}"


def _spans(
    new: Drafting,
    names: tuple[str, ...],
    *,
    since: str | None,
    until: str | None,
    note: str | None,
) -> None:
    first = _day(new, since, field="from")
    last = _day(new, until, field="to")
    if first is not None:
        new.check_made(first, field="from")
    if first is not None and last is not None and last < first:
        new.fault(
            f"{last.isoformat()} is before the first day, {first.isoformat()}",
            where="to",
            remedy="give the last day of it, not the first",
        )
        return
    for name in names:
        open_ = _open(new, name)
        if first is None and last is not None:
            _end(new, name, open_, last, note=note)
        elif first is not None and open_ is not None and open_.since == first:
            new.amend(
                "exposure", open_.record, {"to": iso(last), **({"note": note} if note else {})}
            )
        else:
            _begin(new, name, first or new.today, last, note=note)


def _day(new: Drafting, text: str | None, *, field: str) -> date | None:
    if text is None:
        return None
    return new.read(lambda: entry.day(text, today=new.today, past=False, field=field))


def _open(new: Drafting, name: str) -> Exposure | None:
    """Give the span that is not over yet, the latest first."""
    spans = [
        each
        for each in new.car.exposures
        if each.name == name and (each.until is None or each.until >= new.today)
    ]
    return max(spans, key=lambda each: each.since, default=None)


def _end(new: Drafting, name: str, open_: Exposure | None, last: date, *, note: str | None) -> None:
    if open_ is None:
        new.fault(
            f"the car is not {name}" if name == LAID_UP else f"no exposure to {name} is in force",
            where="to",
            remedy="give --from DATE as well",
        )
    elif last < open_.since:
        new.fault(
            f"{last.isoformat()} is before it began, {open_.since.isoformat()}",
            where="to",
            remedy="give a later day, or correct the first one",
        )
    else:
        new.amend(
            "exposure", open_.record, {"to": last.isoformat(), **({"note": note} if note else {})}
        )


def _begin(new: Drafting, name: str, first: date, last: date | None, *, note: str | None) -> None:
    for each in new.car.exposures:
        if each.name != name:
            continue
        ends_before = each.until is not None and each.until < first
        begins_after = last is not None and last < each.since
        if not (ends_before or begins_after):
            ends = each.until.isoformat() if each.until else "until further notice"
            new.fault(
                f"{name} is recorded from {each.since.isoformat()} to {ends} already",
                where="from",
                remedy="give --to alone to change its end, or other days",
            )
            return
    new.add(
        "exposure",
        {"name": name, "from": first.isoformat(), "to": iso(last), "note": note or None},
    )
