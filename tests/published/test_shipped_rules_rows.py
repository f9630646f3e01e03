"""Every shipped rule against the table it was decided in, and the rule set against itself."""

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from castlenut.domain.ids import RuleId
from castlenut.domain.rules.rule import Act, Counting, EventPoint, Rule, Where
from castlenut.domain.units import Unit
from tests.builders import shipped

TABLE = Path(__file__).parent / "data" / "shipped_rules.txt"

EXPOSURES = {
    "W": "wet",
    "S": "salt",
    "D": "dust",
    "T": "towing",
    "X": "stop-start",
    "O": "stored outdoors",
    "L": "laid up",
}
ACTS = {"R": Act.RENEW, "I": Act.LOOK, "A": Act.ASK}
PER = {"w": "wheel", "a": "axle"}

DANGER_1_BESIDES_ITS_GROUPS = {
    "fuel-hose",
    "fuel-hose-lined",
    "fuel-hose-look",
    "tank-look",
    "exhaust",
    "timing-belt",
    "ujoint-grease",
    "ujoint-bolts",
    "lights",
    "belt-seat",
    "harness-date",
    "repair-look",
}
DANGER_1_GROUPS = {"Wheels and tires", "Wheel bearings", "Brakes", "Steering and suspension"}
DANGER_3 = {
    "seals",
    "hinges",
    "cavity-look",
    "cavity-wax",
    "under-wash",
    "drain-door",
    "drain-cowl",
    "drain-arm",
    "floor-damp",
}

PARTS_WITHOUT_A_RULE = {
    "spacer",
    "wheel stud",
    "hub",
    "drum hardware",
    "parking shoe",
    "arm",
    "strut rod",
    "sway bar",
    "sway bar link",
    "bump stop",
    "spring isolator",
    "spring U-bolt",
    "steering coupling",
    "body mount",
    "cab mount",
}


def rows() -> Iterator[list[str]]:
    for line in TABLE.read_text("utf-8").splitlines():
        if line and not line.startswith("#"):
            yield [cell.strip() for cell in line.split("|")]


def group_of() -> dict[str, str]:
    """Give the group each row stands under."""
    groups: dict[str, str] = {}
    group = ""
    for line in TABLE.read_text("utf-8").splitlines():
        if line.startswith("# "):
            group = line[2:]
        elif line:
            groups[line.split("|")[0].strip().rstrip("#")] = group
    return groups


def words(cell: str) -> tuple[str, ...]:
    return () if cell == "-" else tuple(cell.split())


def numbers(cell: str) -> tuple[Fraction, ...]:
    return () if cell == "-" else tuple(Fraction(each.strip()) for each in cell.split(","))


def points(cell: str) -> tuple[tuple[str, Fraction], ...]:
    """Read `suspension@0, 500; steering@0`."""
    found: list[tuple[str, Fraction]] = []
    event = ""
    for each in cell.replace(";", ",").split(","):
        if each.strip() == "-":
            continue
        if "@" in each:
            event, _, at = each.strip().partition("@")
        else:
            at = each
        found.append((event, Fraction(at.strip())))
    return tuple(found)


def rule_of(id_: str) -> Rule:
    return shipped().rules[RuleId(id_.rstrip("#"))]


ROWS = list(rows())
IDS = [row[0] for row in ROWS]


