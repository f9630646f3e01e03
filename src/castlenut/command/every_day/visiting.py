"""Visits: when a car comes in and what is done then, agreed, moved, done; and the weeks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.command import (
    CALENDAR_AND_PAPER,
    Command,
    gives_json,
    takes_note,
    takes_vehicle,
)

if TYPE_CHECKING:
    from argparse import ArgumentParser
    from collections.abc import Callable
    from datetime import date

    from castlenut.command.call import Call
    from castlenut.garage.garage import Garage
    from castlenut.garage.visits import CarVisits
    from castlenut.garage.weeks import GarageWeeks

_SECONDS = 10.0
MOST_SOONER = 60


def _visits_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser, may_be_missing=True)
    parser.add_argument("--until", metavar="DATE", help="plan to this day; of one car only")
    parser.add_argument(
        "--seconds", metavar="N", help="time to look for a better plan, 10 without it"
    )
    parser.add_argument(
        "--sooner",
        metavar="DAYS",
        help="of all cars: how many days before its own a visit may begin, 0 without it",
    )
    parser.add_argument(
        "--why", action="store_true", help="with the reasons, what it costs, and how good it is"
    )
    gives_json(parser)


def _visits(call: Call) -> int:
    from castlenut.command.every_day.seconds import clock, seconds
    from castlenut.garage.visits import visits_of

    garage = call.garage()
    until = _until(call)
    allowed, sooner = seconds(call, usual=_SECONDS), _sooner(call)
    if call.maybe("vehicle") is None:
        return _weeks(call, garage, allowed, sooner)
    slug = garage.find(call.text("vehicle"))
    found = visits_of(garage, slug, may_go_on=clock(allowed), until=until)
    if call.as_json:
        from castlenut.garage.visit_answers import car_answer

        output.write_json(car_answer(slug, found, garage.settings.currency))
        return output.FINE
    _write_car(call, garage, found)
    return output.FINE


def _until(call: Call) -> date | None:
    from castlenut.domain.errors import BadInput, Fault
    from castlenut.garage.entry import day

    text = call.maybe("until")
    if text is None:
        return None
    if call.maybe("vehicle") is None:
        raise BadInput(Fault("is for one car", "--until", "name the car, or leave it out"))
    return day(text, today=call.today(), past=False, field="--until")


def _sooner(call: Call) -> int:
    """Read how many days before its own a visit may begin.

    Raises:
        BadInput: it is no number of days, or a car is named.
    """
    from castlenut.domain.errors import BadInput, Fault

    text = call.maybe("sooner")
    if text is None:
        return 0
    if call.maybe("vehicle") is not None:
        raise BadInput(Fault("is for all cars", "--sooner", "leave it out, or name no car"))
    if not (text.isascii() and text.isdigit() and int(text) <= MOST_SOONER):
        raise BadInput(
            Fault(f'"{text}" is no number of days', "--sooner", f"give 0 to {MOST_SOONER}")
        )
    return int(text)


def _write_car(call: Call, garage: Garage, found: CarVisits) -> None:
    from castlenut.words import car_visits as words
    from castlenut.words.cautions import DEFERRING_LINE, sentences
    from castlenut.words.visits import not_kept, reasons, risk

    of_car, plan, line = found.of_car, found.plan, found.of_car.line
    called = words.called(of_car.items)
    output.write(*(f"!! {not_kept(each, line, called)}" for each in plan.cannot))
    by_day: list[tuple[date, list[str]]] = []
    slug = found.today.car.vehicle.slug
    for each in found.waiting:
        day = each.on.isoformat()
        told = [f"booked for {day}, not told done: visit {slug} {day} --done, --move or --cancel"]
        by_day.append((each.on, told))
    moving = found.moving()
    for each in found.booked:
        here = [item for item in found.today.items if item.id in each.items]
        told = [words.head(each.on, "booked", len(here), found.hours[each.record])]
        by_day.append((each.on, [*told, *(f"  {words.title(item)}" for item in here)]))
    for visit in plan.visits:
        told = [words.head(visit.on, "proposed", len(visit.doings), visit.hours)]
        if call.flag("why"):
            told.extend(f"  {sentence}" for sentence in reasons(visit, line, called))
        else:
            told.extend(f"  {text}" for text in words.lines(visit, of_car))
        told.append(f"  {words.later_line(visit, of_car, moving, in_full=call.flag('why'))}")
        by_day.append((visit.on, told))
    for _, of_day in sorted(by_day, key=lambda pair: pair[0]):
        output.write(*of_day)
    if not by_day:
        output.write(f"nothing closes by {line.calendar.until.isoformat()}")
    output.write(*(f"not on {day.isoformat()}" for day in found.refused))
    if call.flag("why"):
        output.write(*(risk(each, called) for each in found.at_risk))
        if found.has_money:
            output.write(*words.cost_lines(plan, garage.settings.currency))
        else:
            output.write("no hourly_rate is set: an hour counts one, a visit as much as an hour")
    elif not plan.is_proved:
        output.write("there may be a better plan: --seconds N looks longer, --why tells how far")
    output.write(*words.left_out_lines(of_car, found.today.items))
    keys = dict.fromkeys(
        key
        for visit in plan.visits
        for each in visit.doings
        for key in of_car.items[each.item].rule.cautions
    )
    output.write(*(f"caution: {sentence}" for sentence in sentences(tuple(keys))), DEFERRING_LINE)


def _weeks(call: Call, garage: Garage, allowed: float, sooner: int) -> int:
    from time import monotonic

    from castlenut.command.every_day.cars import CarsAsked
    from castlenut.command.every_day.seconds import clock
    from castlenut.garage.weeks import ask_all, weeks_of

    end = monotonic() + allowed

    def may_go_on(cars: int) -> Callable[[], bool]:
        return clock((end - monotonic()) / cars)

    slugs = [slug for slug, record in CarsAsked(call, garage) if record.car.vehicle.sold_on is None]
    found = weeks_of(garage, ask_all(garage, slugs), may_go_on=may_go_on, days_sooner=sooner)
    if call.as_json:
        from castlenut.garage.visit_answers import weeks_answer

        output.write_json(weeks_answer(found))
        return output.FINE
    _write_weeks(found)
    return output.FINE


def _write_weeks(found: GarageWeeks) -> None:
    from castlenut.words import car_visits as words

    output.write(
        *(
            f"!! {slug}: {count} past the window, and no open day left inside it"
            for slug, count in found.cannot
        )
    )
    booked = found.booked_hours
    for week in found.load.weeks:
        cars = found.in_week(week.monday)
        if week.hours or cars:
            names = ", ".join(f"{each.slug} {each.on:%a}" for each in cars)
            output.write(
                f"{week.monday.isoformat()}  {words.bar(week, booked.get(week.monday, 0.0))}  "
                f"{week.hours:.1f} of {week.capacity:.1f} h  {names}"
            )
    output.write("# booked, = proposed, . free")
    for over in found.load.over:
        asked = [
            f"{found.visits[int(each)].slug} {found.visits[int(each)].on.isoformat()}"
            for each in over.visits
        ]
        output.write(f"over: {words.over_line(over, asked)}")
    for visit, placed in zip(found.visits, found.load.visits, strict=True):
        if placed.unplaced:
            day = found.fits_from(visit, placed)
            life = None if day is None else found.life_from(visit, day)
            output.write(
                f"does not fit: {visit.slug} on {visit.on.isoformat()}, {placed.unplaced:.1f} h; "
                f"{words.would_fit(day, life)}"
            )
    if found.unproved:
        output.write(f"not proved, --seconds N looks longer: {', '.join(found.unproved)}")


def _visit_arguments(parser: ArgumentParser) -> None:
    takes_vehicle(parser)
    parser.add_argument("on", metavar="DATE", help="the day: 2026-12-10, thursday, +2w")
    parser.add_argument("items", metavar="ITEM", nargs="*", help="what is to be done then")
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--move", metavar="DATE", help="to another day")
    what.add_argument("--cancel", action="store_true", help="call it off, or take a refusal back")
    what.add_argument("--refused", action="store_true", help="not that day: none is proposed then")
    what.add_argument("--done", action="store_true", help="its work is done: record the job")
    parser.add_argument("--hours", metavar="H", help="hours it takes, where they are agreed")
    parser.add_argument("--at", metavar="FIGURE", help="with --done: what the dial showed")
    takes_note(parser)
    gives_json(parser)


def _visit(call: Call) -> int:
    from castlenut.command.every_day.saving import save_and_tell
    from castlenut.garage.changes import visiting as changes
    from castlenut.words.cautions import DEFERRING_LINE, sentences

    _check_together(call)
    garage = call.garage()
    slug, on = garage.find(call.text("vehicle")), call.text("on")
    items, note = call.texts("items"), call.maybe("note")
    to = call.maybe("move")
    if to is not None:
        draft = changes.draft_moved(garage, slug, on, to)
    elif call.flag("cancel"):
        draft = changes.draft_canceled(garage, slug, on, why=note)
    elif call.flag("refused"):
        draft = changes.draft_refused(garage, slug, on, note=note)
    elif call.flag("done"):
        draft = changes.draft_done(garage, slug, on, items, at=call.maybe("at"), note=note)
    else:
        draft = changes.draft_visit(garage, slug, on, items, hours=call.maybe("hours"), note=note)
    save_and_tell(call, garage, draft)
    if not call.as_json and draft.cautions:
        told = sentences(draft.cautions)
        output.write(*(f"caution: {sentence}" for sentence in told), DEFERRING_LINE)
    return output.FINE


def _check_together(call: Call) -> None:
    """Refuse what has no meaning beside another option.

    Raises:
        BadInput: with every one of them.
    """
    from castlenut.domain.errors import BadInput, Fault

    changes_it = call.maybe("move") is not None or call.flag("cancel") or call.flag("refused")
    faults: list[Fault] = []
    if changes_it and call.texts("items"):
        faults.append(Fault("stands beside --move, --cancel or --refused", "ITEM", "leave it out"))
    if call.maybe("hours") is not None and (changes_it or call.flag("done")):
        faults.append(Fault("belongs to a booking", "--hours", "leave it out"))
    if call.maybe("at") is not None and not call.flag("done"):
        faults.append(Fault("belongs to --done", "--at", "add --done, or leave it out"))
    if faults:
        raise BadInput(*faults)


COMMANDS = (
    Command(
        "visits",
        group=CALENDAR_AND_PAPER,
        words="when a car comes in and what is done then; without a car the weeks of all",
        example="castlenut visits millrace --why",
        add_arguments=_visits_arguments,
        run=_visits,
    ),
    Command(
        "visit",
        group=CALENDAR_AND_PAPER,
        words="book a car in; move it, call it off, refuse a day, or record it as done",
        example="castlenut visit millrace 2026-12-10 u-bolts@rear",
        add_arguments=_visit_arguments,
        run=_visit,
    ),
)
