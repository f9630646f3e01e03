"""A rule as a value: what is to be done to which kind of component, and when it falls due."""

from collections.abc import Container, Iterator, Mapping
from enum import Enum
from fractions import Fraction

from castlenut.domain.frozen import dataclass, field
from castlenut.domain.ids import RuleId
from castlenut.domain.place import Place
from castlenut.domain.units import Unit

UNKNOWN = "unknown"
"""Among the values of a condition: an attribute nobody recorded satisfies it; the item says so."""


OWN_ACCESS = "own"
"""The access of what the owner does himself, at home."""


class Counting(Enum):
    """What the next point is counted from, once a job is done inside the window."""

    DONE = "done"
    SCHEDULE = "schedule"


class AgeFrom(Enum):
    """What an age is counted from, or runs to."""

    MADE = "made"  # where a date of make is known, else from fitted, said so
    FITTED = "fitted"
    LABEL = "label"  # 31 December of the year on the label


class Basis(Enum):
    """How far to trust a figure."""

    READ = "R"
    RESTATED = "R2"
    MEMORY = "M"
    PRACTICE = "P"
    COMPUTED = "C"


class Act(Enum):
    """What ends "no record" of an item."""

    RENEW = "renew"  # do it, renew it, or give a stated date
    LOOK = "look"  # a look that finds it fine will do, until the date given
    ASK = "ask"  # papers, or the previous keeper


class Per(Enum):
    """What the hours of a rule are counted by."""

    CAR = "car"
    WHEEL = "wheel"
    AXLE = "axle"
    SIDE = "side"


class Bound(Enum):
    """Which side of a limit a sound value lies on."""

    AT_LEAST = "at_least"
    AT_MOST = "at_most"


class Figure(Enum):
    """A limit that the rule does not hold itself."""

    SPEC = "spec"  # the car's own figure
    STAMPED = "stamped"  # stamped or cast on the part
    TABLE = "table"  # a published table, by another figure of the car (1.01, 1.04)


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """One attribute that must have one of some values, or none of them.

    `attribute` is one of the component, or of the vehicle (drive, dual, exposure, kept_at, use).
    A `negated` condition holds where the attribute is not known; a plain one only if UNKNOWN is
    among its values.
    """

    attribute: str
    values: tuple[str, ...]
    negated: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """Which components a rule, a limit or an event point applies to. All parts must hold.

    A year not known satisfies `year_to` (the older car's row is the stricter) and not `year_from`;
    a weight not known satisfies no `weight_over_lb`. `any_of`: at least one of these must hold too;
    empty asks nothing.
    """

    conditions: tuple[Condition, ...] = ()
    any_of: tuple["Where", ...] = ()
    places: tuple[Place, ...] = ()
    year_from: int | None = None
    year_to: int | None = None
    weight_over_lb: int | None = None


ANYWHERE = Where()


