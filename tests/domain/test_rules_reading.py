"""Reading rule files: every field, and every fault with its line, rule and field."""

import re
from fractions import Fraction
from pathlib import Path

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.ids import RuleId
from castlenut.domain.measures import MEASURES
from castlenut.domain.place import place
from castlenut.domain.rules.reading import FIELDS, read_rules
from castlenut.domain.rules.rule import (
    Act,
    Age,
    AgeFrom,
    Basis,
    Bound,
    Condition,
    Counting,
    EventPoint,
    Every,
    Figure,
    Intake,
    Limit,
    Margin,
    Per,
    Rule,
    Where,
)
from castlenut.domain.rules.shipped import ShippedTexts, read_shipped
from castlenut.domain.rules.tables import CAUTIONS, read_tables
from castlenut.domain.units import Unit
from tests.builders import shipped

OWN = """
[[rule]]
id = "my-rule"
title = "widget, look over"
component = "brake hose"
every = { miles = 6000 }
"""


def read(text: str) -> tuple[Rule, ...]:
    """Read a garage's file over the shipped rules."""
    return read_rules(
        text,
        file="rules.toml",
        origin="garage",
        tables=shipped().tables,
        known=shipped().rules,
    )


def own(field: str) -> Rule:
    """Read a rule of a garage with one more field."""
    (rule,) = read(OWN + field)
    return rule


def faults(text: str) -> list[str]:
    with pytest.raises(BadInput) as bad:
        read(text)
    return [str(fault) for fault in bad.value.faults]


def fault_of(field: str) -> str:
    """Give the one fault of a rule with one more field; it stands on line 7."""
    (fault,) = faults(OWN + field)
    return fault


def test_a_rule_of_ones_own_needs_little_and_the_rest_has_its_default() -> None:
    rule = own("")

    assert rule.id == "my-rule"
    assert rule.title == "widget, look over"
    assert rule.kinds == ("brake hose",)
    assert rule.part == "Brakes"
    assert rule.unit is Unit.MI
    assert rule.every == Every(distance=Fraction(6000))
    assert rule.danger == 2
    assert rule.lead == Margin(percent=Fraction(10), cap_days=30, cap_distance=Fraction(500))
    assert rule.tolerance == Margin(percent=Fraction(0))
    assert rule.counting is Counting.DONE
    assert rule.source == "own rule of this garage"
    assert rule.basis is Basis.PRACTICE
    assert rule.origin == "garage"
    assert rule.intake is None
    assert not rule.off


@pytest.mark.parametrize(
    ("field", "attribute", "value"),
    [
        ('also_called = ["flexible", "pipe"]', "also_called", ("flexible", "pipe")),
        ('part = "Engine"', "part", "Engine"),
        ("danger = 1", "danger", 1),
        ("off = true", "off", True),
        ('off = true\nvehicles = ["red-wagon"]', "off_for", frozenset({"red-wagon"})),
        ("first = [50, 500]", "first", (Fraction(50), Fraction(500))),
        ('season = [["09-01", "10-31"]]', "season", (((9, 1), (10, 31)),)),
        ('check = "no crack"', "check", "no crack"),
        ("exposure = { wet = 0.5 }", "exposure", {"wet": Fraction(1, 2)}),
        ('next_from = "schedule"', "counting", Counting.SCHEDULE),
        ('counted_from = "layup"', "counted_from_layup", True),
        ("ends_under_yearly = 2000", "ends_under_yearly", Fraction(2000)),
        ('includes = ["hose-look"]', "includes", ("hose-look",)),
        ('instead_of = ["hose-look"]', "instead_of", ("hose-look",)),
        ('access = ["lift", "wheel"]', "access", ("lift", "wheel")),
        ("hours = 0.3", "hours", Fraction(3, 10)),
        ('per = "axle"', "per", Per.AXLE),
        ('parts = ["copper washer"]', "parts", ("copper washer",)),
        ('cautions = ["lift"]', "cautions", ("lift",)),
        ('intake = { rank = 2, act = "ask" }', "intake", Intake(rank=2, act=Act.ASK)),
        ('source = "its book, p. 31"', "source", "its book, p. 31"),
        ('basis = "R2"', "basis", Basis.RESTATED),
        ('note = "they differ"', "note", "they differ"),
        (
            'age = { months = 60, from = "made", advise = 48 }',
            "age",
            Age(counted_from=AgeFrom.MADE, months=60, advise=48),
        ),
    ],
)
def test_a_field_of_a_rule_is_read(field: str, attribute: str, value: object) -> None:
    assert getattr(own(field), attribute) == value


