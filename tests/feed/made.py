"""Items, cars and a garage for the feed's tests: invented, put together without reckoning."""

from collections.abc import Sequence
from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction
from uuid import UUID

from castlenut.domain.car import Car
from castlenut.domain.component import Component
from castlenut.domain.dial import Dial
from castlenut.domain.due import CarToday
from castlenut.domain.happenings import Statement
from castlenut.domain.ids import ItemId, RecordId, RuleId, VehicleId
from castlenut.domain.item import Baseline, Item, ShownWindow
from castlenut.domain.odometer import odometer
from castlenut.domain.place import place as read_place
from castlenut.domain.rules.rule import Basis, Margin, Rule
from castlenut.domain.units import Shown, Unit
from castlenut.domain.use.estimate import DateBand
from castlenut.domain.use.forecast import Owner, forecast
from castlenut.domain.vehicle import Exposure, Vehicle
from castlenut.domain.window import Window
from castlenut.domain.working import Anchored, Binds, Counted, From, State, Step
from castlenut.feed.event import Alarms, GarageFacts
from castlenut.feed.feeds import GARAGE_FEED, Feed
from castlenut.feed.ledger import Ledger
from castlenut.feed.publish import Published, publish

KM = Dial(unit=Unit.KM, digits=6, tenths=False)
GARAGE_ID = UUID("0e1e6c1e-5c1f-7d40-9a11-3b1f5e0a7c55")
MONDAY = date(2026, 11, 23)
NOW = datetime(2026, 11, 25, 13, 17, 5, tzinfo=UTC)
FACTS = GarageFacts(
    id=GARAGE_ID, name="Penmarrow Garage", address="3 Quay Lane", telephone="555 0142"
)
VEHICLE_ID = VehicleId("11111111-1111-7111-8111-111111111111")


def day(text: str) -> date:
    return date.fromisoformat(text)


def rule(
    id_: str = "hub-repack",
    title: str = "wheel bearings, repack",
    *,
    part: str = "Wheel bearings",
    tolerance: int = 10,
    own: bool = False,
    check: str | None = None,
    storage: bool = False,
    cautions: Sequence[str] = (),
    danger: int = 2,
    source: str = "common practice, no source",
) -> Rule:
    return Rule(
        id=RuleId(id_),
        title=title,
        kinds=("wheel bearing",),
        part=part,
        danger=danger,
        lead=Margin(percent=Fraction(10)),
        tolerance=Margin(percent=Fraction(tolerance)),
        access=("own",) if own else ("hub",),
        check=check,
        cautions=tuple(cautions),
        counted_from_layup=storage,
        source=source,
        basis=Basis.PRACTICE,
    )


def item(
    on: str | None,
    *,
    of: Rule | None = None,
    where: str = "",
    base: str | None = "job-1",
    base_on: str | None = "2026-06-12",
    binds: Binds = Binds.DATE,
    state: State = State.AHEAD,
    reckoned: State | None = None,
    months: int | None = 24,
    steps: Sequence[Step] = (),
    due_on: str | None = None,
    part: str | None = None,
    how: From = From.DONE,
) -> Item:
    """Give an item that falls due on a day; by a date side that is its due date."""
    this = of or rule()
    natural = None if on is None else day(on)
    is_by_date = binds not in {Binds.DISTANCE, Binds.MEASUREMENT}
    record = RecordId(f"part-{this.id}-{where}")
    working: list[Step] = []
    if base is not None:
        working.append(
            Anchored(
                how=how,
                record=RecordId(base),
                on=None if base_on is None else day(base_on),
                at=Shown(Decimal(74500)),
            )
        )
    working.append(Counted(rule=this.id, distance=None, months=months, days=None))
    working.extend(steps)
    return Item(
        id=ItemId(rule=this.id, component=record),
        rule=this,
        component=Component(record=record, kind="wheel bearing", place=None, part=part),
        place=read_place(where),
        state=state,
        may_be=None,
        due_on=day(due_on) if due_on else natural if is_by_date else None,
        due_at=None,
        window=Window(),
        shown=ShownWindow(due_at=None, opens_at=None, closes_at=None),
        binds=binds,
        expected=DateBand(p10=natural, p50=natural, p90=natural),
        baseline=None
        if base is None
        else Baseline(
            record=RecordId(base),
            how=how,
            on=None if base_on is None else day(base_on),
            at=Shown(Decimal(74500)),
        ),
        days_left=None,
        distance_left=None,
        rank=None,
        before_it_rolls=False,
        declined=None,
        reckoned=reckoned or state,
        working=tuple(working),
    )


def no_record(*, of: Rule | None = None, where: str = "") -> Item:
    return item(None, of=of, where=where, base=None, state=State.NO_RECORD)


def car(
    *items: Item,
    id_: str = VEHICLE_ID,
    name: str = "Blue wagon",
    owner: str | None = "Ada Fennimore",
    on: date = MONDAY,
    sold_on: date | None = None,
    exposures: Sequence[Exposure] = (),
    statements: Sequence[Statement] = (),
    components: Sequence[Component] = (),
) -> CarToday:
    vehicle = Vehicle(
        record=RecordId("vehicle"),
        slug="blue-wagon",
        description=name,
        dial=KM,
        owner=owner,
        sold_on=sold_on,
    )
    dial = odometer(KM, (), ())
    return CarToday(
        car=Car(
            id=VehicleId(id_),
            vehicle=vehicle,
            components=tuple(components),
            exposures=tuple(exposures),
            statements=tuple(statements),
        ),
        today=on,
        odometer=dial,
        use=forecast(dial, today=on, owner=Owner()),
        items=items,
    )


def published(
    *cars: CarToday,
    feed: Feed = GARAGE_FEED,
    ledger: Ledger | None = None,
    facts: GarageFacts = FACTS,
    monday: date = MONDAY,
    now: datetime = NOW,
    readable: frozenset[str] | None = None,
    on_disk: str | None = None,
) -> Published:
    return publish(
        feed,
        cars,
        facts,
        ledger or Ledger(),
        monday=monday,
        now=now,
        readable=readable,
        on_disk=on_disk,
    )


def with_alarms(alarms: Alarms) -> GarageFacts:
    return GarageFacts(id=GARAGE_ID, name="Penmarrow Garage", alarms=alarms)
