"""Each step of a working as a row of the sum: the sentences behind `working.rows`."""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from castlenut.domain.dial import Dial
from castlenut.domain.ids import OWN, OWN_NOTE, RecordId, short
from castlenut.domain.item import Item
from castlenut.domain.measures import MEASURES, in_unit
from castlenut.domain.place import Place
from castlenut.domain.use.estimate import DateBand
from castlenut.domain.working import (
    Aged,
    Anchored,
    Beats,
    Binds,
    Checked,
    Counted,
    DialRead,
    Expected,
    From,
    Judged,
    KeptToSchedule,
    Reached,
    Refused,
    Result,
    Shortened,
    Sourced,
    Specified,
    State,
    WindowSet,
)
from castlenut.words import figures, sources, states, use
from castlenut.words.escape import LONGEST_TEXT, one_line
from castlenut.words.sum_row import SumRow, Tie


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
    From.NOTED: "noted",
    From.FOUND: "found",
}


def anchored(step: Anchored, place: Place | None, dial: Dial) -> SumRow:
    """Give what the counting starts from."""
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
    if step.until is not None:
        told.append(f"found good until {step.until.isoformat()}")
    if step.until_at is not None:
        told.append(f"found good until {figures.with_unit(step.until_at, dial)}")
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


def rule(rule: str, item: Item) -> str:
    """Name the rule of an item, and whose it is."""
    origin = item.rule.origin
    if rule == OWN:
        return OWN_NOTE
    if rule != item.rule.id:
        return f"rule {rule}"
    return f"rule {rule}, {origin if origin == 'shipped' else f'own of {origin}'}"


def counted(step: Counted, dial: Dial) -> SumRow:
    """Give the interval that is added."""
    if step.rule == OWN:
        whose = OWN_NOTE
    elif step.whose is None:
        whose = f"rule {step.rule}, shipped"
    else:
        whose = _WHOSE[step.whose].format(step.rule)
    return SumRow(
        label="+ interval",
        distance="" if step.distance is None else figures.with_unit(step.distance, dial),
        date=figures.span(step.months, step.days),
        between=" or ",
        has_colon=True,
        remark=whose,
        tie=Tie.BRACKETS,
    )


def point(number: int, of: int, distance: Decimal, after: str | None) -> str:
    """Give the label of a point after fitting or after an event."""
    if after is None and distance == 0 and of == 1:
        return "+ at once"
    if after is None:
        return f"+ first point {number} of {of}"
    if distance == 0:
        return f"+ at once after {one_line(after)}"
    return f"+ point {number} of {of} after {one_line(after)}"


def aged(step: Aged) -> SumRow:
    """Give the age that is counted."""
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


def shortened(step: Shortened, dial: Dial) -> SumRow:
    """Give the interval after the exposure's factor."""
    return SumRow(
        label=f"x exposure {step.exposure} {figures.number(step.factor)}",
        distance="" if step.distance is None else figures.with_unit(step.distance, dial),
        date=figures.span(step.months, step.days),
        between=" or ",
        has_colon=True,
    )


def not_shortened(would: tuple[tuple[str, Fraction], ...]) -> SumRow:
    """Give the exposures that are not in force."""
    if not would:
        return SumRow(label="x exposure", remark="none")
    told = ", ".join(f"{name} would make it {figures.number(factor)}" for name, factor in would)
    return SumRow(label="x exposure", remark=f"none; {told}")


def kept_to_schedule(step: KeptToSchedule, dial: Dial) -> SumRow:
    """Give where the schedule counts from, since the job fell inside its window."""
    turns = max(step.turn_on, step.turn_at)
    return SumRow(
        label="on schedule from",
        distance="" if step.at is None else figures.with_unit(step.at, dial),
        date="" if step.on is None else step.on.isoformat(),
        remark=f"done inside its window: the next is interval {turns} from there",
    )


def judged(step: Judged, dial: Dial) -> SumRow:
    """Give a measurement held against its limit."""
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
        label=f"{words} {figures.quantity(*(step.entered or (step.value, step.unit)))}",
        distance="" if step.at is None else f"at {figures.with_unit(step.at, dial)}",
        date="" if step.on is None else step.on.isoformat(),
        remark="; ".join((*remark, *_named(step.record))),
    )


def _limit(step: Judged) -> str:
    if step.limit is None:
        return "no limit known: enter the car's own figure"
    side = "at least" if step.is_at_least else "at most"
    told = f"{side} {figures.quantity(step.limit, step.unit)}{_as_entered(step)} is allowed"
    if step.whose is not None:
        told += f" ({step.whose.value})"
    if step.is_stand_in:
        told += " until the car's own figure is entered"
    match step.passes:
        case None:
            return told
        case True:
            return f"{told}: it holds"
        case False:
            return f"{told}: it does not hold"


def _as_entered(step: Judged) -> str:
    """Give a length's limit again in the unit it was measured in, where that is another."""
    if step.entered is None or step.limit is None or step.entered[1] == step.unit:
        return ""
    limit = in_unit(step.limit, step.unit, step.entered[1])
    if limit is None:
        return ""
    return f" ({figures.quantity(Decimal(f'{float(limit):.3g}'), step.entered[1])})"