def test_a_bare_margin_is_percent_with_the_usual_caps() -> None:
    assert own("tolerance = 10").tolerance == Margin(
        percent=Fraction(10), cap_days=30, cap_distance=Fraction(500)
    )


def test_the_caps_of_a_bare_margin_are_exact_in_kilometers() -> None:
    rule = own('unit = "km"\ntolerance = 10')

    assert rule.tolerance.cap_distance == Fraction("804.672")
    assert rule.lead.cap_distance == Fraction("804.672")


def test_a_margin_may_be_written_out() -> None:
    rule = own("tolerance = { percent = 20, cap_days = 14, cap_distance = 200 }")

    assert rule.tolerance == Margin(percent=Fraction(20), cap_days=14, cap_distance=Fraction(200))


def test_a_margin_written_out_has_no_cap_that_is_not_written() -> None:
    assert own("lead = { percent = 20 }").lead == Margin(percent=Fraction(20))


def test_an_interval_in_miles_is_exact_in_a_rule_in_kilometers() -> None:
    rule = own('unit = "km"')

    assert rule.every == Every(distance=Fraction("9656.064"))


def test_an_interval_may_have_days_instead_of_months() -> None:
    (rule,) = read(OWN.replace("miles = 6000", "km = 1609.344, days = 45"))

    assert rule.every == Every(distance=Fraction(1000), days=45)


def test_points_after_events_are_read_in_either_form() -> None:
    rule = own(
        'also_after = ["wheel-off@50, 500", "oil@0",'
        ' { event = "align", at = 10, where = { material = "rubber" } }]'
    )

    assert rule.also_after == (
        EventPoint(event="wheel-off", at=Fraction(50)),
        EventPoint(event="wheel-off", at=Fraction(500)),
        EventPoint(event="oil", at=Fraction(0)),
        EventPoint(
            event="align",
            at=Fraction(10),
            where=Where(conditions=(Condition(attribute="material", values=("rubber",)),)),
        ),
    )


def test_a_conversion_is_an_event_too() -> None:
    assert own('also_after = ["front-discs@100"]').also_after == (
        EventPoint(event="front-discs", at=Fraction(100)),
    )


def test_conditions_are_read_whole() -> None:
    rule = own(
        'where = { material = ["rubber", "unknown"], drive = { not = "all" }, place = "front",'
        " year_from = 1950, year_to = 1960, weight_over_lb = 10000,"
        ' any_of = [{ dual = true }, { exposure = "salt" }] }'
    )

    assert rule.where == Where(
        conditions=(
            Condition(attribute="material", values=("rubber", "unknown")),
            Condition(attribute="drive", values=("all",), negated=True),
        ),
        any_of=(
            Where(conditions=(Condition(attribute="dual", values=("yes",)),)),
            Where(conditions=(Condition(attribute="exposure", values=("salt",)),)),
        ),
        places=tuple(each for each in [place("front")] if each),
        year_from=1950,
        year_to=1960,
        weight_over_lb=10000,
    )


