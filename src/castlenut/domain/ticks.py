"""The page of ticks: how a car is built, which decides the kinds of part it has."""

from collections.abc import Iterator, Mapping

from castlenut.domain.frozen import dataclass, field
from castlenut.domain.place import Place, lies_in, place
from castlenut.domain.vehicle import Drive, Vehicle

FRONT, REAR, SPARE = "front", "rear", "SP"
ENDS = (FRONT, REAR, SPARE)
_DISC = ("brake pad", "rotor", "caliper", "parking shoe")
_DRUM = ("brake shoe", "drum", "wheel cylinder", "drum hardware")
_GREASED = ("ball joint", "tie rod end", "idler", "kingpin")
_COOLED = ("coolant", "coolant hose", "thermostat", "radiator cap")


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One way a car may be built: the kinds it then lacks, and what is known of others.

    `lacks` names kinds, those of one end as `KIND front`.
    """

    word: str
    lacks: tuple[str, ...] = ()
    attributes: Mapping[str, Mapping[str, str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """One line of the page of ticks. `is_of_vehicle`: it is a field of the car's own record."""

    name: str
    words: str
    choices: tuple[Choice, ...]
    is_of_vehicle: bool = False

    def chosen(self, word: str | None) -> Choice | None:
        """Give the choice of that word; None: not ticked."""
        return next((each for each in self.choices if each.word == word), None)