@dataclass(frozen=True, slots=True, kw_only=True)
class Every:
    """An interval as a rule states it: the first of its sides counts. A missing side is None.

    `distance` is in the rule's own unit.
    """

    distance: Fraction | None = None
    months: int | None = None
    days: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EventPoint:
    """Due `at` a distance after an event, a happening or a job by rule id; at 0, due at once."""

    event: str
    at: Fraction
    where: Where = ANYWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Age:
    """An age limit, counted from made or fitted, or running to the year on a label.

    `months` None: no age limit, only the start of looking. `inspect_from`: in months; the first
    look falls due at that age and `every` takes over from there. `advise`: an age, in months, from
    which renewal is advised. Once the item is done, its `months` count from the job
    (13.03: emptied at 6 years from manufacture, and again 6 years on).
    """

    counted_from: AgeFrom
    months: int | None = None
    inspect_from: int | None = None
    advise: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A value that a measurement must hold.

    `share_of_new`: the limit is this share of the part's figure when new (`value` is then None).
    `times`: the limit is the car's own or stamped figure times this (toe, 1.05). `if_unknown`: what
    holds while nobody has entered that figure, and it is still asked for; None: no limit known.
    `advise` is a value from which renewal is advised, in the same unit.
    """

    measure: str
    bound: Bound
    value: Fraction | Figure | None
    unit: str
    share_of_new: Fraction | None = None
    times: Fraction = Fraction(1)
    if_unknown: Fraction | None = None
    advise: Fraction | None = None
    where: Where = ANYWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class Margin:
    """How early a window opens or how late it closes: percent of the interval, with caps.

    `cap_distance` is in the rule's own unit. None: no cap.
    """

    percent: Fraction
    cap_days: int | None = None
    cap_distance: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """Another interval of the same rule, for the components its condition picks (first match).

    `age` None: the rule's own age stays.
    """

    where: Where
    every: Every
    age: Age | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Intake:
    """Rank and act on a car with no record.

    1 before it moves under its own power, 2 before it goes on the road, 3 by 500 mi, 4 when next
    reached.
    """

    rank: int
    act: Act


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """An interval or limit that applies to a kind of component.

    `intake` None: the rule makes no item until its event, so it can have no record. `check`: what
    must hold that no measure names, in words. `specs`: the car's own figures that the check needs,
    by name; `a|b` is either. `counted_from_layup`: on while the car is laid up,
    counted from the first day of it. `instead_of`: rules that do not apply where this one does.
    `own` access: the owner's own check. `season` parts are (month, day) pairs, first to last day.
    `ends_under_yearly`: the item rests where a year brings less than this, in the rule's own unit.
    `source`: where the figures come from, as told to the user.
    """

    id: RuleId
    title: str
    kinds: tuple[str, ...]
    part: str  # the part of the car, as the category of its dates: "Brakes"
    also_called: tuple[str, ...] = ()
    danger: int = 2
    off: bool = False
    off_for: frozenset[str] = frozenset()  # slugs of vehicles
    where: Where = ANYWHERE
    unit: Unit = Unit.MI
    every: Every | None = None
    variants: tuple[Variant, ...] = ()
    first: tuple[Fraction, ...] = ()
    also_after: tuple[EventPoint, ...] = ()
    season: tuple[tuple[tuple[int, int], tuple[int, int]], ...] = ()
    age: Age | None = None
    limits: tuple[Limit, ...] = ()
    check: str | None = None
    specs: tuple[str, ...] = ()
    exposure: Mapping[str, Fraction] = field(default_factory=dict)
    lead: Margin
    tolerance: Margin
    counting: Counting = Counting.DONE
    counted_from_layup: bool = False
    ends_under_yearly: Fraction | None = None
    includes: tuple[RuleId, ...] = ()
    instead_of: tuple[RuleId, ...] = ()
    access: tuple[str, ...] = ()
    hours: Fraction = Fraction(0)
    per: Per = Per.CAR
    parts: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    intake: Intake | None = None
    source: str
    basis: Basis
    note: str | None = None  # what the sources disagree about, shown beside the source
    origin: str = "shipped"  # shipped | garage (rules.toml) | this car

    @property
    def is_own_check(self) -> bool:
        """Tell whether the owner does it himself."""
        return OWN_ACCESS in self.access


@dataclass(frozen=True, slots=True, kw_only=True)
class KindOfPart:
    """A kind of component: where it stands, what tells two of a kind apart, what fitting it raises.

    `positions`: corners, corners and spare, ends, sides, one, numbered, free. `attributes`: allowed
    values by name; no values means free text. `excludes`: kinds that cannot stand at the same
    place. `apart`: by attribute, groups of values that cannot stand together at one place, or on
    one axle where `apart_by` says so (radial and bias tires). `raises`: events that fitting one
    raises at its place. `part`: the part of the car, as its page at intake; kinds stand in the
    order of the pages.
    """

    name: str
    positions: tuple[str, ...]
    attributes: Mapping[str, tuple[str, ...]]
    excludes: tuple[str, ...] = ()
    apart: Mapping[str, tuple[tuple[str, ...], ...]] = field(default_factory=dict)
    apart_by: str = "place"  # place | axle
    raises: tuple[str, ...] = ()
    also_called: tuple[str, ...] = ()
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """What must be opened: its words, what it implies, the hours, and the event its opening raises.

    `implies` holds alternatives as `a|b` (hub implies caliper or drum, whichever is there).
    """

    key: str
    words: str
    implies: tuple[str, ...]
    hours: Fraction
    per: Per
    event: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that happens or a job that can be ticked, after which rules may fall due."""

    name: str
    words: str
    also_called: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PartChange:
    """What a conversion ends or begins: a kind at places, with its attributes.

    `places` empty: where the old ones stood, or the car as a whole. A condition that is not met by
    the component keeps it on the car.
    """

    kind: str
    places: tuple[Place, ...] = ()
    attributes: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Conversion:
    """One kind of equipment replaced by another: what ends, what begins, what the job raises.

    `raises`: events of the job. `triggers`: rules due at a distance after it, by rule id.
    `asks`: what the new parts should be asked for.
    """

    name: str
    title: str
    ends: tuple[PartChange, ...]
    begins: tuple[PartChange, ...]
    raises: tuple[str, ...] = ()
    triggers: Mapping[RuleId, tuple[Fraction, ...]] = field(default_factory=dict)
    asks: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """A part that brings others with it: fitting it fits all of them, each its own component.

    `attributes`: what is known of a kind it brings, by its coming in one. `raises`: events of
    fitting it besides those its parts raise.
    """

    name: str
    brings: tuple[str, ...]
    attributes: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    raises: tuple[str, ...] = ()
    also_called: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleBook:
    """All rules in force, and the tables they speak of.

    Triggers of conversions are already among the rules' event points, under the conversion's name
    as event. `kinds_of`: the kinds of part each rule is about.
    """

    rules: Mapping[RuleId, Rule]
    kinds_of: Mapping[RuleId, tuple[str, ...]]
    kinds: Mapping[str, KindOfPart]
    accesses: Mapping[str, Access]
    events: Mapping[str, Event]
    conversions: Mapping[str, Conversion]
    assemblies: Mapping[str, Assembly]

    def about(self, kinds: Container[str]) -> Iterator[Rule]:
        """Give the rules about any of these kinds, in their order, and look at no other."""
        return (
            self.rules[id_]
            for id_, mine in self.kinds_of.items()
            if any(kind in kinds for kind in mine)
        )