def test_limits_are_read_whole() -> None:
    (rule,) = read(
        """
[[rule]]
id = "my-rule"
title = "linings, measure"
component = "brake shoe"
limits = [
  { measure = "lining_thickness", at_least = "1/16", where = { lining = "bonded" }, unit = "in" },
  { measure = "lining_thickness", at_least_of_new = "1/3", unit = "mm" },
  { measure = "toe", at_most = "spec", times = 1.5 },
  { measure = "ball_joint_play", at_most = "spec", if_unknown = 0.02, unit = "in" },
  { measure = "rotor_thickness", at_least = "stamped", unit = "mm" },
  { measure = "tread_depth", at_least = "2-1/2", advise = 4 },
]
"""
    )

    assert rule.limits == (
        Limit(
            measure="lining_thickness",
            bound=Bound.AT_LEAST,
            value=Fraction(1, 16),
            unit="in",
            where=Where(conditions=(Condition(attribute="lining", values=("bonded",)),)),
        ),
        Limit(
            measure="lining_thickness",
            bound=Bound.AT_LEAST,
            value=None,
            share_of_new=Fraction(1, 3),
            unit="mm",
        ),
        Limit(
            measure="toe", bound=Bound.AT_MOST, value=Figure.SPEC, times=Fraction(3, 2), unit="in"
        ),
        Limit(
            measure="ball_joint_play",
            bound=Bound.AT_MOST,
            value=Figure.SPEC,
            if_unknown=Fraction(1, 50),
            unit="in",
        ),
        Limit(measure="rotor_thickness", bound=Bound.AT_LEAST, value=Figure.STAMPED, unit="mm"),
        Limit(
            measure="tread_depth",
            bound=Bound.AT_LEAST,
            value=Fraction(5, 2),
            unit="1/32 in",
            advise=Fraction(4),
        ),
    )


def test_a_variant_may_have_an_age_of_its_own() -> None:
    rule = own(
        'variants = [{ where = { material = "braided" }, every = { months = 60 },'
        ' age = { months = 60, from = "made" } }]'
    )

    (variant,) = rule.variants
    assert variant.every == Every(months=60)
    assert variant.age == Age(counted_from=AgeFrom.MADE, months=60)


def test_a_change_replaces_the_fields_given_and_keeps_the_rest() -> None:
    (rule,) = read('[[rule]]\nid = "hub-repack"\nevery = { miles = 12000, months = 12 }\n')

    was = shipped().rules[RuleId("hub-repack")]
    assert rule.every == Every(distance=Fraction(12000), months=12)
    assert (rule.title, rule.access, rule.also_after) == (was.title, was.access, was.also_after)
    assert rule.origin == "garage"
    assert rule.source.startswith("own rule of this garage; as shipped: ")
    assert rule.basis is Basis.PRACTICE


def test_a_change_to_kilometers_takes_the_shipped_points_along() -> None:
    (rule,) = read('[[rule]]\nid = "u-bolts"\nunit = "km"\nevery = { km = 20000 }\n')

    assert rule.every == Every(distance=Fraction(20000))
    assert rule.first == (Fraction("482.8032"), Fraction("1609.344"))
    assert rule.also_after[0].at == Fraction("482.8032")


def test_an_empty_list_takes_a_shipped_list_away() -> None:
    (rule,) = read('[[rule]]\nid = "u-bolts"\nfirst = []\n')

    assert rule.first == ()


def test_a_rule_off_for_one_car_stays_on_for_the_others() -> None:
    (rule,) = read('[[rule]]\nid = "oil"\noff = true\nvehicles = ["red-wagon"]\n')

    assert not rule.off
    assert rule.off_for == {"red-wagon"}


def test_a_rule_that_is_off_as_shipped_is_put_in_force() -> None:
    (rule,) = read('[[rule]]\nid = "hydraulics-seals"\noff = false\n')

    assert not rule.off


def test_the_top_of_a_file_sets_part_and_danger_of_its_rules() -> None:
    (rule,) = read('part = "Storage"\ndanger = 3\n' + OWN)

    assert (rule.part, rule.danger) == ("Storage", 3)


def test_an_empty_file_holds_no_rules() -> None:
    assert read("# nothing yet\n") == ()


def test_a_byte_order_mark_is_passed_over() -> None:
    assert len(read("\ufeff" + OWN)) == 1


