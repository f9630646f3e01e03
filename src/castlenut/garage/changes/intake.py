"""Taking a car on with no history: a line an answer, for a kind of part or one item; and ticks."""

from collections.abc import Iterable, Mapping, Sequence
from functools import partial

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import replace
from castlenut.domain.happenings import Answer, Statement
from castlenut.domain.ids import RecordId, RuleId
from castlenut.domain.intake import Asked, Progress, progress
from castlenut.domain.item import Item
from castlenut.domain.naming import choose, find_items
from castlenut.domain.place import Place, lies_in, place
from castlenut.domain.rules.rule import KindOfPart, RuleBook
from castlenut.domain.ticks import TICKS, Tick, attributes_ticked, tick_named, ticked_away
from castlenut.domain.vehicle import Drive, Use, Vehicle
from castlenut.garage.changes.fitting import Fitting, add_component
from castlenut.garage.changes.intake_lines import Line, answer_in, answer_values, parted
from castlenut.garage.changes.placing import find_kind, read_places
from castlenut.garage.drafting import DialThen, Drafting
from castlenut.garage.drafts import Draft
from castlenut.garage.garage import Garage
from castlenut.store.values import Value

_USE_WORDS = 2
_ASKED_USE = (
    "how is the car used: daily, seasonal, occasional or stored? a line use WORD says so; it may"
    " stay open"
)
_NOBODY_KNOWS = Fitting(on=None, then=DialThen(at=None, is_estimated=False), job=None)


def draft_intake(garage: Garage, slug: str, lines: Iterable[str]) -> Draft:
    """Record what is known of a car at intake, all good lines as one change.

    A line is `KIND PLACE stated ON AT`, `... inspected UNTIL`, `... unknown` or `... n/a WHY`. KIND
    may be two words or another word for it, or an item; PLACE `-` is no place. A kind that is
    answered and not on the record becomes a part fitted nobody knows when, unless it does not
    apply. A line `tick NAME WORD` says how the car is built, which decides what is asked for; `rest
    PAGE unknown` (or stated) answers all that is left, of one page or of all. A line `use daily`
    (seasonal, occasional, stored) tells how the car is used; as long as nobody has, it is asked
    for. Bad lines are in the draft's `faults` with their numbers.
    """
    taking = _Taking(Drafting(garage, slug))
    bad: list[Fault] = []
    count = 0
    for line_number, line in enumerate(lines, start=1):
        text = line.strip()
        if not text or text.startswith("#"):
            continue
        try:
            taking.take(text)
            count += 1
        except BadInput as refused:
            bad.extend(
                replace(each, where=f"line {line_number}, {each.where}") for each in refused.faults
            )
    draft = taking.new.draft(f"intake: {count} answered")
    asked = () if taking.vehicle.use is not None else (_ASKED_USE,)
    return replace(draft, faults=tuple(bad), told=(*draft.told, *map(str, bad), *asked))


def intake_of(garage: Garage, slug: str) -> Progress:
    """Give how far the intake of a car is.

    Raises:
        CannotRead: its file cannot be read.
    """
    return progress(garage.car(slug).car, garage.book, today=garage.today_date)


def tick_line(tick: Tick, word: str) -> str:
    """Give the line that ticks one choice."""
    return f"tick {tick.name} {word}"


