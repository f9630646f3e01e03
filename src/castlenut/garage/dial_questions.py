"""The readings of a car that are asked about, and what each answer would make of them."""

from datetime import date

from castlenut.domain.causes.haste import in_miles, is_possible
from castlenut.domain.dial_history import history_of
from castlenut.domain.errors import BadInput
from castlenut.domain.odometer import Odometer, Placed
from castlenut.domain.settling import How, Outcome, Question
from castlenut.domain.units import Distance, Unit
from castlenut.garage.changes.settling import Answer, draft_settlement
from castlenut.garage.drafts import car_after
from castlenut.garage.garage import Garage


def questions(garage: Garage, slug: str, odometer: Odometer) -> tuple[Question, ...]:
    """Give every question there is about the readings of a car, the newest first."""
    return tuple(
        found
        for placed in reversed(odometer.placed)
        if (found := question(garage, slug, odometer, placed)) is not None
    )


def question(garage: Garage, slug: str, odometer: Odometer, placed: Placed) -> Question | None:
    """Give what is asked about a reading; None where nothing is odd about it."""
    if placed.oddity is None:
        return None
    before = _before(odometer, placed)
    return Question(
        placed=placed,
        oddity=placed.oddity,
        outcomes=tuple(_outcome(garage, slug, placed, before, how) for how in How),
    )


def _before(odometer: Odometer, placed: Placed) -> Placed | None:
    earlier = odometer.placed[: odometer.placed.index(placed)]
    return next((each for each in reversed(earlier) if each.distance is not None), None)


def _outcome(garage: Garage, slug: str, placed: Placed, before: Placed | None, how: How) -> Outcome:
    answer = _tried(placed, before, how)
    record = placed.reading.record
    try:
        draft = draft_settlement(garage, slug, record, answer)
    except BadInput as refused:
        return Outcome(how=how, value=answer.value, fault=refused.faults[0].what)
    after = history_of(car_after(draft), south=garage.settings.south)
    on, figure = placed.reading.on, placed.shown
    # a job's figure judged right stands in a reading of its own
    found = next((each for each in after.placed if each.reading.record == record), None) or next(
        (each for each in after.placed if (each.reading.on, each.shown) == (on, figure)), None
    )
    distance = None if found is None or how is How.STRUCK else found.distance
    known = _distance_at(after, before)
    return Outcome(
        how=how,
        value=answer.value,
        on=None if answer.on is None else date.fromisoformat(answer.on),
        distance=distance,
        run=None if distance is None or known is None else Distance(distance - known),
        is_estimated=len(after.notes) > 0,
        left_out=sum(each.distance is None and each is not found for each in after.placed),
    )


def _distance_at(after: Odometer, before: Placed | None) -> Distance | None:
    if before is None:
        return None
    return next(
        (each.distance for each in after.placed if each.reading.record == before.reading.record),
        None,
    )


def _tried(placed: Placed, before: Placed | None, how: How) -> Answer:
    """Give an answer with its likeliest value: the other unit, the figure that fits, 0.

    A new dial that shows more than the car can have run came from another car, and begins there.
    """
    oddity, unit = placed.oddity, placed.reading.unit
    match how:
        case How.OTHER_UNIT:
            return Answer(how=how, value=(Unit.KM if unit is Unit.MI else Unit.MI).value)
        case How.CORRECTED:
            fits = None if oddity is None else oddity.would_fit
            on = None if oddity is None else oddity.would_fit_on
            if fits is None and on is not None:
                fits = placed.shown
            return Answer(
                how=how,
                value=None if fits is None else f"{fits.normalize():f}",
                on=None if on is None else on.isoformat(),
            )
        case How.REPLACED:
            return Answer(how=how, value=_first_shown(placed, before))
        case _:
            return Answer(how=how)


def _first_shown(placed: Placed, before: Placed | None) -> str:
    if before is not None:
        days = (placed.reading.on - before.reading.on).days
        if is_possible(in_miles(float(placed.shown), placed.reading.unit), days=days):
            return "0"
    return f"{placed.shown:f}"