@pytest.mark.parametrize(
    ("field", "said"),
    [
        ('tolerance = "ten"', 'tolerance: "ten" is not a number; allowed 0 to 50'),
        ("tolerance = 51", "tolerance: 51 is out of range; allowed 0 to 50"),
        ("lead = { cap_days = 3 }", "lead.percent: is missing; allowed 0 to 50"),
        (
            "lead = { percent = 5, cap_miles = 3 }",
            "lead.cap_miles: not a part of a margin; use percent, cap_days or cap_distance",
        ),
        ("danger = 4", "danger: 4 is out of range; allowed 1 to 3"),
        ("danger = 1.5", "danger: 1.5 is not a whole number; allowed 1 to 3"),
        ('off = "no"', 'off: "no" is not true or false; write true or false'),
        ('vehicles = ["a"]', "vehicles: stands without off = true; write off = true beside it"),
        ('unit = "mile"', 'unit: "mile" is not allowed here; allowed mi or km (did you mean mi?)'),
        ('per = "bolt"', 'per: "bolt" is not allowed here; allowed car, wheel, axle or side'),
        (
            'part = "Brake"',
            ('part: "Brake" is not a part of the car; allowed Wheels and tires, Wheel bearings,'
            " Brakes, Steering and suspension, Driveline, Engine, Cooling and fuel, Electrics,"
            " Body and safety or Storage (did you mean Brakes?)"),
        ),
        ('access = ["hubb"]', 'access: "hubb" is not an access; did you mean hub?'),
        ('cautions = ["fire"]', 'cautions: "fire" is not a caution; allowed one of the 16 known'),
        ('includes = ["oyl"]', 'includes: "oyl" is not a rule; did you mean oil?'),
        ('instead_of = ["oyl"]', 'instead_of: "oyl" is not a rule; did you mean oil?'),
        ("access = 3.5", 'access: 3.5 is not a text or a list of texts; write ["one", "two"]'),
        ("source = 3", "source: 3 is not a text of one line; write words in quotes"),
        ('source = "  "', 'source: "  " is not a text of one line; write words in quotes'),
        ('check = "a\\tb"', 'check: "a?b" is not a text of one line; write words in quotes'),
        ('basis = "X"', 'basis: "X" is not allowed here; allowed R, R2, M, P or C'),
        (
            'next_from = "plan"',
            'next_from: "plan" is not allowed here; allowed done or schedule',
        ),
        (
            'counted_from = "winter"',
            'counted_from: "winter" is not a start of counting; allowed baseline or layup',
        ),
        ("hours = true", "hours: true is not a number; allowed 0 to 200"),
        ("hours = -1", "hours: -1 is out of range; allowed 0 to 200"),
        ("hours = nan", "hours: NaN is not a number; allowed 0 to 200"),
        ("hours = 1e-400", "hours: 1E-400 is not a number; allowed 0 to 200"),
        ('first = 500', "first: 500 is not a list; write [500, 1000]"),
        (
            "first = [500, 300]",
            "first: the points do not rise; write them in order, as [500, 1000]",
        ),
        ('first = ["x"]', 'first: "x" is not a number; allowed 0 to 1000000'),
        (
            'also_after = ["weel-off@50"]',
            ('also_after: "weel-off" is not an event or a rule; did you mean wheel-off?'),
        ),
        (
            'also_after = ["weld"]',
            'also_after: "weld" has no distance; write ["wheel-off@50"]',
        ),
        (
            'also_after = ["weld@soon"]',
            'also_after: "soon" is not a distance; write ["wheel-off@50"]',
        ),
        ("also_after = [5]", 'also_after: 5 is not a point; write ["wheel-off@50"]'),
        (
            'also_after = [{ event = "alignn", at = 0 }]',
            'also_after.1.event: "alignn" is not an event or a rule; did you mean align?',
        ),
        (
            'also_after = [{ event = "align" }]',
            'also_after.1.at: is missing; write { event = "align", at = 0 }',
        ),
        (
            'season = [["02-30", "10-31"]]',
            'season: ["02-30", "10-31"] is not a part of the year; write [["09-01", "10-31"]]',
        ),
        (
            'age = { months = 12, from = "birth" }',
            'age.from: "birth" is not allowed here; allowed made, fitted or label',
        ),
        (
            "age = { months = 12 }",
            'age.from: is missing; write from = "made", "fitted" or "label"',
        ),
        (
            "exposure = { rain = 0.5 }",
            ("exposure.rain: not an exposure; use wet, salt, dust, towing, stop-start, stored"
            " outdoors or laid up"),
        ),
        ("exposure = { wet = 2 }", "exposure.wet: 2 is out of range; allowed 0 to 1"),
        (
            "exposure = { wet = 0 }",
            "exposure.wet: 0 leaves no interval; allowed above 0, to 1",
        ),
        ("exposure = 0.5", "exposure: 0.5 is not a table; write { wet = 0.5, salt = 0.5 }"),
        (
            'intake = { rank = 5, act = "look" }',
            "intake.rank: 5 is out of range; allowed 1 to 4",
        ),
        (
            'intake = { rank = 1, act = "do" }',
            'intake.act: "do" is not allowed here; allowed renew, look or ask',
        ),
        ("intake = { rank = 1 }", 'intake.act: is missing; write { rank = 1, act = "renew" }'),
        (
            'where = { servise = "x" }',
            ("where.servise: not an attribute of this kind or of the car; use drive, dual, kept_at,"
            " use, exposure, material, any_of, place, year_from, year_to or weight_over_lb"),
        ),
        (
            'where = { material = "ruber" }',
            ('where.material: "ruber" is not a value of material; allowed rubber, braided or'
            " unknown (did you mean rubber?)"),
        ),
        (
            'where = { material = { is = "rubber" } }',
            "where.material.is: not a condition; use not",
        ),
        (
            'where = { material = { not = "ruber" } }',
            ('where.material.not: "ruber" is not a value of material; allowed rubber, braided or'
            " unknown (did you mean rubber?)"),
        ),
        (
            'where = { place = "middle" }',
            ("where.place: 'middle' is not a place; write LF, RF, LR, RR, SP, L, R, front or rear,"
            " then upper, lower, inner, outer or a number if need be"),
        ),
        (
            "where = { year_from = 1960, year_to = 1950 }",
            "where.year_to: 1950 lies before year_from; turn the two round",
        ),
        (
            "where = { year_to = 62 }",
            "where.year_to: 62 is out of range; allowed 1885 to 2100",
        ),
        (
            "variants = [{ where = {} }]",
            "variants.1.every: is missing; write every = { miles = 6000, months = 6 }",
        ),
        (
            'limits = [{ measure = "padd", at_least = 2 }]',
            'limits.1.measure: "padd" is not a measure; allowed one of the 27 known',
        ),
        (
            'limits = [{ measure = "pad_thicknes", at_least = 2 }]',
            ('limits.1.measure: "pad_thicknes" is not a measure; did you mean pad_thickness?'),
        ),
        (
            'limits = [{ measure = "pad_thickness" }]',
            "limits.1: has no bound; give one of at_least, at_most or at_least_of_new",
        ),
        (
            'limits = [{ measure = "pad_thickness", at_least = 1, at_most = 2 }]',
            ("limits.1: has both at_least and at_most; give one of at_least, at_most or"
            " at_least_of_new"),
        ),
        (
            'limits = [{ measure = "pad_thickness", at_least = "stampd" }]',
            ('limits.1.at_least: "stampd" is neither a number nor a figure of the car; a number,'
            ' "1/8", or one of spec, stamped or table (did you mean stamped?)'),
        ),
        (
            'limits = [{ measure = "pad_thickness", at_least = 2, times = 2 }]',
            'limits.1.times: multiplies no figure; use it beside "spec" or "stamped" only',
        ),
        (
            'limits = [{ measure = "pad_thickness", at_least = 2, unit = "furlong" }]',
            'limits.1.unit: "furlong" is not a unit of pad_thickness; allowed 1/32 in, mm or in',
        ),
        ("limits = 3", ('limits: 3 is not a list of tables; write [{ measure = "pad_thickness",'
         ' at_least = "1/8", unit = "in" }]')),
        ('colour = "red"', "colour: not a field of a rule; use one of the 36 known"),
        ("tolerence = 10", "tolerence: not a field of a rule; did you mean tolerance?"),
    ],
)  # fmt: skip
def test_a_fault_says_line_rule_field_and_what_is_allowed(field: str, said: str) -> None:
    assert fault_of(field) == f"rules.toml line 7, my-rule, {said}"


