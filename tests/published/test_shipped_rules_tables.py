"""The shipped tables: kinds, events, accesses, assemblies and conversions as they were decided."""

from fractions import Fraction

import pytest

from castlenut.domain.ids import RuleId
from castlenut.domain.rules.rule import Per
from tests.builders import book, shipped

EVENTS = [
    "automatic-rebuilt",
    "axle-rebuilt",
    "ball-joint-fitted",
    "belt-fitted",
    "booster-fitted",
    "boot-renewed",
    "carburetor-off",
    "clutch-fitted",
    "clutch-open",
    "convert",
    "coolant-open",
    "crash",
    "distributor-off",
    "engine-off",
    "engine-rebuilt",
    "exhaust-fitted",
    "forded",
    "fuel-changed-to-E10",
    "fuel-in-oil",
    "transmission-rebuilt",
    "head-off",
    "hose-fitted",
    "hub-off",
    "hydraulics-open",
    "judder",
    "curb-hit",
    "layup",
    "layup-end",
    "leak-reported",
    "leak-seen",
    "oil-on-belt",
    "overheat",
    "pads-renewed",
    "paint",
    "panel",
    "points-fitted",
    "prop-off",
    "ps-open",
    "reline",
    "shake-reported",
    "splash-off",
    "spring",
    "steering",
    "steering-off",
    "storm",
    "suspension",
    "tank-open",
    "tire-fitted",
    "tire-size",
    "used",
    "washed-under",
    "water-in-oil",
    "weld",
    "wheel-changed",
    "wheel-off",
]

CONVERSIONS = [
    "front-discs",
    "dual-circuit",
    "silicone-fluid",
    "glycol-fluid",
    "poly-bushings",
    "rubber-bushings",
    "electronic-ignition",
    "alternator",
    "ball-joints",
    "steering-rack",
    "wheels",
    "engine",
    "transmission",
]


def test_the_events_are_those_decided_on_and_the_conversions() -> None:
    assert set(shipped().tables.events) == {*EVENTS, *CONVERSIONS}
    assert list(shipped().tables.conversions) == CONVERSIONS


def test_no_event_has_the_id_of_a_rule() -> None:
    """A job done on a rule is an event under that rule's id: the two may not be mixed up."""
    assert set(shipped().tables.events).isdisjoint(shipped().rules)


@pytest.mark.parametrize(
    ("key", "implies", "hours", "per", "event"),
    [
        ("own", (), "0", "car", None),
        ("gnd", (), "0", "car", None),
        ("road", (), "0.3", "car", None),
        ("out", (), "0.2", "car", None),
        ("hood", (), "0.05", "car", None),
        ("lift", (), "0.2", "car", None),
        ("align", (), "0.3", "car", None),
        ("wheel", ("lift",), "0.1", "wheel", "wheel-off"),
        ("caliper", ("wheel",), "0.2", "wheel", None),
        ("drum", ("wheel",), "0.2", "wheel", None),
        ("hub", ("wheel", "caliper|drum"), "0.4", "wheel", "hub-off"),
        ("hydr", ("lift", "wheel"), "0.8", "car", "hydraulics-open"),
        ("splash", ("wheel",), "0.4", "wheel", "splash-off"),
        ("oil", ("lift",), "0.2", "car", None),
        ("pan", ("lift",), "0.4", "car", None),
        ("cool", ("hood",), "0.4", "car", "coolant-open"),
        ("belts", ("hood",), "0.2", "car", None),
        ("plugs", ("hood",), "0.3", "car", None),
        ("valve-cover", ("hood",), "0.3", "car", None),
        ("timing", ("belts",), "1.5", "car", None),
        ("fuel", ("hood",), "0.2", "car", None),
        ("cowl", ("hood",), "0.4", "car", None),
        ("trim", (), "0.5", "side", None),
        ("carpet", (), "0.6", "car", None),
        ("clutch-hydr", ("lift",), "0.4", "car", "clutch-open"),
        ("prop", ("lift",), "0.5", "car", "prop-off"),
        ("seats", (), "0.5", "car", None),
        ("dash", (), "1.5", "car", None),
        ("engine-out", ("hood", "cool", "prop"), "6", "car", "engine-off"),
    ],
)
def test_an_access_has_the_hours_and_what_it_implies(
    key: str, implies: tuple[str, ...], hours: str, per: str, event: str | None
) -> None:
    access = shipped().tables.accesses[key]

    assert access.implies == implies
    assert access.hours == Fraction(hours)
    assert access.per is Per(per)
    assert access.event == event


def test_there_are_29_accesses_and_each_implies_known_ones() -> None:
    accesses = shipped().tables.accesses

    assert len(accesses) == 29
    for access in accesses.values():
        for implied in access.implies:
            assert all(key in accesses for key in implied.split("|")), access.key