def test_the_table_and_the_rule_files_hold_the_same_rules() -> None:
    assert sorted(shipped().rules) == sorted(id_.rstrip("#") for id_ in IDS)


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_a_rule_applies_to_the_kinds_of_its_row(row: list[str]) -> None:
    assert rule_of(row[0]).kinds == tuple(kind.strip() for kind in row[1].split(","))


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_a_rule_has_the_interval_of_its_row(row: list[str]) -> None:
    """The months of a hose stand as an age, since they count from the stamp on it."""
    rule = rule_of(row[0])
    aged = rule.age.months if rule.age else None
    if row[2] == "-" or row[2].startswith("age"):
        assert rule.every is None
        assert aged == (120 if row[2] == "age 120m" else None)
        return
    distance, time = row[2].split("/")

    assert rule.unit is Unit.MI
    assert rule.every is not None
    assert rule.every.days is None
    assert rule.every.distance == (
        None if distance == "-" else Fraction(distance.rstrip("k")) * 1000
    )
    assert (rule.every.months or aged) == (None if time == "-" else int(time.rstrip("m")))


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_a_rule_has_the_points_of_its_row(row: list[str]) -> None:
    rule = rule_of(row[0])

    assert rule.first == numbers(row[3])
    assert tuple((point.event, point.at) for point in rule.also_after) == points(row[4])


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_a_rule_has_the_exposure_factors_of_its_row(row: list[str]) -> None:
    expected = {EXPOSURES[each[0]]: Fraction(each[1:]) for each in words(row[5])}

    assert dict(rule_of(row[0]).exposure) == expected


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_a_rule_has_the_margins_and_the_counting_of_its_row(row: list[str]) -> None:
    rule = rule_of(row[0])

    assert rule.tolerance.percent == int(row[6])
    assert rule.lead.percent == 10
    assert rule.lead.cap_days == 30
    assert rule.lead.cap_distance == 500
    expected = Counting.SCHEDULE if row[0].endswith("#") else Counting.DONE
    assert rule.counting is expected


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_a_rule_has_the_work_of_its_row(row: list[str]) -> None:
    rule = rule_of(row[0])
    hours, _, per = row[9].partition("/")

    assert rule.includes == words(row[7])
    assert rule.access == (row[8],)
    assert rule.hours == Fraction(hours)
    assert rule.per.value == PER.get(per, "car")
    assert rule.cautions == words(row[10])


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_a_rule_has_the_rank_and_the_basis_of_its_row(row: list[str]) -> None:
    rule = rule_of(row[0])

    assert rule.basis.value == row[12]
    if row[11] == "-":
        assert rule.intake is None
    else:
        assert rule.intake is not None
        assert (rule.intake.rank, rule.intake.act) == (int(row[11][0]), ACTS[row[11][1]])


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_a_rule_has_the_danger_and_the_part_of_its_group(row: list[str]) -> None:
    rule = rule_of(row[0])
    group = group_of()[rule.id]
    expected = 2
    if group in DANGER_1_GROUPS or rule.id in DANGER_1_BESIDES_ITS_GROUPS:
        expected = 1
    elif rule.id in DANGER_3:
        expected = 3

    assert rule.danger == expected
    assert rule.part == ("Body and safety" if group.startswith("Body") else group)


def test_only_the_renewal_of_all_seals_is_off_as_shipped() -> None:
    assert [rule.id for rule in shipped().rules.values() if rule.off] == ["hydraulics-seals"]


def test_every_rule_says_where_it_comes_from_and_a_figure_of_practice_says_so() -> None:
    """A figure marked P or M must say so in the working."""
    for rule in shipped().rules.values():
        if rule.basis.value == "P":
            assert "common practice, no source" in rule.source, rule.id
        elif rule.basis.value == "M":
            assert "from memory" in rule.source, rule.id
        else:
            assert "(" in rule.source, rule.id


def test_titles_begin_with_the_thing_in_small_letters() -> None:
    for rule in shipped().rules.values():
        assert rule.title[0].islower() or rule.title.split()[0].isupper(), rule.id
        assert not rule.title.endswith("."), rule.id
        assert len(rule.title) <= 48, rule.id


def test_every_kind_has_a_rule_or_is_known_to_have_none() -> None:
    tables = shipped().tables
    with_a_rule = {kind for rule in shipped().rules.values() for kind in rule.kinds}

    assert set(tables.kinds) - with_a_rule == PARTS_WITHOUT_A_RULE


def test_every_rule_of_the_storage_group_but_the_return_counts_from_the_lay_up() -> None:
    storage = [rule for rule in shipped().rules.values() if rule.part == "Storage"]

    assert [rule.id for rule in storage if not rule.counted_from_layup] == ["return"]
    for rule in storage:
        if rule.id != "return":
            assert any(
                condition.attribute == "exposure" and condition.values == ("laid up",)
                for condition in rule.where.conditions
            ), rule.id


def conditions(where: Where) -> Iterator[tuple[str, tuple[str, ...]]]:
    yield from ((each.attribute, each.values) for each in where.conditions)
    for inner in where.any_of:
        yield from conditions(inner)