@pytest.mark.parametrize(
    ("every", "said"),
    [
        (
            "{ mile = 3000 }",
            (
                "every.mile: not a side of an interval; use miles, km, months or days"
                " (did you mean miles?)"
            ),
        ),
        ("{ miles = 5, km = 8 }", "every.km: stands beside miles; give one of the two"),
        ("{ months = 5, days = 8 }", "every.days: stands beside months; give one of the two"),
        (
            "{ miles = 0, months = 1 }",
            "every.miles: 0 is no interval; leave that side out, or give more than 0",
        ),
        ("{ months = 1.5 }", "every.months: 1.5 is not a whole number; allowed 0 to 1200"),
        ("{}", "every: has no side; write { miles = 6000, months = 6 }"),
        ('"6k/6m"', 'every: "6k/6m" is not a table; write { miles = 6000, months = 6 }'),
    ],
)
def test_a_fault_of_an_interval_says_its_line(every: str, said: str) -> None:
    text = OWN.replace("{ miles = 6000 }", every) + "first = [1]\n"

    assert faults(text) == [f"rules.toml line 6, my-rule, {said}"]


def test_the_line_of_a_limit_is_its_own_in_a_list_over_several_lines() -> None:
    text = OWN + (
        "limits = [\n"
        '  { measure = "pad_thickness", at_least = 3, unit = "mm" },\n'
        '  { measure = "pad_thickness", at_least = "thin" },\n'
        "]\n"
    )

    (fault,) = faults(text)
    assert fault.startswith('rules.toml line 9, my-rule, limits.2.at_least: "thin" is neither')


