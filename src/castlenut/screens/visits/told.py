"""What is told below the visits of a car, and why its plan is as it is."""

from collections.abc import Iterator
from datetime import date

from castlenut.garage.visits import CarVisits
from castlenut.screens.visits.rows import JobShown, Shown, cannot_told
from castlenut.words import car_visits as words
from castlenut.words import cautions
from castlenut.words.visits import reasons


def told_of(here: Shown, day: date, found: CarVisits | None, job: JobShown | None) -> Iterator[str]:
    """Say what a visit on a day means, the job at hand, and the caution that goes with it."""
    late = here.past_on(day)
    if day != here.on:
        told = "" if late else ": nothing goes past its window"
        yield f"{day:%a} {day}{told}{_life_on(here, day, found)}"
    for name, closes in late:
        yield f"!! {name}: past its window by then, it closes on {closes:%a} {closes}"
    if day == here.on and job is not None:
        yield f"{words.title(job.item)}: {job.told}"
    keys = dict.fromkeys(key for each in here.jobs for key in each.item.rule.cautions)
    yield " ".join(cautions.sentences(tuple(keys))[:1]) or cautions.DEFERRING_LINE


def _life_on(here: Shown, day: date, found: CarVisits | None) -> str:
    """Say what a proposed visit gives up by another day, where money is told."""
    if found is None or not found.has_money or here.is_booked:
        return ""
    visit = next((each for each in found.plan.visits if each.on == here.on), None)
    if visit is None:
        return ""
    return f"; {words.life_words(found.moving().life_on(visit, day))}"


def reasons_of(found: CarVisits, here: Shown | None, currency: str) -> Iterator[str]:
    """Say why the visit at hand is as it is, what all of it costs, and how good that is."""
    of_car = found.of_car
    called, moving = words.called(of_car.items), found.moving()
    yield from (f"!! {sentence}" for sentence in cannot_told(found))
    for visit in found.plan.visits:
        if here is not None and visit.on == here.on and not here.is_booked:
            yield from reasons(visit, of_car.line, called)
            yield words.later_line(visit, of_car, moving, in_full=found.has_money)
    if found.has_money:
        yield ""
        yield from words.cost_lines(found.plan, currency)
    yield ""
    yield from words.left_out_lines(of_car, found.today.items)
