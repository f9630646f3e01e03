"""Which rules apply to which parts: conditions, families, what is assumed, what is switched off."""

from collections.abc import Mapping

import pytest

from castlenut.domain.frozen import replace
from castlenut.domain.happenings import Answer, Statement
from castlenut.domain.ids import RuleId
from castlenut.domain.matching import matches
from castlenut.domain.place import place as read_place
from castlenut.domain.rules.precedence import RuleChange
from castlenut.domain.rules.rule import RuleBook
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive, Vehicle
from castlenut.domain.working import Assumed, Judged, State
from tests.builders import (
    book,
    car,
    day,
    exposed,
    measured,
    only,
    part,
    reading,
    record,
    the_item,
    today,
    vehicle,
)

STEADY = (reading("2026-01-01", 50000), reading("2026-04-11", 51000))  # 10 mi a day


def applying(
    kind: str,
    where: str = "",
    attributes: Mapping[str, str] | None = None,
    *,
    of: Vehicle | None = None,
    rules: RuleBook | None = None,
) -> dict[str, tuple[Assumed, ...]]:
    """Give the rules that apply to one part, with what was assumed."""
    this = car(replace(part(kind, where), attributes=attributes or {}), of=of)
    found = matches(this, rules or book(), today=day("2026-04-11"))
    return {match.rule.id: match.assumed for match in found}


@pytest.mark.parametrize(
    ("attributes", "year", "expected"),
    [
        ({"service": "repackable"}, 1962, {"hub-repack-old", "hub-play"}),
        ({"service": "repackable"}, 1963, {"hub-repack", "hub-play"}),
        ({"service": "repackable"}, None, {"hub-repack-old", "hub-play"}),
        ({"service": "repackable", "axle": "driven front"}, 1963, {"hub-repack-4x4", "hub-play"}),
        ({"service": "repackable", "axle": "full-floating"}, 1950, {"hub-repack-4x4", "hub-play"}),
        ({"service": "sealed"}, 1963, {"hub-sealed"}),
        ({"service": "sealed", "axle": "driven front"}, 1950, {"hub-sealed"}),
        ({}, 1970, {"hub-repack", "hub-play"}),
    ],
)
def test_a_wheel_bearing_has_one_repack_rule(
    attributes: Mapping[str, str], year: int | None, expected: set[str]
) -> None:
    found = applying("wheel bearing", "LF", attributes, of=vehicle(year=year))

    assert set(found) == expected


@pytest.mark.parametrize(
    ("where", "kind_of_wheel", "dual", "expected"),
    [
        ("LF", "disc", False, {"wheel-nuts"}),
        ("LF", "wire", False, {"wheel-nuts"}),
        ("LF", "heavy", False, {"wheel-nuts-heavy"}),
        ("LF", "lock-ring", False, {"wheel-nuts-heavy"}),
        ("LF", "disc", True, {"wheel-nuts-heavy"}),
        ("SP", "disc", False, set()),
        ("SP", "heavy", True, set()),
    ],
)
def test_a_wheel_on_the_road_has_one_rule_of_its_nuts(
    where: str, kind_of_wheel: str, *, dual: bool, expected: set[str]
) -> None:
    found = applying("wheel", where, {"type": kind_of_wheel}, of=vehicle(dual=dual))

    assert set(found) & {"wheel-nuts", "wheel-nuts-heavy"} == expected


@pytest.mark.parametrize(
    ("attributes", "year", "expected"),
    [
        ({"diff": "open"}, 1961, "axle-oil-old"),
        ({"diff": "open"}, 1962, "axle-oil"),
        ({"diff": "limited-slip"}, 1961, "axle-oil-lsd"),
        ({"diff": "limited-slip"}, 1962, "axle-oil-lsd"),
        ({}, 1961, "axle-oil-old"),  # 10,000 mi: stricter than 15,000
        ({}, 1962, "axle-oil-lsd"),  # 15,000 mi: stricter than 24,000
        ({}, None, "axle-oil-old"),
    ],
)
def test_an_axle_has_one_rule_of_its_oil(
    attributes: Mapping[str, str], year: int | None, expected: str
) -> None:
    found = applying("axle", "rear", attributes, of=vehicle(year=year))

    assert set(found) & {"axle-oil", "axle-oil-old", "axle-oil-lsd"} == {expected}


