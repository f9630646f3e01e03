"""The working of an item in words, a line a step: the one place, for all faces.

Each step first becomes the row of a sum (label, distance, date, remark), as the screen shows it in
columns; the sentence of the command line and of JSON is made from the same row.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from castlenut.domain.ids import RecordId, short
from castlenut.domain.item import Item
from castlenut.domain.measures import MEASURES
from castlenut.domain.odometer import Dial
from castlenut.domain.place import Place
from castlenut.domain.use.estimate import DateBand
from castlenut.domain.working import (
    Aged,
    Anchored,
    Assumed,
    Beats,
    BeforeItRolls,
    Binds,
    Cautioned,
    Checked,
    Counted,
    DialRead,
    Expected,
    From,
    Judged,
    NotKnown,
    NotShortened,
    Pointed,
    Reached,
    Refused,
    Result,
    Seasoned,
    Shortened,
    Sourced,
    State,
    Step,
    WindowSet,
)
from castlenut.words import cautions, figures, reasons, states
from castlenut.words.escape import one_line


class Tie(Enum):
    """How the remark of a row hangs on the rest of its sentence."""

    BRACKETS = "brackets"
    SEMICOLON = "; "
    COMMA = ", "


@dataclass(frozen=True, slots=True, kw_only=True)
class SumRow:
    """One row of the sum in columns. Empty texts are empty cells.

    The other fields only shape the sentence: whether a colon ends the label, what stands between
    distance and date, and how the remark is tied on.
    """

    label: str
    distance: str = ""
    date: str = ""
    remark: str = ""
    has_colon: bool = False
    between: str = ", "
    tie: Tie = Tie.SEMICOLON


def sentence(row: SumRow) -> str:
    """Give a row of the sum as one line of plain text."""
    figure = row.between.join(part for part in (row.distance, row.date) if part)
    if not figure and row.remark:
        return f"{row.label}: {row.remark}" if row.label else row.remark
    told = f"{row.label}{':' if row.has_colon and figure else ''} {figure}".rstrip()
    if not row.remark:
        return told
    match row.tie:
        case Tie.BRACKETS:
            return f"{told} ({row.remark})"
        case Tie.SEMICOLON | Tie.COMMA:
            return f"{told}{row.tie.value}{row.remark}"


def sum_rows(item: Item, dial: Dial) -> tuple[SumRow, ...]:
    """Give the working of an item as the rows of a sum, in the order it was reckoned."""
    return tuple(row for step in item.working for row in rows(step, item, dial))


def lines(item: Item, dial: Dial) -> tuple[str, ...]:
    """Give the working of an item line by line; the deferring line is the last."""
    return tuple(sentence(row) for row in sum_rows(item, dial))


def rows(step: Step, item: Item, dial: Dial) -> tuple[SumRow, ...]:
    """Give the row or rows of one step of an item's working."""
    match step:
        case Anchored():
            return (_anchored(step, item.place, dial),)
        case NotKnown(what=what, remedy=remedy):
            return (SumRow(label="not known", remark=f"{what}; {remedy}"),)
        case Assumed(attribute=attribute, taken_as=taken_as):
            return (
                SumRow(
                    label=f"{attribute} taken as {taken_as}",
                    remark="nobody recorded it, so the strictest rule that may apply is used",
                ),
            )
        case Counted():
            return (_counted(step, dial),)
        case Pointed(rule=rule, number=number, of=of, distance=distance, after=after):
            return (
                SumRow(
                    label=_point(number, of, distance, after),
                    distance=figures.with_unit(distance, dial),
                    has_colon=True,
                    remark=_rule(rule, item),
                    tie=Tie.BRACKETS,
                ),
            )
        case Aged():
            return (_aged(step),)
        case Seasoned(first_day=first_day, last_day=last_day):
            return (
                SumRow(
                    label="season",
                    date=f"{first_day.isoformat()} to {last_day.isoformat()}",
                    remark="the first that ends half an interval or more after the last time",
                ),
            )
        case Shortened(exposure=exposure, factor=factor):
            return (
                SumRow(
                    label=f"x {exposure} {figures.number(factor)}",
                    distance="" if step.distance is None else _length(step.distance, dial),
                    date=figures.span(step.months, step.days),
                    between=" or ",
                    has_colon=True,
                ),
            )
        case NotShortened(would=would):
            return (_not_shortened(would),)
        case Judged():
            return (_judged(step, dial),)
        case Checked():
            return (_checked(step),)
        case Reached():
            return (_reached(step, dial),)
        case WindowSet():
            return (_window(step, item, dial),)
        case DialRead():
            return (_today(step, dial),)
        case Expected(p10=p10, p50=p50, p90=p90):
            return (_expected(DateBand(p10=p10, p50=p50, p90=p90), item),)
        case Refused():
            return (_refused(step),)
        case BeforeItRolls(since=since):
            return (
                SumRow(
                    label="in work since",
                    date=since.isoformat(),
                    remark="due before it rolls, and not overdue until then",
                ),
            )
        case Result():
            return (SumRow(label="result", remark=_result(step, dial)),)
        case Sourced():
            return _sourced(step)
        case Cautioned(keys=keys):
            return (
                *(
                    SumRow(label="caution", remark=caution)
                    for caution in cautions.sentences(keys)
                ),
                SumRow(label="", remark=cautions.DEFERRING_LINE),
            )