def _at(end: str, kinds: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(f"{kind} {end}" for kind in kinds)


def _with(word: str, attribute: str, *kinds: str) -> Choice:
    return Choice(word=word, attributes={kind: {attribute: word} for kind in kinds})


def _brakes(end: str) -> Tick:
    return Tick(
        name=f"{end} brakes",
        words=f"brakes, {end}",
        choices=(
            Choice(word="drum", lacks=_at(end, _DISC)),
            Choice(word="disc", lacks=_at(end, _DRUM)),
        ),
    )


TICKS: tuple[Tick, ...] = (
    Tick(
        name="drive",
        words="driven wheels",
        is_of_vehicle=True,
        choices=(
            Choice(
                word=Drive.REAR.value,
                lacks=("CV joint front", "knuckle", "transfer case", "axle front"),
            ),
            Choice(
                word=Drive.FRONT.value,
                lacks=("CV joint rear", "knuckle", "transfer case", "axle", "universal joint"),
            ),
            Choice(word=Drive.ALL.value),
        ),
    ),
    Tick(
        name="dual",
        words="dual rear wheels",
        is_of_vehicle=True,
        choices=(Choice(word="no"), Choice(word="yes")),
    ),
    Tick(
        name="spare",
        words="a spare wheel",
        choices=(Choice(word="yes"), Choice(word="no", lacks=("tire SP", "wheel SP"))),
    ),
    _brakes(FRONT),
    _brakes(REAR),
    Tick(
        name="circuits",
        words="brake circuits",
        choices=(
            _with("single", "circuits", "master cylinder"),
            _with("dual", "circuits", "master cylinder"),
        ),
    ),
    Tick(
        name="booster",
        words="brake booster",
        choices=(
            Choice(word="none", lacks=("booster",)),
            _with("vacuum", "type", "booster"),
            _with("hydraulic", "type", "booster"),
        ),
    ),
    Tick(
        name="joints",
        words="front wheels turn on",
        choices=(
            Choice(word="ball joints", lacks=("kingpin", "trunnion")),
            Choice(word="kingpins", lacks=("ball joint", "trunnion")),
            Choice(word="trunnions", lacks=("ball joint", "kingpin")),
        ),
    ),
    Tick(
        name="grease",
        words="its joints have",
        choices=(
            Choice(word="fittings", attributes={kind: {"grease": "fitting"} for kind in _GREASED}),
            _with("sealed", "grease", *_GREASED),
        ),
    ),
    Tick(
        name="steering",
        words="steering",
        choices=(
            Choice(word="box", lacks=("steering rack",)),
            Choice(word="rack", lacks=("steering box", "idler")),
        ),
    ),
    Tick(
        name="power steering",
        words="power steering",
        choices=(Choice(word="no", lacks=("power steering",)), Choice(word="yes")),
    ),
    Tick(
        name="transmission",
        words="transmission",
        choices=(
            Choice(word="manual", lacks=("automatic transmission", "overdrive")),
            Choice(word="manual with overdrive", lacks=("automatic transmission",)),
            Choice(word="automatic", lacks=("transmission", "overdrive", "clutch", "clutch fluid")),
        ),
    ),
    Tick(
        name="timing",
        words="camshaft driven by",
        choices=(
            _with("belt", "timing", "engine"),
            Choice(
                word="chain", lacks=("timing belt",), attributes={"engine": {"timing": "chain"}}
            ),
            Choice(word="gears", lacks=("timing belt",), attributes={"engine": {"timing": "gear"}}),
        ),
    ),
    Tick(
        name="ignition",
        words="ignition",
        choices=(
            _with("points", "ignition", "ignition points", "distributor"),
            Choice(
                word="electronic",
                lacks=("ignition points",),
                attributes={"distributor": {"ignition": "electronic"}},
            ),
        ),
    ),
    Tick(
        name="fuel",
        words="fuel by",
        choices=(
            Choice(word="carburetor"),
            Choice(word="injection", lacks=("carburetor",)),
        ),
    ),
    Tick(
        name="volts",
        words="volts",
        choices=(
            _with("6", "volts", "battery", "generator"),
            _with("12", "volts", "battery", "generator"),
        ),
    ),
    Tick(
        name="coolant",
        words="coolant",
        choices=(
            Choice(word="not known"),
            _with("green", "type", "coolant"),
            _with("long-life", "type", "coolant"),
            Choice(word="air-cooled", lacks=_COOLED),
        ),
    ),
    Tick(
        name="belts",
        words="the seats have",
        choices=(
            Choice(word="seat belts", lacks=("harness",)),
            Choice(word="harness", lacks=("seat belt",)),
            Choice(word="neither", lacks=("harness", "seat belt")),
        ),
    ),
    Tick(
        name="extinguisher",
        words="an extinguisher",
        choices=(Choice(word="no", lacks=("extinguisher",)), Choice(word="yes")),
    ),
)
"""What is ticked before the kinds are asked for, in the order of the page."""


def tick_named(name: str) -> Tick | None:
    """Give a tick by its name."""
    return next((each for each in TICKS if each.name == name), None)


def ticked(vehicle: Vehicle) -> Mapping[str, str]:
    """Give what is ticked of a car, by the names of the ticks."""
    own = dict(vehicle.ticks)
    if vehicle.drive is not None:
        own["drive"] = vehicle.drive.value
    if own and "dual" not in own:
        own["dual"] = "yes" if vehicle.dual else "no"
    return own


def chosen(vehicle: Vehicle) -> Iterator[tuple[Tick, Choice]]:
    """Give each tick that is set, with what was chosen."""
    own = ticked(vehicle)
    for tick in TICKS:
        choice = tick.chosen(own.get(tick.name))
        if choice is not None:
            yield tick, choice


def ticked_away(vehicle: Vehicle, kind: str, at: Place | None) -> tuple[Tick, Choice] | None:
    """Give the tick by which the car has no such part there, and what was ticked; None: it may."""
    names = {kind, *(f"{kind} {end}" for end in ENDS if at and lies_in(at, place(end)))}
    return next((each for each in chosen(vehicle) if names & set(each[1].lacks)), None)


def attributes_ticked(vehicle: Vehicle, kind: str) -> Mapping[str, str]:
    """Give what the ticks tell of a part of a kind."""
    found: dict[str, str] = {}
    for _, choice in chosen(vehicle):
        found.update(choice.attributes.get(kind, {}))
    return found