@pytest.mark.parametrize(
    ("kind", "where", "attributes", "family", "expected"),
    [
        ("fuel hose", "", {"hose": "nitrile"}, "fuel-hose", "fuel-hose"),
        ("fuel hose", "", {"hose": "fluoro-lined"}, "fuel-hose", "fuel-hose-lined"),
        ("fuel hose", "", {}, "fuel-hose", "fuel-hose"),
        ("brake hose", "L", {"material": "rubber"}, "hose-renew", "hose-renew"),
        ("brake hose", "L", {"material": "braided"}, "hose-renew", "hose-renew-braided"),
        ("brake hose", "L", {}, "hose-renew", "hose-renew"),
        ("coolant", "", {"type": "green"}, "coolant-", "coolant-green"),
        ("coolant", "", {"type": "mixed"}, "coolant-", "coolant-green"),
        ("coolant", "", {"type": "long-life"}, "coolant-", "coolant-long"),
        ("coolant", "", {}, "coolant-", "coolant-green"),
        ("brake fluid", "", {"fluid": "DOT 4"}, "brake-fluid", "brake-fluid"),
        ("brake fluid", "", {"fluid": "DOT 5"}, "brake-fluid", "brake-fluid-silicone"),
        ("brake fluid", "", {}, "brake-fluid", "brake-fluid"),
        ("brake shoe", "LR", {"adjuster": "self"}, "shoe-", "shoe-selfadj"),
        ("brake shoe", "LR", {"adjuster": "manual"}, "shoe-", "shoe-adjust"),
        ("brake shoe", "LR", {}, "shoe-", "shoe-adjust"),
        ("bushing", "LF", {"material": "rubber"}, "bush-", "bush-rubber"),
        ("bushing", "LF", {"material": "polyurethane"}, "bush-", "bush-poly"),
    ],
)
def test_two_of_a_family_never_stand_together(
    kind: str, where: str, attributes: Mapping[str, str], family: str, expected: str
) -> None:
    looks = {"fuel-hose-look", "coolant-test", "shoe-measure"}

    found = applying(kind, where, attributes)

    assert {rule for rule in found if rule.startswith(family)} - looks == {expected}


@pytest.mark.parametrize(
    ("kind", "where", "attributes", "old", "new"),
    [
        ("transmission", "", {}, "transmission-oil-old", "transmission-oil"),
        ("steering box", "", {"filled": "oil"}, "box-level-old", "box-level"),
        ("ball joint", "LF", {"grease": "fitting"}, "grease-old", "grease"),
    ],
)
def test_the_year_of_the_car_picks_the_older_or_the_newer_row(
    kind: str, where: str, attributes: Mapping[str, str], old: str, new: str
) -> None:
    by_year = {
        year: set(applying(kind, where, attributes, of=vehicle(year=year))) & {old, new}
        for year in (1961, 1962, None)
    }

    assert by_year == {1961: {old}, 1962: {new}, None: {old}}


def test_plain_greased_bushings_are_greased_on_an_early_car_alone() -> None:
    early = applying("bushing", "LF", {"material": "plain greased"}, of=vehicle(year=1955))
    late = applying("bushing", "LF", {"material": "plain greased"}, of=vehicle(year=1965))

    assert "grease-old" in early
    assert not {"grease-old", "grease"} & set(late)


def test_what_nobody_recorded_is_assumed_and_said() -> None:
    """An attribute not known: the strictest row of that kind applies, and the item says so."""
    this = car(
        part("wheel bearing", "LF", on="2025-01-01", at=46000),
        of=vehicle(year=None),
        readings=STEADY,
    )

    item = the_item(today(this, book(), "2026-04-11"), "hub-repack-old")

    assumed = [step for step in item.working if isinstance(step, Assumed)]
    assert assumed == [
        Assumed(attribute="year", taken_as="1962 or before"),
        Assumed(attribute="service", taken_as="repackable"),
    ]


def test_unknown_written_down_is_not_known() -> None:
    found = applying("fuel hose", "", {"hose": "unknown"})

    assert found["fuel-hose"] == (Assumed(attribute="hose", taken_as="nitrile"),)


def test_a_condition_that_excludes_assumes_nothing() -> None:
    assert applying("wheel", "LF")["wheel-nuts"] == ()


@pytest.mark.parametrize(("drive", "applies"), [(Drive.ALL, True), (Drive.REAR, False)])
def test_the_drive_of_the_car_is_a_condition(drive: Drive, *, applies: bool) -> None:
    assert ("awd-spread" in applying("tire set", of=vehicle(drive=drive))) is applies


@pytest.mark.parametrize("dual", [True, False])
def test_dual_wheels_are_a_condition(*, dual: bool) -> None:
    assert ("dual-match" in applying("tire set", of=vehicle(dual=dual))) is dual


def test_an_exposure_is_a_condition_while_it_holds() -> None:
    this = car(part("underbody"), exposures=[exposed("salt", "2025-11-01", "2026-04-10")])

    rules = [
        {match.rule.id for match in matches(this, book(), today=day(on))}
        for on in ("2026-04-10", "2026-04-11")
    ]

    assert ["under-wash" in each for each in rules] == [True, False]


