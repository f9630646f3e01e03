"""A car's visits and the garage's weeks in words: a list by date first, figures one key deeper."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal

from castlenut.domain.item import Item
from castlenut.domain.visits.moving import Moving
from castlenut.domain.visits.of_car import Left, OfCar
from castlenut.domain.visits.open_days import OpenDays
from castlenut.domain.visits.plan import Doing, Plan, Visit
from castlenut.domain.visits.weeks import Over, Week
from castlenut.words import figures
from castlenut.words.apart import again
from castlenut.words.listing import titled
from castlenut.words.visits import money

PROVED = "no other days cost less"
_NO_TOLD = frozenset({Left.OWN_CHECK, Left.COVERED, Left.BOOKED})
"""Left out as it should be: nobody has to do anything about it."""
_BAR = 20
_LEAST = 0.005


def called(items: Mapping[str, Item]) -> Mapping[str, str]:
    """Give how each item is called in a sentence: its title, and where."""
    return {name: title(item) for name, item in items.items()}


def title(item: Item) -> str:
    """Give an item's title with its place: `wheel bearings, repack, LF`."""
    return titled(item.rule.title, str(item.place) if item.place is not None else "")


def head(on: date, state: str, jobs: int, hours: float) -> str:
    """Give the line of a visit: `Thu 2026-12-10  proposed  3 jobs, 4.3 h`."""
    told = figures.count(jobs, "job") if jobs else "whatever is due then"
    took = f", {hours:.1f} h" if hours else ""
    return f"{on:%a} {on.isoformat()}  {state}  {told}{took}"


def lines(visit: Visit, of_car: OfCar) -> Iterator[str]:
    """Give what is done in a visit in plain words, things alike on one line."""
    alike: dict[tuple[str, str], list[Item]] = {}
    for doing in sorted(visit.doings, key=lambda each: each.closes_on):
        item = of_car.items[doing.item]
        alike.setdefault((item.rule.title, plainly(doing, visit, of_car)), []).append(item)
    for (name, words), items in alike.items():
        places = " ".join(str(item.place) for item in items if item.place is not None)
        yield f"{titled(name, places)}: {words}"


def plainly(doing: Doing, visit: Visit, of_car: OfCar) -> str:
    """Say why an item is done then, without money: `done 56 days early; saves a visit`."""
    closes, on = doing.closes_on, visit.on
    if not doing.occurrence.is_kept:
        return f"past its window since {closes.isoformat()}; the first open day"
    if on > closes:
        return f"{figures.count((on - closes).days, 'day')} late"
    if on == closes:
        return "its window closes that day"
    last = date.fromordinal(doing.occurrence.last)
    if last == on:
        return f"closes {closes:%a} {closes.isoformat()}; the last open day before it"
    due = date.fromordinal(doing.occurrence.due)
    if due <= on:
        return f"due; its window closes {closes.isoformat()}"
    return f"done {figures.count((due - on).days, 'day')} early; {_saves(doing, visit, of_car)}"


def _saves(doing: Doing, visit: Visit, of_car: OfCar) -> str:
    needs = {item.id: frozenset(item.access) for item in of_car.line.items}
    others: set[str] = set()
    for each in visit.doings:
        if each.item != doing.item:
            others |= needs[each.item]
    access = of_car.line.access
    shared = {name.split(" ")[0] for name in needs[doing.item] & others if access[name].hours}
    return again(tuple(shared)) if shared else "saves a visit"


def if_later(visit: Visit, days: int) -> tuple[Doing, ...]:
    """Give what goes past its window if a visit is so many days later."""
    day = visit.on + timedelta(days=days)
    return tuple(each for each in visit.doings if each.occurrence.is_kept and each.closes_on < day)


def later_line(visit: Visit, of_car: OfCar, moving: Moving, *, in_full: bool) -> str:
    """Say what changes if the owner comes a week later; `in_full`: with the life that saves."""
    late = if_later(visit, 7)
    told = "a week later: nothing goes past its window"
    if late:
        first = min(late, key=lambda each: each.closes_on)
        more = f" and {len(late) - 1} more" if len(late) > 1 else ""
        told = (
            f"a week later: {title(of_car.items[first.item])}{more} past the window, from "
            f"{first.closes_on.isoformat()}"
        )
    day = visit.on + timedelta(days=7)
    if not OpenDays(of_car.line.calendar).is_open(day.toordinal()):
        told += f"; {day:%a} {day.isoformat()} is closed"
    return f"{told}; {life_words(moving.life_on(visit, day))}" if in_full else told


def life_words(life: float) -> str:
    """Say what another day gives up more or less."""
    if abs(life) < _LEAST:
        return "no more of life given up"
    return f"{money(abs(life))} {'more' if life > 0 else 'less'} of life given up"


def cost_lines(plan: Plan, currency: str) -> Iterator[str]:
    """Give what the plan costs, split up, and how good it is known to be."""
    cost = plan.cost
    yield (
        f"visits {money(cost.visits)}, opening {money(cost.access)}, life given up "
        f"{money(cost.life)}{f', late {money(cost.late)}' if cost.late else ''}: "
        f"{figures.in_currency(Decimal(cost.total), currency)}"
    )
    if plan.is_proved:
        yield f"proved: {PROVED}"
    else:
        yield (
            f"not proved: at most {100 * plan.gap:.1f} % dearer than the best possible "
            f"(none costs less than {money(plan.bound)})"
        )


def left_out_lines(of_car: OfCar, items: Sequence[Item]) -> Iterator[str]:
    """Give what is not in the plan and should be known of, counted by reason."""
    counts: dict[Left, int] = {}
    for item in items:
        reason = of_car.left_out.get(item.id)
        if reason is not None and reason not in _NO_TOLD:
            counts[reason] = counts.get(reason, 0) + 1
    for reason, count in counts.items():
        yield f"not planned: {figures.count(count, 'item')}, {reason.value}"
    if of_car.without_distance:
        yield (
            f"{figures.count(len(of_car.without_distance), 'item')} by date only: nothing is known "
            "of the distance"
        )


def bar(week: Week, booked: float, over: float = 0.0) -> str:
    """Draw a week: `#` booked, `=` proposed, `.` free; at its end `+` where hours do not fit."""
    if not week.capacity:
        return "closed".ljust(_BAR)
    full = min(_BAR, round(_BAR * week.hours / week.capacity))
    of_booked = min(full, round(_BAR * booked / week.capacity))
    drawn = ("#" * of_booked + "=" * (full - of_booked)).ljust(_BAR, ".")
    return f"{drawn[:-1]}+" if over else drawn


def over_line(over: Over, names: Sequence[str]) -> str:
    """Say which hours are missing when, for which visits."""
    return (
        f"{over.from_on.isoformat()} to {over.by_on.isoformat()}: {over.hours:.1f} h asked of "
        f"{over.capacity:.1f}, {over.short:.1f} h too many: {', '.join(names)}"
    )


def would_fit(day: date | None, life: float | None = None) -> str:
    """Say what would make a visit fit; `life`: what the earlier day gives up, None is not known."""
    if day is None:
        return "take it to a later day, or open longer then"
    cost = f", giving up {money(life)} of life" if life is not None and life >= _LEAST else ""
    return f"it would if it came in on {day:%a} {day.isoformat()}{cost}, or if you opened longer"