class _Taking:
    """The lines taken so far: the car as they tell it is built, and the parts they put on it."""

    def __init__(self, new: Drafting) -> None:
        self.new = new
        self.vehicle: Vehicle = new.car.vehicle
        self._fitted = {
            (part.kind, part.place_on(new.today)): None for part in new.car.fitted(new.today)
        }
        self._said: tuple[Statement, ...] = ()

    def take(self, text: str) -> None:
        """Take one line whole, or nothing of it.

        Raises:
            BadInput: with the faults of the line.
        """
        before = dict(self._fitted), self._said, self.vehicle
        match text.split():
            case ["use", *words] if len(words) < _USE_WORDS:
                take = partial(self._tell_use, words)
            case ["tick", *words]:
                take = partial(self._tick, words)
            case ["rest", *_]:
                take = partial(self._answer_rest, text)
            case _:
                take = partial(self._answer, text)
        try:
            self.new.whole(take)
        except BadInput:
            self._fitted, self._said, self.vehicle = before
            raise

    # -- what the car is -----------------------------------------------------------------------

    def _tell_use(self, words: Sequence[str]) -> None:
        use = choose(words[0] if words else "", [each.value for each in Use], what="use")
        self.new.amend("vehicle", self.vehicle.record, {"use": use})
        self.vehicle = replace(self.vehicle, use=Use(use))

    def _tick(self, words: Sequence[str]) -> None:
        tick, rest = _tick_meant(words)
        word = choose(rest, [each.word for each in tick.choices], what=tick.name)
        if tick.name == "drive":
            self.vehicle = replace(self.vehicle, drive=Drive(word))
            self.new.amend("vehicle", self.vehicle.record, {"drive": word})
        elif tick.is_of_vehicle:
            self.vehicle = replace(self.vehicle, dual=word == "yes")
            self.new.amend("vehicle", self.vehicle.record, {"dual": self.vehicle.dual})
        else:
            ticks = {**self.vehicle.ticks, tick.name: word}
            self.vehicle = replace(self.vehicle, ticks=ticks)
            self.new.amend("vehicle", self.vehicle.record, {"ticks": dict[str, Value](ticks)})

    # -- what is known of it -------------------------------------------------------------------

    def _answer_rest(self, text: str) -> None:
        """Answer all that is left the same way, of one page or of all."""
        head, answer, rest = answer_in(text)
        if answer not in {Answer.UNKNOWN, Answer.STATED}:
            raise BadInput(
                Fault(f"{answer.value} is said of one kind at a time", "rest", "name the kind")
            )
        values = answer_values(self.new, answer, rest)
        book = self.new.garage.book
        page = None
        if len(head) > 1:
            pages = dict.fromkeys(kind.part for kind in book.kinds.values())
            page = choose(" ".join(head[1:]), pages, what="page")
        for each in self.left():
            if page is None or each.kind.part == page:
                for at in each.places(dual=self.vehicle.dual):
                    self._put(each.kind, at, answer, values)

    def left(self) -> Sequence[Asked]:
        """Give what is asked for and has no answer yet, the lines before taken in."""
        car = self.new.car
        so_far = replace(car, vehicle=self.vehicle, statements=(*car.statements, *self._said))
        return progress(so_far, self.new.garage.book, today=self.new.today).left

    def _answer(self, text: str) -> None:
        book = self.new.garage.book
        line = parted(text, book)
        values = answer_values(self.new, line.answer, line.rest)
        if (items := _items(self.new, line, book)) is not None:
            for item in items:
                self.new.add("statement", {"item": str(item.id), **_placed(item.place), **values})
            return
        of = book.kinds[find_kind(line.about, book)]
        is_everywhere = line.places == "-" and line.answer is Answer.NOT_APPLICABLE
        dual = self.vehicle.dual
        standing = (None,) if is_everywhere else read_places(line.places, of, dual=dual)
        for at in standing:
            self._put(of, at, line.answer, values)

    def _put(
        self, of: KindOfPart, at: Place | None, answer: Answer, values: Mapping[str, Value]
    ) -> None:
        record = self.new.add("statement", {"kind": of.name, **_placed(at), **values})
        said = Statement(record=RecordId(record), answer=answer, kind=of.name, place=at)
        self._said = (*self._said, said)
        if answer is Answer.NOT_APPLICABLE or self._is_there(of.name, at):
            return
        self._refuse_what_cannot_be(of, at)
        attributes = dict[str, Value](attributes_ticked(self.vehicle, of.name))
        add_component(self.new, of, at, {"attributes": attributes or None}, _NOBODY_KNOWS)
        self._fitted[of.name, at] = None

    def _is_there(self, kind: str, at: Place | None) -> bool:
        return any(
            name == kind and (at is None or lies_in(there, at)) for name, there in self._fitted
        )

    def _refuse_what_cannot_be(self, of: KindOfPart, at: Place | None) -> None:
        """Refuse a part that was ticked away, or that one on the car excludes at its place.

        Raises:
            BadInput: with one sentence.
        """
        kinds = self.new.garage.book.kinds
        here = _named(of.name, at)
        for name, there in self._fitted:
            other = kinds.get(name)
            excludes = name in of.excludes or (other is not None and of.name in other.excludes)
            if excludes and (lies_in(there, at) or lies_in(at, there)):
                raise BadInput(
                    Fault(
                        f"{here} and {_named(name, there)} exclude each other",
                        "kind",
                        "answer the one it has; castlenut remove takes off the other",
                    )
                )
        away = ticked_away(self.vehicle, of.name, at)
        if away is not None:
            tick, choice = away
            raise BadInput(
                Fault(
                    f"a car with {tick.words} {choice.word} has no {here}",
                    "kind",
                    f"leave it out, or tick anew: tick {tick.name}"
                    f" {' or '.join(each.word for each in tick.choices if each is not choice)}",
                )
            )


def _tick_meant(words: Sequence[str]) -> tuple[Tick, str]:
    """Give the tick that the first words name, and the words behind them.

    Raises:
        BadInput: they name none.
    """
    for length in (2, 1):
        tick = tick_named(" ".join(words[:length]).lower())
        if tick is not None:
            return tick, " ".join(words[length:])
    name = choose(words[0] if words else "", [each.name for each in TICKS], what="tick")
    return next(each for each in TICKS if each.name == name), " ".join(words[1:])


def _named(kind: str, at: Place | None) -> str:
    return kind if at is None else f"{kind} {at}"


def _items(new: Drafting, line: Line, book: RuleBook) -> Sequence[Item] | None:
    """Give the items that a line names by their rule; None: it names a kind.

    A kind's own name goes before a rule of the same name, and the rule's id, written as it stands,
    before another way to write the kind.
    """
    rule = RuleId(line.about.partition("@")[0].partition("~")[0])
    if line.about.lower() in book.kinds or rule not in book.rules:
        return None
    if all(item.id.rule != rule for item in new.items.items) and rule == line.about:
        return None
    found = find_items(line.about, new.items.items)
    if line.places == "-":
        return found
    wanted = [place(each.strip()) for each in line.places.split(",")]
    here = [item for item in found if any(lies_in(item.place, each) for each in wanted)]
    if not here:
        raise BadInput(
            Fault(f"{rule} has no item at {line.places}", "place", "name a place it has")
        )
    return here


def _placed(at: Place | None) -> Mapping[str, Value]:
    return {} if at is None else {"place": str(at)}