def _length(distance: Decimal, dial: Dial) -> str:
    return figures.with_unit(distance, dial)


def _named(record: RecordId | None) -> tuple[str, ...]:
    return () if record is None else (short(record),)


_HOW: Mapping[From, str] = {
    From.FITTED: "fitted",
    From.DONE: "last done",
    From.INCLUDED: "last done in another job",
    From.MEASURED: "last measured",
    From.CHECKED: "last checked",
    From.STATED: "last done, as stated",
    From.INSPECTED: "inspected, good from",
    From.VISIT: "last seen at the garage",
    From.EVENT: "since",
    From.MADE: "made",
    From.LABEL: "label",
    From.LAID_UP: "laid up since",
}


def _anchored(step: Anchored, place: Place | None, dial: Dial) -> SumRow:
    label = _HOW[step.how]
    name = MEASURES[step.name].words if step.name in MEASURES else one_line(step.name)
    if step.how is From.EVENT and name:
        label, name = f"since {name}", ""
    distance = "" if step.at is None else figures.with_unit(step.at, dial)
    if step.is_estimated and distance:
        distance = f"about {distance}"
    told = [name, str(place) if place else "", *_named(step.record)]
    if step.by is not None:
        told.append(f"by {one_line(step.by)}")
    if step.is_estimated:
        told.append("distance estimated")
    return SumRow(
        label=label,
        distance=distance,
        date="" if step.on is None else step.on.isoformat(),
        remark=", ".join(part for part in told if part),
        tie=Tie.BRACKETS,
    )


_WHOSE: Mapping[Beats, str] = {
    Beats.STAMPED: "stamped on the part, in place of rule {}",
    Beats.MAKER: "the part maker's own, in place of rule {}",
    Beats.THIS_CAR: "this car's own, in place of rule {} as shipped",
    Beats.GARAGE: "rule {}, this garage's own",
}


def _rule(rule: str, item: Item) -> str:
    origin = item.rule.origin
    if rule != item.rule.id:
        return f"rule {rule}"
    return f"rule {rule}, {origin if origin == 'shipped' else f'own of {origin}'}"


def _counted(step: Counted, dial: Dial) -> SumRow:
    whose = f"rule {step.rule}, shipped" if step.whose is None else (
        _WHOSE[step.whose].format(step.rule)
    )
    return SumRow(
        label="+ interval",
        distance="" if step.distance is None else _length(step.distance, dial),
        date=figures.span(step.months, step.days),
        between=" or ",
        has_colon=True,
        remark=whose,
        tie=Tie.BRACKETS,
    )


def _point(number: int, of: int, distance: Decimal, after: str | None) -> str:
    if after is None:
        return f"+ first point {number} of {of}"
    if distance == 0:
        return f"+ at once after {one_line(after)}"
    return f"+ point {number} of {of} after {one_line(after)}"