def test_the_line_of_a_field_in_a_table_of_its_own_is_found() -> None:
    text = OWN.replace("every = { miles = 6000 }", "[rule.every]\nmiles = 6000\nmonth = 3")

    (fault,) = faults(text)
    assert fault.startswith("rules.toml line 8, my-rule, every.month: not a side of an interval")


def test_all_faults_of_a_file_are_told_at_once_in_the_order_of_its_lines() -> None:
    text = """# my rules
[[rule]]
id = "u-bolts"
tolerance = "ten"

[[rule]]
id = "front-bearings"
title = "front bearings"
component = "wheel bearing"
hours = "long"
every = { mile = 3000 }
first = [1]
"""

    assert faults(text) == [
        'rules.toml line 4, u-bolts, tolerance: "ten" is not a number; allowed 0 to 50',
        'rules.toml line 10, front-bearings, hours: "long" is not a number; allowed 0 to 200',
        (
            "rules.toml line 11, front-bearings, every.mile: not a side of an interval;"
            " use miles, km, months or days (did you mean miles?)"
        ),
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[[rule]]\ntitle = "x"\n', 'line 1, rule 1, id: is missing; write id = "my-rule"'),
        (
            '[[rule]]\nid = "My Rule"\n',
            ('line 2, My Rule, id: "My Rule" may not be an id; use small letters, digits and single'
            " hyphens"),
        ),
        (
            '[[rule]]\nid = "own"\n',
            'line 2, own, id: "own" may not be an id; use small letters, digits and single hyphens',
        ),
        (
            '[[rule]]\nid = "weld"\ntitle = "x"\n',
            'line 2, weld, id: "weld" is the name of an event; choose another id',
        ),
        (
            '[[rule]]\nid = "u-bolt"\noff = true\n',
            ('line 2, u-bolt, id: "u-bolt" is not a rule that can be changed; did you mean'
            " u-bolts?; a rule of your own needs title, component"),
        ),
        (
            '[[rule]]\nid = "oil"\n[[rule]]\nid = "oil"\n',
            'line 4, oil, id: "oil" stands twice in this file; keep one of them',
        ),
        (
            '[[rule]]\nid = "a"\ntitle = "x"\nfirst = [1]\n',
            'line 1, a, component: is missing; write component = "brake hose"',
        ),
        (
            '[[rule]]\nid = "a"\ncomponent = "wheel"\nfirst = [1]\n',
            'line 1, a, title: is missing; write title = "thing, what is done"',
        ),
        (
            '[[rule]]\nid = "a"\ntitle = "x"\ncomponent = "wheel"\n',
            "line 1, a: nothing makes it due; give every, first, also_after, age or limits",
        ),
        (
            '[[rule]]\nid = "a"\ntitle = "x"\ncomponent = "break hose"\nfirst = [1]\n',
            ('line 4, a, component: "break hose" is not a kind of component; did you mean brake'
            " hose or brake shoe?"),
        ),
        ("rule = 3\n", "line 1, rule: 3 is not a list of tables; write [[rule]]"),
        ('[rule]\nid = "a"\n', "line 1, rule: a table is not a list of tables; write [[rule]]"),
        (
            'id = "a"\n',
            "line 1, id: not a part of this file; use rule, part or danger",
        ),
        ('\npart = "Wings"\n', "line 2, part: "),
        (
            '[[rule]]\nid = \n',
            ("line 2: not TOML: invalid value; mend that line; text stands in quotes, a rule begins"
            " with [[rule]]"),
        ),
        ("\n\nx = [\n", "line 3: not TOML: invalid value; "),
        ("a = 1\na = 2\n", "line 2: not TOML: cannot overwrite a value; "),
        ("x = " + "[" * 5000, "line 1: not TOML: lists in lists too deep; "),
        ("\nx = " + "9" * 5000, "line 2: not TOML: a number too long to read; "),
    ],
)  # fmt: skip
def test_a_fault_of_a_rule_or_a_file_says_its_line(text: str, said: str) -> None:
    (fault,) = faults(text)

    assert fault.startswith(f"rules.toml {said}")


