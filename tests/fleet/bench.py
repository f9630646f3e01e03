"""A day's entries as the garage makes them: every one goes through the garage's own drafts.

Days are counted from the day the fleet is seen, Y: -50 is fifty days before it.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import Concatenate, ParamSpec

from castlenut.domain.frozen import replace
from castlenut.garage.changes.conversions import draft_conversion
from castlenut.garage.changes.corrections import draft_correction
from castlenut.garage.changes.exposures import draft_exposure, draft_layup
from castlenut.garage.changes.figures import draft_figure
from castlenut.garage.changes.findings import Found, draft_found
from castlenut.garage.changes.happenings import draft_happening
from castlenut.garage.changes.intake import draft_intake
from castlenut.garage.changes.jobs import draft_decline, draft_job, draft_measurement
from castlenut.garage.changes.mending import draft_mended
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.settings import draft_settings
from castlenut.garage.changes.tread import draft_tread
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafting import Drafting, number
from castlenut.garage.drafts import Draft, save
from castlenut.garage.garage import Garage, Surroundings, make_garage
from castlenut.store.revisions import Added, Changed, Edit
from castlenut.store.values import Value

Y = date(2026, 11, 25)
"""The day on which the fleet is seen, a Wednesday; `demo` moves it to any other."""

INVENTED = "Invented for the sample fleet: car, owner, numbers and record."
HOURLY_RATE = Decimal(65)
DEVICE = "dev-5a3b1e"
OPENS_AT = time(9, tzinfo=UTC)


def on(day: int) -> str:
    """Give a day of the fleet as it is typed."""
    return (Y + timedelta(days=day)).isoformat()


@dataclass(frozen=True, slots=True)
class Part:
    """Parts of one kind with what is typed of them; no places: a kind that a car has once."""

    kind: str
    places: str | None = None
    fields: Mapping[str, str] = field(default_factory=dict)


def part(kind: str, places: str | None = None, **fields: str) -> Part:
    return Part(kind, places, fields)


P = ParamSpec("P")
Entry = Callable[Concatenate["Bench", int, P], None]


def _entry(method: Entry[P]) -> Entry[P]:
    """Put an entry off until the days of the car are gone through in their order."""

    def put_off(bench: "Bench", day: int, /, *args: P.args, **kwargs: P.kwargs) -> None:
        bench.put_off(day, partial(method, bench, day, *args, **kwargs))

    return put_off


class Bench:
    """One garage being filled, and the car that is entered just now.

    A car is described in any order; `close` enters it day by day.
    """

    def __init__(self, folder: Path, settings: Mapping[str, str], rules: Path) -> None:
        self.slug = ""
        self._entries: list[tuple[int, Callable[[], None]]] = []
        self._ids = 0
        self._day = -2000
        self._minutes = 0
        self.garage: Garage = make_garage(folder, self._surroundings())
        (folder / rules.name).write_bytes(rules.read_bytes())
        save(self.garage, draft_settings(self.garage, settings))

    def put_off(self, day: int, entry: Callable[[], None]) -> None:
        self._entries.append((day, entry))

    def close(self) -> None:
        """Enter the car, each day's entries in the order they were described."""
        for day, entry in sorted(self._entries, key=lambda each: each[0]):
            self._go_to(day)
            entry()
        self._entries.clear()

    @_entry
    def taken_on(self, _day: int, /, slug: str, fields: Mapping[str, str]) -> None:
        """Begin a car: it is entered on that day."""
        self.slug = slug
        self._save(draft_vehicle(self.garage, slug, {**fields, "note": INVENTED}))

    @_entry
    def exposed(self, day: int, /, names: str) -> None:
        self._save(draft_exposure(self.garage, self.slug, names, since=on(day)))

    @_entry
    def laid_up(self, day: int, /, until: int, note: str) -> None:
        self._save(draft_layup(self.garage, self.slug, since=on(day), until=on(until), note=note))

    @_entry
    def found(self, _day: int, /, *parts: Part) -> None:
        """Enter parts that are on the car, and nobody knows since when."""
        garage = self.garage
        self._save(
            _together(
                [draft_fit(garage, self.slug, p.kind, p.places, p.fields, on="-") for p in parts]
            )
        )

    def came_with(self, day: int, since: int, at: int, *parts: Part) -> None:
        """Enter parts of which owner or papers say when all was last done on them."""
        self.found(day, *parts)
        self.told(day, *(f"{p.kind} {p.places or '-'} stated {on(since)} {at}" for p in parts))

    @_entry
    def told(self, _day: int, /, *lines: str) -> None:
        """Enter what is known at intake, a line a kind."""
        draft = draft_intake(self.garage, self.slug, lines)
        assert not draft.faults, [str(fault) for fault in draft.faults]
        self._save(draft)

    @_entry
    def reading(self, day: int, /, figure: int, note: str | None = None) -> None:
        self._save(draft_reading(self.garage, self.slug, str(figure), on=on(day), note=note))

    def readings(self, *days_and_figures: tuple[int, int]) -> None:
        for day, figure in days_and_figures:
            self.reading(day, figure)

    @_entry
    def fit(
        self,
        day: int,
        /,
        at: int,
        *parts: Part,
        hours: str = "0",
        materials: str = "0",
        by: str | None = None,
        note: str | None = None,
        since: int | None = None,
    ) -> None:
        """Fit parts by one job; `since`: the day it was done, where it is told only later."""
        garage = self.garage
        fitted = on(day if since is None else since)
        drafts = [
            draft_fit(garage, self.slug, p.kind, p.places, p.fields, on=fitted, at=str(at), by=by)
            for p in parts
        ]
        self._save(_by_one_job(drafts, {**_bill(hours, materials), "note": note}))

    @_entry
    def convert(self, day: int, /, at: int, name: str, *, hours: str, materials: str) -> None:
        draft = draft_conversion(self.garage, self.slug, name, on=on(day), at=str(at))
        self._save(_by_one_job([draft], _bill(hours, materials)))

    @_entry
    def discovered(self, day: int, at: int, /, found: Found) -> None:
        """Enter something found."""
        self._save(draft_found(self.garage, self.slug, found, on=on(day), at=str(at)))

    @_entry
    def mended(
        self, day: int, at: int, /, finding: str, how: str, *, hours: str, by: str | None = None
    ) -> None:
        self._save(
            draft_mended(
                self.garage, self.slug, finding, how, on=on(day), at=str(at), by=by, hours=hours
            )
        )

    @_entry
    def shelved(self, _day: int, /, *parts: Part) -> None:
        """Put parts on the shelf that came for the car."""
        garage = self.garage
        drafts = [
            draft_fit(garage, self.slug, p.kind, p.places, p.fields, shelf=True) for p in parts
        ]
        self._save(_together(drafts))

    @_entry
    def figures(self, _day: int, /, source: str, *figures: str) -> None:
        """Enter figures of the car from one source: `NAME = VALUE UNIT`, `NAME @ PLACE = ...`."""
        drafts = []
        for each in figures:
            named, _, given = each.partition(" = ")
            name, _, where = named.partition(" @ ")
            value, _, unit = given.rpartition(" ")
            drafts.append(
                draft_figure(
                    self.garage, self.slug, name, value, unit, where=where or None, source=source
                )
            )
        self._save(_together(drafts))

    @_entry
    def done(
        self,
        day: int,
        /,
        at: int,
        *items: str,
        hours: str = "0",
        materials: str = "0",
        by: str | None = None,
        note: str | None = None,
    ) -> None:
        """Do items in one job; `rule=value` is an item with what was measured on it."""
        # values go by the order of the items: what was measured comes first
        with_value = [item.partition("=") for item in items if "=" in item]
        bill = _bill(hours, materials)
        draft = draft_job(
            self.garage,
            self.slug,
            [*(item for item, _, _ in with_value), *(item for item in items if "=" not in item)],
            on=on(day),
            at=str(at),
            by=by,
            measured=[value for _, _, value in with_value],
            hours=str(bill["hours"]) if bill else None,
            cost=str(bill["cost"]) if bill else None,
            note=note,
        )
        self._save(draft)

    @_entry
    def measured(
        self, day: int, /, at: int, item: str, value: str, note: str | None = None
    ) -> None:
        self._save(
            draft_measurement(
                self.garage, self.slug, item, value, on=on(day), at=str(at), note=note
            )
        )

    @_entry
    def declined(self, day: int, /, *items: str, who: str, why: str) -> None:
        self._save(draft_decline(self.garage, self.slug, items, who=who, why=why, on=on(day)))

    @_entry
    def happened(self, day: int, /, at: int, event: str, where: str | None = None) -> None:
        self._save(
            draft_happening(self.garage, self.slug, event, on=on(day), at=str(at), where=where)
        )

    @_entry
    def corrected(self, _day: int, /, kind: str, **fields: str) -> None:
        """Correct the record of a part the car has once."""
        (here,) = (each for each in self.garage.car(self.slug).car.components if each.kind == kind)
        self._save(draft_correction(self.garage, self.slug, here.record, fields))

    @_entry
    def record(self, _day: int, /, table: str, values: Mapping[str, Value]) -> None:
        """Enter a record that no form makes yet; the schema checks it."""
        new = Drafting(self.garage, self.slug)
        new.add(table, values)
        self._save(new.draft(table))

    @_entry
    def rotated(self, day: int, /, at: int, moves: str, *, hours: str) -> None:
        """Move tires with their wheels, `LF=LR` being from and to, and record it as done."""
        bill = _bill(hours, "0")
        job = draft_job(
            self.garage,
            self.slug,
            ["tire-rotate"],
            on=on(day),
            at=str(at),
            hours=str(bill["hours"]),
            cost=str(bill["cost"]),
        )
        new = Drafting(self.garage, self.slug)
        here = {
            (each.kind, str(each.place_on(new.today))): each.record
            for each in new.car.fitted(new.today)
        }
        for move in moves.split(","):
            begins, _, ends = move.partition("=")
            new.add(
                "placement",
                {
                    "tire": here["tire", begins],
                    "wheel": here["wheel", begins],
                    "place": ends,
                    "on": on(day),
                    "at": at,
                    "job": job.edits[0].id,
                },
            )
        self._save(_together([job, new.draft("rotated")]))

    def again(self, slug: str) -> None:
        """Go on with a car that is entered already: ids of what is there stay as they are."""
        self.slug = slug

    @_entry
    def walked_round(self, day: int, /, at: int, **grooves: str) -> None:
        """Measure tread as one walks round the car, three grooves a tire."""
        entries = list(grooves.items())
        self._save(draft_tread(self.garage, self.slug, entries, on=on(day), at=str(at)))

    @_entry
    def laid_by(self, day: int, /, count: int, tire: Part, wheel: Part, note: str) -> None:
        """Enter tires that lie on wheels of their own, off the car."""
        for _ in range(count):
            drafts = [
                draft_fit(self.garage, self.slug, each.kind, None, each.fields, shelf=True)
                for each in (tire, wheel)
            ]
            new = Drafting(self.garage, self.slug)
            new.add(
                "placement",
                {
                    "tire": drafts[0].edits[0].id,
                    "wheel": drafts[1].edits[0].id,
                    "on": on(day),
                    "note": note,
                },
            )
            self._save(_together([*drafts, new.draft("laid by")]))

    @_entry
    def booked(self, _day: int, /, visit: int, *items: str, hours: int, note: str) -> None:
        """Book a visit for items, on a day to come."""
        found = [i for i in self.garage.today(self.slug).items if i.id.rule in items]
        new = Drafting(self.garage, self.slug)
        new.add(
            "visit",
            {
                "on": on(visit),
                "state": "booked",
                "items": [str(item.id) for item in found],
                "hours": hours,
                "note": note,
            },
        )
        self._save(new.draft("visit"))

    def _go_to(self, day: int) -> None:
        if day != self._day:
            self._day, self._minutes = day, 0
        self.garage.surroundings = self._surroundings()

    def _save(self, draft: Draft) -> None:
        self._minutes += 7
        self.garage.surroundings = self._surroundings()
        save(self.garage, draft)

    def _surroundings(self) -> Surroundings:
        return Surroundings(
            today=Y + timedelta(days=self._day),
            now=self._now,
            new_id=self._new_id,
            draw=bytes,
            device=lambda: DEVICE,
            command="sample fleet",
        )

    def _now(self) -> datetime:
        opened = datetime.combine(Y + timedelta(days=self._day), OPENS_AT)
        return opened + timedelta(minutes=self._minutes)

    def _new_id(self) -> str:
        """Give a UUID of version 7: the instant, a count within it, and digits that tell apart."""
        self._ids += 1
        milliseconds = f"{int(self._now().timestamp() * 1000):012x}"
        digits = sha256(f"castlenut sample fleet {self._ids}".encode()).hexdigest()
        return (
            f"{milliseconds[:8]}-{milliseconds[8:]}-7{self._ids % 4096:03x}"
            f"-8{digits[:3]}-{digits[3:15]}"
        )