def _aged(step: Aged) -> SumRow:
    since = figures.day(step.since)
    match step.counted_from:
        case From.LABEL:
            counted = f"to the end of the year on the label, from {since}"
        case From.MADE:
            counted = f"counted from the date of make, {since}"
        case _:
            counted = f"counted from {since}, {_HOW[step.counted_from]}; no date of make is known"
    if step.advise_months is not None:
        reached = "reached" if step.is_advised else "not reached"
        counted += f"; renewal is advised from {step.advise_months} months: {reached}"
    return SumRow(
        label="+ age",
        date=figures.span(step.months, None),
        has_colon=True,
        remark=counted,
        tie=Tie.COMMA,
    )


def _not_shortened(would: tuple[tuple[str, Fraction], ...]) -> SumRow:
    if not would:
        return SumRow(label="x exposure", remark="none")
    told = ", ".join(
        f"{name} would make it {figures.number(factor)}" for name, factor in would
    )
    return SumRow(label="x exposure", remark=f"none; {told}")


def _judged(step: Judged, dial: Dial) -> SumRow:
    words = MEASURES[step.measure].words if step.measure in MEASURES else step.measure
    remark = [_limit(step)]
    if step.rate_per_1000 is not None:
        worn = f"wears {figures.wear(step.rate_per_1000, step.unit)} per 1,000 {dial.unit.value}"
        if step.reached_at is not None:
            worn += f", at the limit at {figures.with_unit(step.reached_at, dial)}"
        remark.append(worn)
    if step.advise is not None:
        reached = "reached" if step.is_advised else "not reached"
        remark.append(
            f"renewal is advised at {figures.quantity(step.advise, step.unit)}: {reached}"
        )
    if step.value is None:
        return SumRow(label=words, remark="; ".join(("not measured", *remark)))
    return SumRow(
        label=f"{words} {figures.quantity(step.value, step.unit)}",
        distance="" if step.at is None else f"at {figures.with_unit(step.at, dial)}",
        date="" if step.on is None else step.on.isoformat(),
        remark="; ".join((*remark, *_named(step.record))),
    )


def _limit(step: Judged) -> str:
    if step.limit is None:
        return "no limit known: enter the car's own figure"
    side = "at least" if step.is_at_least else "at most"
    told = f"{side} {figures.quantity(step.limit, step.unit)} is allowed"
    if step.whose is not None:
        told += f" ({step.whose.value})"
    match step.passes:
        case None:
            return told
        case True:
            return f"{told}: it holds"
        case False:
            return f"{told}: it does not hold"


def _checked(step: Checked) -> SumRow:
    if step.is_good is None or step.on is None:
        return SumRow(label="must hold", remark=f"{step.what}; not checked yet")
    found = "good" if step.is_good else "not good"
    return SumRow(
        label="must hold",
        remark=", ".join((f"{step.what}; found {found} on {step.on.isoformat()}",
                          *_named(step.record))),
    )


_BINDS: Mapping[Binds, str] = {
    Binds.DATE: "date binds",
    Binds.DISTANCE: "distance binds",
    Binds.MEASUREMENT: "the measurement binds",
    Binds.AGE: "age binds",
    Binds.EVENT: "the event binds",
    Binds.SEASON: "the season binds",
}


def _reached(step: Reached, dial: Dial) -> SumRow:
    if step.at is None:
        return SumRow(
            label="= due on" if step.on else "= due",
            date=step.on.isoformat() if step.on else "",
            remark=_BINDS[step.binds],
        )
    return SumRow(
        label="= due at",
        distance=figures.with_unit(step.at, dial),
        date=step.on.isoformat() if step.on else "",
        between=" or ",
        remark=_BINDS[step.binds],
    )