def test_a_shipped_rule_must_say_where_it_comes_from() -> None:
    with pytest.raises(BadInput) as bad:
        read_rules(OWN, file="brakes.toml", origin="shipped", tables=shipped().tables)

    assert [str(fault) for fault in bad.value.faults] == [
        "brakes.toml line 2, my-rule, source: is missing; a shipped rule says where it comes from",
        "brakes.toml line 2, my-rule, basis: is missing; a shipped rule says where it comes from",
    ]


TEXTS = ShippedTexts(
    rules={},
    kinds='[[kind]]\nname = "rotor"\npart = "Brakes"\npositions = ["corners"]\n',
    events='event = [{ name = "weld", words = "welded" }]\n',
    accesses='access = [{ key = "lift", words = "on the lift" }]\n',
    conversions="",
    assemblies="",
)


def table_faults(**texts: str) -> list[str]:
    given = {
        "kinds": TEXTS.kinds,
        "events": TEXTS.events,
        "accesses": TEXTS.accesses,
        "conversions": TEXTS.conversions,
        "assemblies": TEXTS.assemblies,
    } | texts
    with pytest.raises(BadInput) as bad:
        read_tables(**given)
    return [str(fault) for fault in bad.value.faults]


@pytest.mark.parametrize(
    ("table", "text", "said"),
    [
        (
            "kinds",
            '[[kind]]\nname = "rotor"\npart = "Brakes"\npositions = ["corner"]\n',
            (
                'kinds.toml line 4, rotor, positions: "corner" is not a way of standing; allowed'
                " corners, corners and spare, sides, ends, one, numbered or free"
                " (did you mean corners?)"
            ),
        ),
        (
            "kinds",
            '[[kind]]\nname = "rotor"\nraises = ["welded"]\n',
            (
                'kinds.toml line 3, rotor, raises: "welded" is not an event; allowed weld'
                " (did you mean weld?)"
            ),
        ),
        (
            "kinds",
            (
                '[[kind]]\nname = "fluid"\nattributes = { fluid = ["A"] }\n'
                'apart = { fluid = [["B"]] }\n'
            ),
            (
                "kinds.toml line 4, fluid, apart.fluid: holds a value the attribute does not have;"
                " use its own values"
            ),
        ),
        (
            "events",
            'event = [\n  { name = "weld" },\n]\n',
            'events.toml line 1, weld, words: is missing; write words = "..."',
        ),
        (
            "accesses",
            'access = [{ key = "lift", words = "up", hours = "long" }]\n',
            'accesses.toml line 1, lift, hours: "long" is not a number; allowed 0 to 100',
        ),
        (
            "conversions",
            '[[conversion]]\nname = "c"\ntitle = "C"\nends = [{ kind = "rotr" }]\n',
            (
                'conversions.toml line 4, c, ends.1.kind: "rotr" is not a kind; allowed rotor'
                " (did you mean rotor?)"
            ),
        ),
        (
            "conversions",
            (
                '[[conversion]]\nname = "c"\ntitle = "C"\n'
                'begins = [{ kind = "rotor", attributes = { size = "big" } }]\n'
            ),
            (
                "conversions.toml line 4, c, begins.1.attributes.size: not an attribute of the"
                " kind; use no attribute"
            ),
        ),
        (
            "assemblies",
            '[[assembly]]\nname = "a"\nbrings = ["wheel"]\n',
            'assemblies.toml line 3, a, brings: "wheel" is not a kind; allowed rotor',
        ),
    ],
)
def test_a_fault_of_a_shipped_table_says_its_file(table: str, text: str, said: str) -> None:
    assert table_faults(**{table: text})[0] == said