@pytest.mark.parametrize(
    ("name", "brings", "raises"),
    [
        ("arm", {"arm", "ball joint", "bushing"}, {"ball-joint-fitted", "suspension"}),
        ("loaded caliper", {"caliper", "brake pad"}, {"pads-renewed", "reline"}),
        ("one-piece hub and rotor", {"hub", "rotor", "wheel bearing"}, {"wheel-off"}),
        (
            "loaded strut",
            {"shock absorber", "spring", "spring isolator", "bump stop"},
            {"spring", "suspension"},
        ),
        ("steering linkage set", {"tie rod end", "idler"}, {"steering-off"}),
        ("leaf spring set", {"spring", "bushing", "spring U-bolt"}, {"spring"}),
        ("clutch set", {"clutch"}, {"clutch-fitted"}),
        ("cylinder head set", {"valve train"}, {"head-off"}),
        ("radiator set", {"radiator cap", "coolant hose", "thermostat", "coolant"}, set()),
    ],
)
def test_an_assembly_brings_its_parts_and_raises_its_events_by_them_or_itself(
    name: str, brings: set[str], raises: set[str]
) -> None:
    tables = shipped().tables
    assembly = tables.assemblies[name]

    assert set(assembly.brings) == brings
    raised = {*assembly.raises}.union(*(tables.kinds[kind].raises for kind in assembly.brings))
    assert raises <= raised
    assert len(tables.assemblies) == 9


def test_disc_and_drum_parts_exclude_each_other_at_one_corner() -> None:
    kinds = shipped().tables.kinds

    for disc in ("brake pad", "rotor", "caliper"):
        assert set(kinds[disc].excludes) == {"brake shoe", "drum", "wheel cylinder"}
    for drum in ("brake shoe", "drum", "wheel cylinder"):
        assert set(kinds[drum].excludes) == {"brake pad", "rotor", "caliper"}
    assert kinds["parking shoe"].excludes == ()


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("kingpin", "ball joint"),
        ("steering box", "steering rack"),
        ("transmission", "automatic transmission"),
        ("seat belt", "harness"),
    ],
)
def test_kinds_exclude_each_other_both_ways(one: str, other: str) -> None:
    kinds = shipped().tables.kinds

    assert other in kinds[one].excludes
    assert one in kinds[other].excludes


@pytest.mark.parametrize(
    ("kind", "attribute", "one", "other"),
    [
        ("tire", "construction", "radial", "bias"),
        ("wheel bearing", "service", "repackable", "sealed"),
        ("master cylinder", "circuits", "single", "dual"),
        ("brake fluid", "fluid", "DOT 4", "DOT 5"),
        ("bushing", "material", "rubber", "polyurethane"),
        ("ignition points", "ignition", "points", "electronic"),
        ("generator", "type", "DC generator", "alternator"),
        ("coolant", "type", "green", "long-life"),
    ],
)
def test_two_of_one_kind_that_may_not_stand_together_are_in_different_groups(
    kind: str, attribute: str, one: str, other: str
) -> None:
    groups = shipped().tables.kinds[kind].apart[attribute]

    assert not any(one in group and other in group for group in groups)
    assert any(one in group for group in groups)
    assert any(other in group for group in groups)


def test_glycol_fluids_may_stand_together_and_radials_exclude_bias_over_an_axle() -> None:
    kinds = shipped().tables.kinds

    assert kinds["brake fluid"].apart["fluid"][0] == ("DOT 3", "DOT 4", "DOT 5.1")
    assert kinds["tire"].apart_by == "axle"


@pytest.mark.parametrize(
    ("kind", "raises"),
    [
        ("tire", {"tire-fitted", "wheel-off"}),
        ("wheel", {"wheel-changed", "wheel-off"}),
        ("spacer", {"wheel-off"}),
        ("brake pad", {"pads-renewed", "reline", "wheel-off"}),
        ("brake shoe", {"reline", "wheel-off"}),
        ("brake hose", {"hose-fitted", "hydraulics-open"}),
        ("caliper", {"hydraulics-open", "wheel-off"}),
        ("ball joint", {"ball-joint-fitted", "suspension"}),
        ("spring", {"spring", "suspension"}),
        ("steering rack", {"steering", "steering-off"}),
        ("clutch", {"clutch-fitted"}),
        ("drive belt", {"belt-fitted"}),
        ("exhaust", {"exhaust-fitted"}),
        ("booster", {"booster-fitted"}),
        ("distributor", {"distributor-off"}),
        ("carburetor", {"carburetor-off"}),
        ("engine", {"engine-off"}),
        ("brake fluid", set()),
        ("coolant", set()),
    ],
)
def test_fitting_a_part_raises_what_its_fitting_takes(kind: str, raises: set[str]) -> None:
    assert set(shipped().tables.kinds[kind].raises) == raises