@pytest.mark.parametrize(
    ("id_", "attribute"),
    [
        ("hub-repack-old", "service"),
        ("hub-repack", "service"),
        ("hub-play", "service"),
        ("brake-fluid", "fluid"),
        ("coolant-green", "type"),
        ("fuel-hose", "hose"),
        ("hose-renew", "material"),
        ("axle-oil-lsd", "diff"),
        ("shoe-adjust", "adjuster"),
        ("points-set", "ignition"),
        ("points-renew", "ignition"),
        ("clutch-play", "linkage"),
        ("grease", "grease"),
        ("grease-old", "grease"),
        ("ujoint-grease", "type"),
        ("valve-clear", "adjust"),
    ],
)
def test_an_attribute_not_known_counts_as_the_strict_row(id_: str, attribute: str) -> None:
    """Somebody who does not know what he has gets the rule that errs on the safe side."""
    allowed = [values for name, values in conditions(rule_of(id_).where) if name == attribute]

    assert any("unknown" in values for values in allowed)


@pytest.mark.parametrize(
    ("special", "plain"),
    [
        ("hub-repack-4x4", {"hub-repack", "hub-repack-old"}),
        ("wheel-nuts-heavy", {"wheel-nuts"}),
        ("axle-oil-lsd", {"axle-oil", "axle-oil-old"}),
        ("fuel-hose-lined", {"fuel-hose"}),
        ("hose-renew-braided", {"hose-renew"}),
        ("coolant-long", {"coolant-green"}),
        ("hub-sealed", {"hub-repack-old", "hub-repack", "hub-repack-4x4", "hub-play"}),
    ],
)
def test_the_special_row_of_a_family_stands_instead_of_the_plain(
    special: str, plain: set[str]
) -> None:
    assert set(rule_of(special).instead_of) == plain


@pytest.mark.parametrize(
    ("id_", "year_from", "year_to"),
    [
        ("hub-repack-old", None, 1962),
        ("hub-repack", 1963, None),
        ("grease-old", None, 1961),
        ("grease", 1962, None),
        ("box-level-old", None, 1961),
        ("box-level", 1962, None),
        ("transmission-oil-old", None, 1961),
        ("transmission-oil", 1962, None),
        ("axle-oil-old", None, 1961),
        ("axle-oil", 1962, None),
    ],
)
def test_the_years_of_a_family_meet_without_gap_or_overlap(
    id_: str, year_from: int | None, year_to: int | None
) -> None:
    where = rule_of(id_).where

    assert (where.year_from, where.year_to) == (year_from, year_to)


def test_a_repair_near_a_suspension_mount_is_looked_at_after_each_alignment() -> None:
    (point,) = rule_of("repair-look").also_after

    assert point == EventPoint(event="align", at=Fraction(0), where=point.where)
    assert list(conditions(point.where)) == [("near", ("suspension mount",))]


@pytest.mark.parametrize(
    ("id_", "season"),
    [
        ("coolant-test", (((9, 1), (10, 31)),)),
        ("drain-cowl", (((3, 1), (4, 30)), ((9, 1), (10, 31)))),
        ("under-wash", (((3, 1), (4, 30)),)),
    ],
)
def test_a_seasonal_rule_has_its_parts_of_the_year(
    id_: str, season: tuple[tuple[tuple[int, int], tuple[int, int]], ...]
) -> None:
    assert rule_of(id_).season == season


@pytest.mark.parametrize(
    ("id_", "attribute", "value", "months", "days"),
    [
        ("battery-test", "volts", "6", None, 45),
        ("layup-walk", "exposure", "stored outdoors", None, 7),
        ("layup-tires", "overlay", "yes", 1, None),
        ("fuel-stale", "fuel", "stabilized", 12, None),
        ("ext-12y", "type", "CO2", 60, None),
    ],
)
def test_a_rule_with_two_intervals_has_the_other_as_a_variant(
    id_: str, attribute: str, value: str, months: int | None, days: int | None
) -> None:
    (variant,) = rule_of(id_).variants

    assert list(conditions(variant.where)) == [(attribute, (value,))]
    assert variant.every.distance is None
    assert (variant.every.months, variant.every.days) == (months, days)


def test_rotation_rests_where_a_year_brings_under_2000_mi() -> None:
    assert rule_of("tire-rotate").ends_under_yearly == 2000