def test_a_rule_in_two_shipped_files_is_a_fault() -> None:
    rule = (
        '[[rule]]\nid = "a"\ntitle = "x"\ncomponent = "rotor"\nfirst = [1]\n'
        'source = "s"\nbasis = "P"\n'
    )

    with pytest.raises(BadInput) as bad:
        read_shipped(
            ShippedTexts(
                rules={"one.toml": rule, "two.toml": rule},
                kinds=TEXTS.kinds,
                events=TEXTS.events,
                accesses=TEXTS.accesses,
                conversions='[[conversion]]\nname = "c"\ntitle = "C"\ntriggers = { b = [0] }\n',
                assemblies=TEXTS.assemblies,
            )
        )

    assert [str(fault) for fault in bad.value.faults] == [
        "two.toml, a: stands in another file too; keep one of them",
        'conversions.toml, c, triggers: triggers "b", which is not a rule; name a shipped rule',
    ]


DOCS = (Path(__file__).parents[2] / "docs" / "rules.md").read_text("utf-8")


def test_the_page_on_rules_names_every_field() -> None:
    assert [field for field in FIELDS if f"`{field}`" not in DOCS] == []


def test_the_page_on_rules_names_every_measure_access_and_caution() -> None:
    words = set(re.findall(r"[a-z_][a-z0-9_-]*", DOCS))

    assert [
        each for each in (*MEASURES, *shipped().tables.accesses, *CAUTIONS) if each not in words
    ] == []


@pytest.mark.parametrize("block", re.findall(r"```toml\n(.*?)```", DOCS, re.DOTALL))
def test_what_the_page_on_rules_shows_can_be_read(block: str) -> None:
    text = block if "[[rule]]" in block else OWN.replace("brake hose", "tire") + block

    assert read(text)


def test_the_page_on_rules_counts_the_shipped_ones() -> None:
    assert f"{len(shipped().rules)} of them come with the program" in DOCS
