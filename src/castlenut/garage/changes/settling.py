"""An odd reading settled: what somebody says it was, kept for good."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from castlenut.domain.dial_history import history_of
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import RecordId, short
from castlenut.domain.oddity import Cause
from castlenut.domain.odometer import Odometer, Placed
from castlenut.domain.settling import How
from castlenut.domain.units import Unit
from castlenut.garage import entry
from castlenut.garage.changes.dial import dial_figure
from castlenut.garage.drafting import Drafting, number
from castlenut.garage.drafts import Draft, car_after
from castlenut.garage.garage import Garage
from castlenut.store.revisions import StoredRecord
from castlenut.store.values import Value
from castlenut.words import figures, odd


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What somebody says a reading was, as typed.

    `value` is the figure it should have been, the unit it was read in, or what the new dial showed
    at first. `last`: what the old dial showed at its end. `on`: the day of the replacement, or the
    day on which the figure was read.
    """

    how: How
    value: str | None = None
    last: str | None = None
    on: str | None = None
    note: str | None = None


def draft_settlement(garage: Garage, slug: str, record: str, answer: Answer) -> Draft:
    """Settle a reading, or the dial figure of a job: it is not asked about again.

    A figure corrected, or read in another unit, is settled if it fits then; else it is told.

    Raises:
        BadInput: no such reading, one that is struck, or an answer that cannot be.
    """
    new = Drafting(garage, slug)
    stored = new.record.file.named(record)
    placed, history = _placed(new, stored)
    settling = _Settling(new, stored, placed, history, answer)
    match answer.how:
        case How.RIGHT:
            settling.right()
        case How.ROLLED_OVER:
            settling.rolled_over()
        case How.REPLACED:
            settling.replaced()
        case How.OTHER_UNIT:
            settling.other_unit()
        case How.CORRECTED:
            settling.corrected()
        case How.STRUCK:
            settling.struck()
    title = f"{_named(stored)} settled: {answer.how.value}"
    draft = new.draft(f"{title} {answer.value}" if answer.value else title)
    if answer.how not in {How.OTHER_UNIT, How.CORRECTED}:
        return draft
    after = history_of(car_after(draft), south=garage.settings.south)
    found = next(each for each in after.placed if each.reading.record == stored.id)
    if found.oddity is not None:
        new.told.append(odd.reading(found, after.dial))
    elif stored.table == "reading":
        new.amend("reading", stored.id, {"judged": "right"})
    return new.draft(draft.title)


def _placed(new: Drafting, stored: StoredRecord) -> tuple[Placed, Odometer]:
    """Give the reading that a record holds in its place; a job's dial figure is one."""
    if stored.gone:
        raise BadInput(
            Fault(f"{_named(stored)} is struck", "record", "restore it first, then settle it")
        )
    history = history_of(new.car, south=new.garage.settings.south)
    found = next((each for each in history.placed if each.reading.record == stored.id), None)
    if found is None:
        raise BadInput(
            Fault(
                f"{_named(stored)} is no reading of the dial",
                "record",
                'name a reading: "castlenut odometer" lists them',
            )
        )
    return found, history


def _named(stored: StoredRecord) -> str:
    return f"{stored.table} {short(RecordId(stored.id))}"