def checked(step: Checked) -> SumRow:
    """Give a check that no figure measures."""
    told = [one_line(step.what, LONGEST_TEXT), *map(_specified, step.known)]
    if step.missing:
        told.append(f"no limit known: enter {' and '.join(map(_either, step.missing))}")
    if step.is_good is None or step.on is None:
        told.append("not checked yet")
    else:
        found = "good" if step.is_good else "not good"
        told.append(", ".join((f"found {found} on {step.on.isoformat()}", *_named(step.record))))
    return SumRow(label="must hold", remark="; ".join(told))


def _specified(own: Specified) -> str:
    """Give one of the car's own figures: `lug nut torque 75 ft-lb (its book, p. 12)`."""
    name = MEASURES[own.name].words if own.name in MEASURES else own.name.replace("_", " ")
    if isinstance(own.value, Decimal):
        value = figures.quantity(own.value, "" if own.unit == "-" else own.unit)
    else:
        value = " ".join(part for part in (own.value, own.unit) if part != "-")
    place = f" {own.place}" if own.place else ""
    source = f" ({own.source})" if own.source else ""
    return one_line(f"{name}{place} {value}{source}")


def _either(spec: str) -> str:
    return spec.replace("|", " or ")


_BINDS: Mapping[Binds, str] = {
    Binds.DATE: "date binds",
    Binds.DISTANCE: "distance binds",
    Binds.MEASUREMENT: "the measurement binds",
    Binds.AGE: "age binds",
    Binds.EVENT: "the event binds",
    Binds.SEASON: "the season binds",
}


def reached(step: Reached, dial: Dial) -> SumRow:
    """Give the due point."""
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


def window(step: WindowSet, dial: Dial) -> SumRow:
    """Give when the window opens and closes."""
    distance = ""
    if step.opens_at is not None and step.closes_at is not None:
        opens = figures.shown(step.opens_at, dial)
        distance = f"{opens} to {figures.with_unit(step.closes_at, dial)}"
    dates = ""
    if step.opens_on is not None and step.closes_on is not None:
        dates = f"{step.opens_on.isoformat()} to {step.closes_on.isoformat()}"
    if step.lead_percent is not None:
        opens = f"opens {figures.percent(step.lead_percent)} early"
    elif step.is_of_season and not distance:
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


def today(step: DialRead, dial: Dial) -> SumRow:
    """Give the distance today, and what it is known from."""
    if step.p50 is None:
        return SumRow(
            label="today",
            date=step.today.isoformat(),
            remark="the distance is not known: no reading",
        )
    distance = figures.with_unit(step.p50, dial)
    if step.p10 is not None and step.p90 is not None and step.p10 != step.p90:
        distance += f" ({figures.shown(step.p10, dial)} to {figures.shown(step.p90, dial)})"
    return SumRow(
        label="today",
        distance=distance,
        remark=f"from {use.basis(step.basis, dial)}",
        tie=Tie.COMMA,
    )


def expected(step: Expected) -> SumRow:
    """Give when the item is expected to fall due."""
    if step.p10 == step.p50 == step.p90 is None and not step.is_use_known:
        return SumRow(label="expected", remark="too little known of its use to give a date")
    band = DateBand(p10=step.p10, p50=step.p50, p90=step.p90)
    return SumRow(label="expected", date=figures.dates(band))


def refused(step: Refused) -> SumRow:
    """Give the owner's refusal."""
    told = [f"by {one_line(step.who)}" if step.who else "by the owner"]
    if step.why:
        told.append(f'"{one_line(step.why)}"')
    if step.until is not None:
        told.append(f"ask again on {step.until.isoformat()}")
    told += [f"without that: {step.reckoned.value}", *_named(step.record)]
    return SumRow(label="declined", date=step.on.isoformat(), remark=", ".join(told), tie=Tie.COMMA)


def left(
    days: int | None, distance: Decimal | float | None, dial: Dial, *, is_overdue: bool
) -> str:
    """Give what is left or over, `80 mi over`, `120 mi or 315 days left`; empty if not known.

    A side that is over stands alone: what is left on the other no longer counts.
    """
    over: list[str] = []
    ahead: list[str] = []
    if distance is not None:
        whole = figures.left(distance, dial)
        (over if whole < 0 else ahead).append(figures.with_unit(abs(whole), dial))
    if days is not None:
        (over if days < 0 else ahead).append(figures.count(abs(days), "day"))
    if over:
        return f"{' and '.join(over)} over"
    if is_overdue:
        return "just over" if ahead else ""
    return f"{' or '.join(ahead)} left" if ahead else ""


def result(step: Result, dial: Dial) -> str:
    """Give how it stands today: what is left or over, then the state."""
    stamp = states.stamp(step.state, step.may_be)
    state = step.state.value
    if stamp.word != state:
        state = f"{state}, {stamp.word}"
    if step.before_it_rolls:
        state = f"{state}, {states.BEFORE_IT_ROLLS}"
    if step.state is State.NO_RECORD and step.rank is not None:
        state = f"{state}, rank {step.rank}: {states.RANKS[step.rank]}"
    told = left(step.days_left, step.distance_left, dial, is_overdue=step.state is State.OVERDUE)
    return f"{told}: {state}" if told else state


def sourced(step: Sourced) -> tuple[SumRow, ...]:
    """Give the source of the rule's figures, and below it what is published elsewhere."""
    told = (
        f"{one_line(step.source, LONGEST_TEXT)}, for this car alone"
        if step.is_this_cars
        else sources.sourced(step.source, step.basis)
    )
    row = SumRow(label="source", remark=told)
    if step.note is None:
        return (row,)
    return (row, SumRow(label="note", remark=one_line(step.note, LONGEST_TEXT)))
