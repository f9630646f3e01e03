"""Invented cars and small rules for laws: every record lies on one line of days and distances."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from hypothesis import strategies as st

from castlenut.domain.car import Car
from castlenut.domain.component import Component
from castlenut.domain.frozen import replace
from castlenut.domain.happenings import Answer, Happening, Job, Raised, Statement
from castlenut.domain.ids import ItemId, RecordId, RuleId
from castlenut.domain.matching import matches
from castlenut.domain.odometer import Dial, Reading
from castlenut.domain.place import place as read_place
from castlenut.domain.rules.rule import (
    Act,
    Age,
    AgeFrom,
    Basis,
    Counting,
    EventPoint,
    Every,
    Intake,
    Margin,
    Rule,
    RuleBook,
)
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Exposure, Stay
from tests.builders import book, car, vehicle

LONG_DIAL = Dial(unit=Unit.MI, digits=7, tenths=False)
LEAD = Margin(percent=Fraction(10), cap_days=30, cap_distance=Fraction(500))
SMALL_RULES = ("small-1", "small-2")
EVENTS = ("weld", "paint")


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A day, and what the dial showed on it."""

    on: date
    at: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A car, its rules and a day. `line` has the days and figures its records lie on."""

    car: Car
    rules: tuple[Rule, ...]  # none: the shipped ones
    today: date
    line: tuple[Standing, ...]

    @property
    def book(self) -> RuleBook:
        return with_rules(*self.rules) if self.rules else book()


@st.composite
def lines(draw: st.DrawFn) -> tuple[Standing, ...]:
    """Days on which the car was seen, some months apart, the dial rising or standing still."""
    on, at = date(2021, 1, 1) + timedelta(days=draw(st.integers(0, 400))), 10_000
    line = [Standing(on=on, at=at)]
    for _ in range(draw(st.integers(1, 6))):
        days = draw(st.integers(1, 200))
        on, at = on + timedelta(days=days), at + days * draw(st.integers(0, 40))
        line.append(Standing(on=on, at=at))
    return tuple(line)


@st.composite
def small_rules(draw: st.DrawFn, name: str) -> Rule:
    """A rule on the engine. Its interval is longer than its points, as in every shipped one."""
    miles = draw(st.sampled_from([None, 4000, 6000, 24000]))
    months = draw(st.sampled_from([None, 1, 6, 18, 60]))
    days = draw(st.sampled_from([45, 400])) if months is None and draw(st.booleans()) else None
    every = (
        Every(distance=None if miles is None else Fraction(miles), months=months, days=days)
        if miles or months or days
        else None
    )
    first = draw(st.sampled_from([(), (0,), (500,), (300, 1000), (0, 500, 2000)]))
    after = draw(st.lists(st.tuples(st.sampled_from(EVENTS), st.sampled_from([0, 100, 500]))))
    return Rule(
        id=RuleId(name),
        title=f"engine, {name}",
        kinds=("engine",),
        part="Engine",
        every=every,
        first=tuple(Fraction(point) for point in first),
        also_after=tuple(EventPoint(event=event, at=Fraction(at)) for event, at in after),
        age=draw(st.sampled_from([None, Age(counted_from=AgeFrom.MADE, months=120, advise=72)])),
        exposure=draw(
            st.sampled_from(
                [{}, {"salt": Fraction(7, 10)}, {"salt": Fraction(1, 2), "dust": Fraction(3, 4)}]
            )
        ),
        lead=LEAD,
        tolerance=draw(st.sampled_from([Margin(percent=Fraction(0)), LEAD])),
        counting=draw(st.sampled_from(Counting)),
        intake=draw(
            st.sampled_from([None, Intake(rank=1, act=Act.RENEW), Intake(rank=3, act=Act.LOOK)])
        ),
        source="invented",
        basis=Basis.PRACTICE,
    )


def with_rules(*rules: Rule) -> RuleBook:
    """Give a book of these rules alone, beside the shipped tables."""
    return replace(
        book(),
        rules={rule.id: rule for rule in rules},
        kinds_of={rule.id: rule.kinds for rule in rules},
    )


def readings_of(line: Sequence[Standing], numbers: Sequence[int]) -> tuple[Reading, ...]:
    return tuple(
        Reading(
            record=RecordId(f"reading-{number}"),
            on=line[number].on,
            figure=Decimal(line[number].at),
            unit=Unit.MI,
        )
        for number in numbers
    )


@st.composite
def jobs(draw: st.DrawFn, line: Sequence[Standing], items: Sequence[ItemId]) -> tuple[Job, ...]:
    """Jobs on days of the line: some raise an event, some are by another shop."""
    found = []
    for number in range(draw(st.integers(0, 5))):
        seen = draw(st.sampled_from(line))
        done = draw(st.lists(st.sampled_from(items), min_size=1, max_size=3, unique=True))
        raised = draw(st.sampled_from([None, *EVENTS]))
        found.append(
            Job(
                record=RecordId(f"job-{number}"),
                on=seen.on,
                at=Decimal(seen.at),
                by=draw(st.sampled_from([None, "another shop (invented)"])),
                items=tuple(done),
                events=() if raised is None else (Raised(event=raised),),
            )
        )
    return tuple(found)


@st.composite
def exposures(draw: st.DrawFn, line: Sequence[Standing]) -> tuple[Exposure, ...]:
    found = []
    for name in draw(st.lists(st.sampled_from(["salt", "dust", "laid up"]), unique=True)):
        since = draw(st.sampled_from(line)).on
        until = draw(st.sampled_from([None, since + timedelta(days=40)]))
        found.append(
            Exposure(record=RecordId(f"exposure-{name}"), name=name, since=since, until=until)
        )
    return tuple(found)


@st.composite
def stays(draw: st.DrawFn, line: Sequence[Standing]) -> tuple[Stay, ...]:
    if draw(st.integers(0, 3)):
        return ()
    return (Stay(record=RecordId("stay"), since=draw(st.sampled_from(line)).on),)


@st.composite
def happenings(
    draw: st.DrawFn, line: Sequence[Standing], names: Sequence[str]
) -> tuple[Happening, ...]:
    found = []
    for number, name in enumerate(draw(st.lists(st.sampled_from(names), max_size=4))):
        seen = draw(st.sampled_from(line))
        found.append(
            Happening(
                record=RecordId(f"happening-{number}"), event=name, on=seen.on, at=Decimal(seen.at)
            )
        )
    return tuple(found)


@st.composite
def statements(draw: st.DrawFn, line: Sequence[Standing], kind: str) -> tuple[Statement, ...]:
    seen = draw(st.sampled_from(line))
    answer = draw(st.sampled_from([None, Answer.STATED, Answer.INSPECTED]))
    if answer is None:
        return ()
    return (
        Statement(
            record=RecordId("statement"),
            answer=answer,
            kind=kind,
            on=seen.on,
            at=draw(st.sampled_from([None, Decimal(seen.at)])),
            until=seen.on + timedelta(days=25) if answer is Answer.INSPECTED else None,
        ),
    )


@st.composite
def small_cases(draw: st.DrawFn) -> Case:
    """An engine under one or two small rules."""
    line = draw(lines())
    rules = tuple(draw(small_rules(name)) for name in SMALL_RULES[: draw(st.integers(1, 2))])
    fitted = draw(st.sampled_from([None, *line[:2]]))
    engine = Component(
        record=RecordId("engine"),
        kind="engine",
        on=None if fitted is None else fitted.on,
        at=None if fitted is None else Decimal(fitted.at),
        made=draw(st.sampled_from([None, date(2012, 5, 31)])),
    )
    items = [ItemId(rule=rule.id, component=engine.record) for rule in rules]
    return Case(
        car=car(
            engine,
            of=vehicle(dial=LONG_DIAL),
            readings=readings_of(line, range(len(line))),
            jobs=draw(jobs(line, items)),
            happenings=draw(happenings(line, EVENTS)),
            exposures=draw(exposures(line)),
            stays=draw(stays(line)),
            statements=draw(statements(line, "engine")),
        ),
        rules=rules,
        today=line[-1].on + timedelta(days=draw(st.integers(0, 300))),
        line=line,
    )


_PARTS: tuple[tuple[str, str, dict[str, str]], ...] = (
    ("engine", "", {"condition": "rebuilt"}),
    ("engine oil", "", {}),
    ("valve train", "", {"adjust": "manual"}),
    ("transmission", "", {}),
    ("axle", "rear", {"diff": "limited-slip"}),
    ("wheel", "LF", {"type": "disc"}),
    ("wheel bearing", "LF", {"service": "repackable"}),
    ("tire", "LF", {}),
    ("tire set", "", {}),
    ("brake hose", "L", {"material": "rubber"}),
    ("brake fluid", "", {"fluid": "DOT 4"}),
    ("brake shoe", "LR", {"friction": "drum", "lining": "bonded"}),
    ("spring", "rear", {"type": "leaf"}),
    ("coolant", "", {"type": "green"}),
    ("drain", "", {"area": "cowl"}),
    ("battery", "", {"volts": "6"}),
    ("fuel tank", "", {}),
    ("extinguisher", "", {"type": "dry chemical"}),
    ("seat belt", "L 1", {}),
    ("alignment", "", {}),
    ("vehicle", "", {}),
)

_HAPPENINGS = ("forded", "weld", "curb-hit", "suspension", "spring", "hub-off", "wheel-off")


@st.composite
def shipped_cases(draw: st.DrawFn) -> Case:
    """A car of several parts under the shipped rules."""
    line = draw(lines())
    parts = []
    for kind, where, attributes in draw(
        st.lists(st.sampled_from(_PARTS), min_size=1, max_size=5, unique_by=lambda part: part[0])
    ):
        fitted = draw(st.sampled_from([None, *line[:2]]))
        parts.append(
            Component(
                record=RecordId(f"part-{kind}"),
                kind=kind,
                place=read_place(where),
                on=None if fitted is None else fitted.on,
                at=None if fitted is None else Decimal(fitted.at),
                made=draw(st.sampled_from([None, date(2014, 8, 31)])),
                attributes=draw(st.sampled_from([attributes, {}])),
            )
        )
    bare = car(*parts, of=vehicle(dial=LONG_DIAL))
    today = line[-1].on + timedelta(days=draw(st.integers(0, 300)))
    items = [
        ItemId(rule=match.rule.id, component=match.component.record)
        for match in matches(bare, book(), today=today)
    ]
    return Case(
        car=replace(
            bare,
            readings=readings_of(line, range(len(line))),
            jobs=draw(jobs(line, items)) if items else (),
            happenings=draw(happenings(line, _HAPPENINGS)),
            exposures=draw(exposures(line)),
            stays=draw(stays(line)),
            statements=draw(statements(line, parts[0].kind)),
        ),
        rules=(),
        today=today,
        line=line,
    )


def cases() -> st.SearchStrategy[Case]:
    """Small rules made as values, or the shipped ones."""
    return st.one_of(small_cases(), shipped_cases())
