"""A car's odometer as other programs get it (docs/json.md)."""

from collections.abc import Sequence

from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Replaced, RolledOver
from castlenut.domain.dial_history import DialToday
from castlenut.domain.legs import Leg, legs
from castlenut.domain.odometer import Placed
from castlenut.domain.settling import Outcome, Question
from castlenut.domain.units import Distance
from castlenut.domain.use.estimate import DistanceBand
from castlenut.words import figures, forecast, odd, odometer
from castlenut.words import use as use_words
from castlenut.words.answers import Answer


def odometer_answer(slug: str, page: DialToday, questions: Sequence[Question]) -> dict[str, Answer]:
    """Give readings and events in order, what is asked, and the true distance ahead."""
    found, use, today = page.odometer, page.use, page.today
    dial = found.dial
    events = sorted(page.car.dial_events, key=lambda each: (each.on, each.record))
    ways = {placed.reading.record: way for placed, way in legs(found)}
    seen = use.basis.outlook
    return {
        "vehicle": slug,
        "unit": dial.unit.value,
        "dial": {"digits": dial.digits, "tenths": dial.tenths},
        "readings": [
            _reading(each, ways.get(each.reading.record, ()), dial) for each in found.placed
        ],
        "events": [_event(each) for each in events],
        "questions": [_question(each, dial) for each in questions],
        "distance_today": _band(use.distance_on(today)),
        "ahead": [
            {"on": day.isoformat(), "distance": _band(use.distance_on(day))}
            for day in odometer.days_ahead(today)
        ],
        "yearly": None if seen is None else _band(seen.yearly),
        "rests_on": list(forecast.rests_on(use.basis, dial)),
        "notes": [use_words.note_words(note, dial) for note in found.notes],
    }


def _reading(placed: Placed, way: Sequence[Leg], dial: Dial) -> dict[str, Answer]:
    read = placed.reading
    return {
        "record": read.record,
        "on": read.on.isoformat(),
        "figure": figures.as_number(read.figure),
        "unit": read.unit.value,
        "shown": figures.plain_number(placed.shown, dial),
        "distance": _distance(placed.distance),
        "settled": read.judged_right,
        "odd": None if placed.oddity is None else placed.oddity.cause.value,
        "legs": [_leg(each) for each in way],
    }


def _leg(leg: Leg) -> dict[str, Answer]:
    return {
        "from": None if leg.begin is None else figures.as_number(leg.begin),
        "to": None if leg.end is None else figures.as_number(leg.end),
        "factor": figures.as_number(leg.factor),
        "distance": _distance(leg.distance),
        "begins": None if leg.begins is None else leg.begins.value,
        "since": None if leg.since is None else leg.since.isoformat(),
    }


def _event(event: DialEvent) -> dict[str, Answer]:
    told: dict[str, Answer] = {"record": event.record, "on": event.on.isoformat()}
    match event:
        case RolledOver():
            return {**told, "event": "rolled over"}
        case Replaced(start=start, last=last):
            ended = None if last is None else figures.as_number(last)
            return {
                **told,
                "event": "replaced",
                "start": figures.as_number(start),
                "last": ended,
            }
        case FactorFrom(factor=factor):
            return {**told, "event": "factor", "factor": figures.as_number(factor)}


def _question(question: Question, dial: Dial) -> dict[str, Answer]:
    oddity, fits = question.oddity, question.oddity.would_fit
    return {
        "record": question.placed.reading.record,
        "cause": oddity.cause.value,
        "held": oddity.held,
        "would_fit": None if fits is None else figures.plain_number(fits, dial),
        "would_fit_on": None if oddity.would_fit_on is None else oddity.would_fit_on.isoformat(),
        "reason": odd.reason(question.placed, oddity, dial),
        "answers": [_outcome(each) for each in question.outcomes],
    }


def _outcome(tried: Outcome) -> dict[str, Answer]:
    return {
        "answer": tried.how.value,
        "value": tried.value,
        "on": None if tried.on is None else tried.on.isoformat(),
        "distance": _distance(tried.distance),
        "run": _distance(tried.run),
        "estimated": tried.is_estimated,
        "left_out": tried.left_out,
        "fault": tried.fault,
    }


def _distance(distance: Distance | None) -> float | int | None:
    return None if distance is None else figures.to_tenth(distance)


def _band(band: DistanceBand | None) -> dict[str, Answer]:
    return {
        "p10": _distance(band.p10 if band else None),
        "p50": _distance(band.p50 if band else None),
        "p90": _distance(band.p90 if band else None),
    }
