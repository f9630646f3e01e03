"""The events of one feed's cars, settled in the ledger."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime

from castlenut.domain.due import CarToday
from castlenut.domain.frozen import dataclass
from castlenut.domain.ids import ItemId
from castlenut.domain.working import State
from castlenut.feed.candidate import Candidate, Kind, Scope
from castlenut.feed.event import (
    GarageFacts,
    Occurrence,
    cleaned,
    contact_lines,
    item_candidate,
    natural_day,
    occurrences,
    short_name,
)
from castlenut.feed.feeds import LONGEST_VIEW, Feed, FeedKind, end_of_view
from castlenut.feed.ledger import Entry, Ledger, settle
from castlenut.feed.open_work import CATEGORY as OPEN_WORK
from castlenut.feed.open_work import OpenOccurrence, open_work_candidate, unrecorded
from castlenut.feed.own_checks import own_check_candidates
from castlenut.feed.uid import GARAGE_SUBJECT, Audience, empty_uid, item_uid, open_work_uid
from castlenut.feed.visits import booked_items, visit_candidates
from castlenut.feed.week import ITEMS_BACK, OWN_CHECKS_BACK, VISITS_BACK

_BACK = {
    Kind.ITEM: ITEMS_BACK,
    Kind.VISIT: VISITS_BACK,
    Kind.OWN_CHECKS: OWN_CHECKS_BACK,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Settling:
    """One feed in one week. `now` is what changed events are stamped with."""

    feed: Feed
    facts: GarageFacts
    monday: date
    now: datetime

    def settled(
        self, cars: Sequence[CarToday], ledger: Ledger, *, unread: Sequence[str] = ()
    ) -> Ledger:
        """Settle all events of the feed but the one that says that there is none.

        `unread` has the short names of its cars that cannot be read: their events stay.
        """
        opened: list[OpenOccurrence] = []
        shows_items = False
        is_garage = self.feed.kind is FeedKind.GARAGE
        for car in cars:
            booked = booked_items(car, self.monday)
            of_car = occurrences(car, among=lambda item, booked=booked: item.id not in booked)  # type: ignore[misc] # bound now
            ledger = self._with_items(car, of_car, ledger)
            ledger = self._with_visits(car, ledger)
            if self.feed.audience is Audience.OWNER:
                ledger = self._with_own_checks(car, ledger)
            of_this = (
                *self._opened(car, of_car, ledger),
                *self._opened_and_booked(car, booked),
            )
            is_shown = self._shows_items(car.car.id, ledger)
            if not is_garage:
                # A car of which nothing has a day must not look as if nothing were to do.
                no_record = 0 if is_shown and not of_this else unrecorded(car)
                ledger = self._with_open_work(
                    of_this,
                    no_record,
                    ledger,
                    name=short_name(car.car.vehicle),
                    subject=car.car.id,
                    as_of=car.today,
                )
            opened.extend(of_this)
            shows_items = shows_items or is_shown
        if not is_garage:
            return ledger
        no_record = 0 if shows_items and not opened else sum(unrecorded(car) for car in cars)
        return self._with_open_work(
            opened,
            no_record,
            ledger,
            name=None,
            subject=GARAGE_SUBJECT,
            as_of=self.latest(cars),
            unread=unread,
        )

    def without_others(self, cars: Sequence[CarToday], ledger: Ledger) -> Ledger:
        """Take leave of vehicles that are no longer in the garage, in every feed they were in."""
        here = {GARAGE_SUBJECT, *(car.car.id for car in cars)}
        gone = {
            entry.scope
            for entry in ledger.events.values()
            if entry.gone_on is None
            and entry.scope.kind is not Kind.EMPTY
            and entry.scope.subject not in here
        }
        for scope in gone:
            ledger = self._settle((), ledger, scope=scope, as_of=self.latest(cars))
        return ledger

    def with_empty(self, cars: Sequence[CarToday], ledger: Ledger, *, is_empty: bool) -> Ledger:
        """Settle the event that stands in a feed that has nothing to show, since one is needed."""
        uid = empty_uid(self.facts.id, self.feed.id)
        before = ledger.events.get(uid)
        since = before.start if before and before.gone_on is None else self.latest(cars)
        candidate = Candidate(
            uid=uid,
            on=since,
            is_exact=True,
            summary="Nothing due",
            category=OPEN_WORK,
            before=("Nothing falls due in the time that this calendar shows.", *self._contact),
        )
        return self._settle(
            (candidate,) if is_empty else (),
            ledger,
            scope=self.scope(Kind.EMPTY, self.feed.id),
            as_of=self.latest(cars),
        )

    def latest(self, cars: Sequence[CarToday]) -> date:
        """Give the latest day that a car of the feed is reckoned for."""
        return max((car.today for car in cars), default=self.monday)

    def scope(self, kind: Kind, subject: str) -> Scope:
        """Give a scope of this feed's audience."""
        return Scope(kind=kind, audience=self.feed.audience.value, subject=subject)

    def is_in_view(self, entry: Entry) -> bool:
        """Tell whether the feed looks as far ahead or back as an event."""
        if entry.scope.kind in {Kind.OPEN_WORK, Kind.EMPTY}:
            return True
        back = _BACK[entry.scope.kind]
        return self.monday - back <= entry.start <= self.feed.until(self.monday)

    @property
    def _contact(self) -> tuple[str, ...]:
        if self.feed.audience is Audience.GARAGE:
            return ()
        return cleaned(contact_lines(self.facts))

    def _settle(
        self, candidates: Iterable[Candidate], ledger: Ledger, *, scope: Scope, as_of: date
    ) -> Ledger:
        # The garage's feed and the vehicle's share their events, so the longer view is settled.
        until = end_of_view(self.monday, LONGEST_VIEW)
        return settle(candidates, ledger, scope=scope, as_of=as_of, now=self.now, until=until)

    def _with_items(self, car: CarToday, of_car: Sequence[Occurrence], ledger: Ledger) -> Ledger:
        candidates = (
            item_candidate(each, car.car.vehicle, self.feed.audience, self.facts) for each in of_car
        )
        return self._settle(
            (each for each in candidates if each is not None),
            ledger,
            scope=self.scope(Kind.ITEM, car.car.id),
            as_of=car.today,
        )

    def _with_visits(self, car: CarToday, ledger: Ledger) -> Ledger:
        return self._settle(
            visit_candidates(car, self.feed.audience, self.facts, monday=self.monday),
            ledger,
            scope=self.scope(Kind.VISIT, car.car.id),
            as_of=car.today,
        )

    def _opened_and_booked(
        self, car: CarToday, booked: Mapping[ItemId, date]
    ) -> Iterator[OpenOccurrence]:
        """Give what is open from before this week and stands in a visit: it has no event."""
        for each in occurrences(car, among=lambda item: item.id in booked):
            day = natural_day(each.lead)
            if each.state is not State.AHEAD and day is not None and day < self.monday:
                yield OpenOccurrence(
                    name=short_name(car.car.vehicle),
                    occurrence=each,
                    published=day,
                    visit=min(booked[item.id] for item in each.items),
                )

    def _with_own_checks(self, car: CarToday, ledger: Ledger) -> Ledger:
        return self._settle(
            own_check_candidates(
                car, self.facts, monday=self.monday, until=self.feed.until(self.monday)
            ),
            ledger,
            scope=self.scope(Kind.OWN_CHECKS, car.car.id),
            as_of=car.today,
        )

    def _opened(
        self, car: CarToday, of_car: Sequence[Occurrence], ledger: Ledger
    ) -> Iterator[OpenOccurrence]:
        for each in of_car:
            uid = item_uid(
                self.facts.id, self.feed.audience, each.vehicle, each.rule, each.baseline
            )
            entry = ledger.events.get(uid)
            if (
                each.state is not State.AHEAD
                and entry is not None
                and entry.gone_on is None
                and entry.start < self.monday
            ):
                yield OpenOccurrence(
                    name=short_name(car.car.vehicle), occurrence=each, published=entry.start
                )

    def _shows_items(self, vehicle: str, ledger: Ledger) -> bool:
        standing = ledger.standing(self.scope(Kind.ITEM, vehicle))
        return any(self.is_in_view(entry) for entry in standing.values())

    def _with_open_work(
        self,
        opened: Sequence[OpenOccurrence],
        no_record: int,
        ledger: Ledger,
        *,
        name: str | None,
        subject: str,
        as_of: date,
        unread: Sequence[str] = (),
    ) -> Ledger:
        candidates: tuple[Candidate, ...] = ()
        scope = self.scope(Kind.OPEN_WORK, subject)
        if opened or no_record or (unread and ledger.standing(scope)):
            uid = open_work_uid(self.facts.id, self.feed.audience, subject)
            candidate = open_work_candidate(
                uid,
                opened,
                no_record,
                name=name,
                monday=self.monday,
                contact=self._contact,
                unread=unread,
            )
            candidates = (candidate,)
        return self._settle(candidates, ledger, scope=scope, as_of=as_of)
