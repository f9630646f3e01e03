"""What a row of the jobs says: day, dial, what was done, by whom, hours, cost."""

from collections.abc import Iterator

from castlenut.domain.due import CarToday
from castlenut.domain.happenings import Job
from castlenut.domain.rules.rule import RuleBook
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words import figures
from castlenut.words.jobs import job_title, who

COLUMNS = (
    Column(head="on", width=10),
    Column(head="dial", width=9, is_right=True),
    Column(head="what", width=20, grow=4),
    Column(head="who", width=11, grow=1),
    Column(head="hours", width=6, is_right=True, least=78),
    Column(head="cost", width=8, is_right=True, least=78),
)
EMPTY = "No job yet: d records the first"


def job_lines(today: CarToday, book: RuleBook) -> Iterator[Line]:
    """Give the rows of a car's jobs, the latest first."""
    dial = today.odometer.dial
    for job in sorted(today.car.jobs, key=lambda each: (each.on, each.record), reverse=True):
        at = "-" if job.at is None else figures.shown(job.at, dial)
        yield Line(
            key=job.record,
            cells=(
                job.on.isoformat(),
                f"~{at}" if job.estimated else at,
                job_title(job, today.car, book),
                who(job),
                "-" if job.hours is None else figures.hours(job.hours),
                "-" if job.cost is None else figures.money(job.cost),
            ),
            name=job_title(job, today.car, book),
            sought=job.note or "",
        )


def job_of(today: CarToday, key: str | None) -> Job | None:
    """Give the job under a key."""
    return next((each for each in today.car.jobs if each.record == key), None)