class _Settling:
    """One answer being put into edits."""

    def __init__(
        self,
        new: Drafting,
        stored: StoredRecord,
        placed: Placed,
        history: Odometer,
        answer: Answer,
    ) -> None:
        self._new = new
        self._stored = stored
        self._placed = placed
        self._history = history
        self._answer = answer

    @property
    def _is_job(self) -> bool:
        return self._stored.table == "job"

    @property
    def _before(self) -> Placed | None:
        """Give the sound reading before this one."""
        earlier = self._history.placed[: self._history.placed.index(self._placed)]
        return next((each for each in reversed(earlier) if each.distance is not None), None)

    def right(self) -> None:
        self._takes()
        self._judge_right(self._answer.note)

    def _judge_right(self, note: str | None) -> None:
        if self._is_job:
            # a job says nothing of its figure: a reading of that day does
            self._new.add(
                "reading",
                {
                    "figure": number(self._placed.shown),
                    "on": self._placed.reading.on.isoformat(),
                    "unit": self._history.dial.unit.value,
                    "judged": "right",
                    "note": note,
                },
            )
        elif note is not None or self._stored.values.get("judged") != "right":
            told: dict[str, Value] = {} if note is None else {"note": note}
            self._amend({"judged": "right", **told})

    def rolled_over(self) -> None:
        self._takes()
        before, oddity = self._before, self._placed.oddity
        is_counted = oddity is not None and oddity.cause is Cause.ROLLED_OVER
        if before is None or not (is_counted or self._placed.shown - before.shown <= -1):
            self._new.fault(
                "it is not lower than the reading before it",
                where="rolled-over",
                remedy="settle it otherwise",
            )
            return
        rounds = 1
        if is_counted and oddity is not None and oddity.distance is not None:
            shown = float(self._placed.shown - before.shown)
            rounds = max(1, round((oddity.distance - shown) / float(self._history.capacity)))
        for _ in range(rounds):
            self._event("rolled over", self._placed.reading.on)
        self._judge_right(None)

    def replaced(self) -> None:
        self._takes("value", "last", "on")
        answer, new, read = self._answer, self._new, self._placed.reading
        start = self._figure_of_dial(answer.value, "replaced", "what the new dial showed at first")
        last = None if answer.last is None else dial_figure(new, answer.last, field="last")
        on = read.on if answer.on is None else new.past_day(answer.on)
        if start is not None and start > self._placed.shown:
            shown = figures.shown(self._placed.shown, self._history.dial)
            new.fault(
                f"{answer.value} is more than the {shown} read on the new dial",
                where="replaced",
                remedy="give what it showed at first",
            )
        before = self._before
        if on > read.on or (before is not None and on < before.reading.on):
            new.fault(
                f"{on.isoformat()} does not lie between this reading and the one before",
                where="on",
                remedy="give the day on which the dial was replaced",
            )
        self._event("replaced", on, start=number(start), last=number(last))
        self._judge_right(None)

    def other_unit(self) -> None:
        self._takes("value")
        new, read, dial = self._new, self._placed.reading, self._history.dial
        text = (self._answer.value or "").strip().lower()
        unit = next((each for each in Unit if each.value == text), None)
        if unit is None:
            what = f"{self._answer.value!r} is no unit of distance" if text else "no unit is given"
            new.fault(what, where="unit", remedy="give mi or km")
        elif unit is read.unit:
            new.fault(f"it stands in {unit.value} already", where="unit", remedy="give the other")
        else:
            figure = str(read.figure)
            found = new.read(lambda: entry.distance(figure, dial, field="unit", unit=unit.value))
            self._set_figure(found)

    def corrected(self) -> None:
        self._takes("value", "on")
        text, new = self._answer.value, self._new
        if text is None:
            new.fault("no figure is given", where="correct", remedy="give what the dial showed")
            return
        dial = self._history.dial
        self._set_figure(new.read(lambda: entry.distance(text, dial, field="correct")))
        if self._answer.on is None:
            return
        if self._is_job:
            new.fault(
                "the day is that of the job", where="on", remedy="correct the job's day by itself"
            )
        else:
            self._amend({"on": new.past_day(self._answer.on).isoformat()})

    def struck(self) -> None:
        self._takes()
        if self._is_job:
            # the job was done, whatever the dial showed
            self._amend({"at": None})
        else:
            self._new.strike("reading", self._stored.id, gone=True, why=self._answer.note)

    # -- parts ---------------------------------------------------------------------------------

    def _takes(self, *allowed: str) -> None:
        """Keep a fault for what was given and has no meaning with this answer."""
        given = {"value": self._answer.value, "last": self._answer.last, "on": self._answer.on}
        how = self._answer.how.value
        for name, text in given.items():
            if text is not None and name not in allowed:
                self._new.fault(
                    f"{text!r} has no meaning with {how}",
                    where=how if name == "value" else name,
                    remedy="leave it out",
                )

    def _figure_of_dial(self, text: str | None, field: str, meaning: str) -> Decimal | None:
        if text is None:
            self._new.fault("no figure is given", where=field, remedy=f"give {meaning}")
            return None
        return dial_figure(self._new, text, field=field)

    def _set_figure(self, found: entry.DialFigure | None) -> None:
        if found is None:
            return
        if self._is_job:
            self._amend({"at": number(entry.on_dial(found, self._history.dial))})
        else:
            self._amend({"figure": number(found.figure), "unit": found.unit.value})

    def _amend(self, values: Mapping[str, Value]) -> None:
        self._new.amend(self._stored.table, self._stored.id, values)

    def _event(self, event: str, on: date, **figures_of_it: Value) -> None:
        self._new.add(
            "odometer_event",
            {"event": event, "on": on.isoformat(), "note": self._answer.note, **figures_of_it},
        )