@pytest.mark.parametrize(
    ("conversion", "rule", "at"),
    [
        ("front-discs", "bed-friction", {0}),
        ("front-discs", "brake-balance", {0}),
        ("front-discs", "lock-clearance", {0}),
        ("front-discs", "wheel-nuts", {50}),
        ("front-discs", "pipe-look", {50}),
        ("front-discs", "brake-recheck", {50, 500}),
        ("front-discs", "hub-play", {500}),
        ("front-discs", "shoe-adjust", {250}),
        ("front-discs", "parking-brake", {250}),
        ("front-discs", "brake-fluid", {0}),
        ("front-discs", "align", {0}),
        ("dual-circuit", "hydraulics-look", {0, 500}),
        ("dual-circuit", "pipe-look", {50}),
        ("dual-circuit", "booster-test", {0}),
        ("silicone-fluid", "brake-recheck", {50, 500}),
        ("silicone-fluid", "hose-renew", {0}),
        ("glycol-fluid", "hose-renew", {0}),
        ("poly-bushings", "align", {0, 500}),
        ("poly-bushings", "bush-poly", {500, 1000}),
        ("poly-bushings", "lock-clearance", {0}),
        ("electronic-ignition", "ign-timing", {0}),
        ("electronic-ignition", "wiring-look", {100}),
        ("alternator", "charging", {0}),
        ("ball-joints", "linkage-play", {500}),
        ("ball-joints", "steering-bolts", {500}),
        ("ball-joints", "align", {0, 500}),
        ("steering-rack", "align", {0}),
        ("steering-rack", "linkage-play", {500}),
        ("wheels", "tire-balance", {0}),
        ("wheels", "lock-clearance", {0}),
        ("wheels", "brake-balance", {0}),
        ("wheels", "wheel-nuts", {50}),
        ("engine", "mounts", {500}),
        ("engine", "hose-coolant-look", {50}),
        ("engine", "oil-rebuilt", {500, 2000}),
        ("transmission", "transmission-oil", {600, 15000}),
        ("transmission", "mounts", {500}),
    ],
)
def test_a_conversion_brings_a_rule_at_these_points_by_itself_or_by_its_events(
    conversion: str, rule: str, at: set[int]
) -> None:
    events = {conversion, *shipped().tables.conversions[conversion].raises}
    points = book().rules[RuleId(rule)].also_after

    assert {int(point.at) for point in points if point.event in events} == at


@pytest.mark.parametrize(
    ("conversion", "ends", "begins"),
    [
        (
            "front-discs",
            {"brake shoe", "drum", "wheel cylinder", "drum hardware", "brake hose", "hub"}
            | {"wheel bearing", "brake valve"},
            {"brake pad", "rotor", "caliper", "hub", "wheel bearing", "brake hose", "brake valve"},
        ),
        ("dual-circuit", {"master cylinder"}, {"master cylinder", "booster"}),
        ("silicone-fluid", {"brake fluid"}, {"brake fluid"}),
        ("electronic-ignition", {"ignition points"}, set()),
        ("alternator", {"generator"}, {"generator"}),
        ("ball-joints", {"kingpin", "trunnion"}, {"ball joint"}),
        ("steering-rack", {"steering box", "idler"}, {"steering rack"}),
        ("wheels", {"tire", "wheel", "tire set"}, {"tire", "wheel", "tire set"}),
    ],
)
def test_a_conversion_takes_off_and_puts_on(
    conversion: str, ends: set[str], begins: set[str]
) -> None:
    found = shipped().tables.conversions[conversion]

    assert {change.kind for change in found.ends} == ends
    assert {change.kind for change in found.begins} == begins


@pytest.mark.parametrize(
    ("ours", "other"),
    [
        ("tire", "tyre"),
        ("rotor", "disc"),
        ("parking brake", "handbrake"),
        ("parking brake", "emergency brake"),
        ("brake line", "brake pipe"),
        ("booster", "servo"),
        ("shock absorber", "damper"),
        ("sway bar", "anti-roll bar"),
        ("arm", "wishbone"),
        ("tie rod end", "track rod end"),
        ("kingpin", "swivel pin"),
        ("alignment", "tracking"),
        ("bump stop", "bump rubber"),
        ("bushing", "bush"),
        ("transmission", "gearbox"),
        ("automatic transmission", "automatic"),
        ("universal joint", "U-joint"),
        ("axle", "differential"),
        ("valve train", "valve gear"),
        ("carburetor", "carb"),
        ("ground strap", "earth"),
        ("generator", "dynamo"),
        ("ignition points", "contact breaker"),
        ("plug wires", "HT leads"),
        ("lights", "headlamp"),
        ("exhaust", "silencer"),
        ("weather seal", "weatherstrip"),
    ],
)
def test_a_kind_is_found_by_its_other_word(ours: str, other: str) -> None:
    assert other in shipped().tables.kinds[ours].also_called