def _bill(hours: str, materials: str) -> dict[str, Value]:
    """Give what stands in a job for its work: hours at the garage's rate, and what was used."""
    worked = Decimal(hours)
    if not worked:
        return {}
    cost = (worked * HOURLY_RATE + Decimal(materials)).quantize(Decimal("0.01"))
    return {"hours": number(worked), "cost": str(cost)}


def _together(drafts: Sequence[Draft]) -> Draft:
    return replace(drafts[0], edits=tuple(edit for draft in drafts for edit in draft.edits))


def _by_one_job(drafts: Sequence[Draft], more: Mapping[str, Value]) -> Draft:
    """Put drafts together that each have a job of their own: one day's work is one job."""
    whole = _together(drafts)
    jobs = [edit for edit in whole.edits if edit.table == "job"]
    events = dict.fromkeys(str(event) for job in jobs for event in _list(job.values.get("events")))
    values: dict[str, Value] = {**jobs[0].values, **more, "events": list(events)}
    held = {name: value for name, value in values.items() if value not in (None, [])}
    one = Added(table="job", id=jobs[0].id, values=held)
    rest = [_of_job(edit, one.id) for edit in whole.edits if edit.table != "job"]
    return replace(whole, edits=(one, *rest))


def _of_job(edit: Edit, job: str) -> Edit:
    if "job" not in edit.values or not isinstance(edit, Added | Changed):
        return edit
    return replace(edit, values={**edit.values, "job": job})


def _list(value: Value) -> Sequence[Value]:
    return value if isinstance(value, list) else []