@pytest.mark.parametrize(
    ("where", "weight_lb", "limit"),
    [("LF", 10500, 4), ("LR", 10500, 2), ("LF", 10000, 2), ("LF", None, 2)],
)
def test_a_limit_may_ask_for_place_and_weight(
    where: str, weight_lb: int | None, limit: int
) -> None:
    """1.12: front tires over 10,000 lb have 4/32, all others 2/32."""
    this = car(
        part("tire", where, on="2025-01-01", at=46000),
        of=vehicle(weight_lb=weight_lb),
        readings=STEADY,
        measurements=[measured("tread_depth", "2026-04-01", 50900, "3", unit="1/32 in")],
    )

    item = the_item(today(this, book(), "2026-04-11"), "tire-tread")

    judged = [step for step in item.working if isinstance(step, Judged)]
    assert [step.limit for step in judged] == [limit]
    assert (item.state is State.OVERDUE) is (limit > 3)


@pytest.mark.parametrize(
    ("text", "applies"),
    [
        ('[[rule]]\nid = "exhaust"\noff = true\n', False),
        ('[[rule]]\nid = "exhaust"\noff = true\nvehicles = ["test-car"]\n', False),
        ('[[rule]]\nid = "exhaust"\noff = true\nvehicles = ["another"]\n', True),
    ],
)
def test_a_garage_switches_a_rule_off_for_all_or_for_one(text: str, *, applies: bool) -> None:
    assert ("exhaust" in applying("exhaust", rules=book(text))) is applies


@pytest.mark.parametrize(
    ("rule", "kind", "off", "applies"),
    [
        ("exhaust", "exhaust", True, False),
        ("hydraulics-seals", "master cylinder", None, False),  # off as shipped
        ("hydraulics-seals", "master cylinder", False, True),
    ],
)
def test_one_car_switches_a_rule_off_or_on(
    rule: str,
    kind: str,
    *,
    off: bool | None,
    applies: bool,
) -> None:
    change = RuleChange(rule=RuleId(rule), why="its book (invented)", unit=Unit.MI, off=off)
    this = car(part(kind), rule_changes=[change])

    found = {match.rule.id for match in matches(this, book(), today=day("2026-04-11"))}

    assert (rule in found) is applies


def test_where_the_special_rule_is_off_the_plain_one_applies() -> None:
    off = '[[rule]]\nid = "hose-renew-braided"\noff = true\n'

    found = applying("brake hose", "L", {"material": "rubber"}, rules=book(off))

    assert "hose-renew" in found


@pytest.mark.parametrize(
    ("statement", "left"),
    [
        ({"kind": "ball joint"}, set()),
        ({"kind": "ball joint", "place": "LF"}, {"RF lower"}),
        ({"kind": "ball joint", "place": "LF upper"}, {"LF lower", "RF lower"}),
        ({"kind": "tie rod end"}, {"LF upper", "LF lower", "RF lower"}),
        ({"item": "ball-joint-play~ball joint RF lower"}, {"LF upper", "LF lower"}),
    ],
)
def test_does_not_apply_is_answered_by_kind_place_or_item(
    statement: Mapping[str, str], left: set[str]
) -> None:
    answer = Statement(
        record=record("answer"),
        answer=Answer.NOT_APPLICABLE,
        kind=statement.get("kind"),
        item=statement.get("item"),
        place=read_place(statement.get("place", "")),
        why="none on this car",
    )
    this = car(
        *(part("ball joint", place) for place in ("LF upper", "LF lower", "RF lower")),
        statements=[answer],
    )

    found = matches(this, book(), today=day("2026-04-11"))

    assert {
        str(match.component.place) for match in found if match.rule.id == "ball-joint-play"
    } == left


def test_a_part_on_the_shelf_or_taken_off_has_no_items() -> None:
    off = part("engine oil", on="2025-01-01", removed_on="2026-04-11")

    assert [
        len(matches(car(off), book(), today=day(on))) for on in ("2026-04-10", "2026-04-11")
    ] == [2, 0]


def test_a_place_in_a_condition_takes_what_lies_in_it() -> None:
    rule = """
[[rule]]
id = "test-front"
title = "shock absorber, test at the front"
part = "Steering and suspension"
component = "shock absorber"
where = { place = "front" }
every = { months = 12 }
"""
    this = car(*(part("shock absorber", place) for place in ("LF", "RF", "LR")))

    found = matches(this, only(rule), today=day("2026-04-11"))

    assert [str(match.component.place) for match in found] == ["LF", "RF"]