def _window(step: WindowSet, item: Item, dial: Dial) -> SumRow:
    distance = ""
    if step.opens_at is not None and step.closes_at is not None:
        opens = figures.shown(step.opens_at, dial)
        distance = f"{opens} to {figures.with_unit(step.closes_at, dial)}"
    dates = ""
    if step.opens_on is not None and step.closes_on is not None:
        dates = f"{step.opens_on.isoformat()} to {step.closes_on.isoformat()}"
    if step.lead_percent is not None:
        opens = f"opens {figures.percent(step.lead_percent)} early"
    elif item.rule.season and not distance:
        opens = "opens on the first day of the season"
    else:
        opens = "opens half way"
    late = step.late_percent
    closes = f"closes {figures.percent(late)} late" if late else "no lateness allowed"
    return SumRow(
        label="window",
        distance=distance,
        date=dates,
        between=" or ",
        remark=f"{opens}, {closes}",
    )


def _today(step: DialRead, dial: Dial) -> SumRow:
    if step.p50 is None:
        return SumRow(
            label="today", date=step.today.isoformat(), remark="the distance is not known: no reading"
        )
    distance = figures.with_unit(step.p50, dial)
    if step.p10 is not None and step.p90 is not None and step.p10 != step.p90:
        distance += f" ({figures.shown(step.p10, dial)} to {figures.shown(step.p90, dial)})"
    return SumRow(
        label="today",
        distance=distance,
        remark=f"from {reasons.basis(step.basis, dial)}",
        tie=Tie.COMMA,
    )


def _expected(band: DateBand, item: Item) -> SumRow:
    if band.p10 == band.p50 == band.p90 is None and not _is_use_known(item):
        return SumRow(label="expected", remark="too little known of its use to give a date")
    return SumRow(label="expected", date=figures.dates(band))


def _is_use_known(item: Item) -> bool:
    return any(
        isinstance(step, DialRead) and reasons.is_rate_known(step.basis) for step in item.working
    )


def _refused(step: Refused) -> SumRow:
    told = [f"by {one_line(step.who)}" if step.who else "by the owner"]
    if step.why:
        told.append(f'"{one_line(step.why)}"')
    if step.until is not None:
        told.append(f"ask again on {step.until.isoformat()}")
    told += [f"without that: {step.reckoned.value}", *_named(step.record)]
    return SumRow(
        label="declined", date=step.on.isoformat(), remark=", ".join(told), tie=Tie.COMMA
    )


def left(step: Result, dial: Dial) -> str:
    """Give what is left or over, `80 mi over`, `120 mi or 315 days left`; empty if not known.

    A side that is over stands alone: what is left on the other no longer counts.
    """
    distance, days = step.distance_left, step.days_left
    over = [
        text
        for is_over, text in (
            (distance is not None and distance < 0, _amount(distance, dial)),
            (days is not None and days < 0, "" if days is None else figures.count(-days, "day")),
        )
        if is_over
    ]
    if over:
        return f"{' and '.join(over)} over"
    ahead = [] if distance is None else [_amount(distance, dial)]
    if days is not None:
        ahead.append(figures.count(days, "day"))
    return f"{' or '.join(ahead)} left" if ahead else ""


def _amount(distance: Decimal | None, dial: Dial) -> str:
    return "" if distance is None else figures.with_unit(abs(distance), dial)


def _result(step: Result, dial: Dial) -> str:
    stamp = states.stamp(step.state, step.may_be)
    state = step.state.value
    if stamp.word != state:
        state = f"{state}, {stamp.word}"
    if step.before_it_rolls:
        state = f"{state}, {states.BEFORE_IT_ROLLS}"
    if step.state is State.NO_RECORD and step.rank is not None:
        state = f"{state}, rank {step.rank}: {states.RANKS[step.rank]}"
    told = left(step, dial)
    return f"{told}: {state}" if told else state


_BASIS: Mapping[str, str] = {
    "R": "read in the source",
    "R2": "read in a page that restates the source",
    "M": "from memory",
    "P": "common practice, no source",
    "C": "computed from published figures",
}


def _sourced(step: Sourced) -> tuple[SumRow, ...]:
    basis = _BASIS[step.basis]
    source = one_line(step.source)
    told = source if basis in source else f"{source}; {basis}"
    row = SumRow(label="source", remark=told)
    if step.note is None:
        return (row,)
    return (row, SumRow(label="published", remark=one_line(step.note)))
