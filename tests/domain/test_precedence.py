"""Whose figure counts: the garage over the shipped rules, the car over the garage."""

from fractions import Fraction

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.ids import RuleId
from castlenut.domain.rules.distances import exact, rule_in
from castlenut.domain.rules.precedence import (
    RuleChange,
    change_faults,
    every_from_text,
    for_car,
    rule_book,
)
from castlenut.domain.rules.rule import Basis, Bound, EventPoint, Every, Figure, Limit, Rule
from castlenut.domain.units import Unit
from tests.builders import book, shipped


def rule_of(id_: str) -> Rule:
    return shipped().rules[RuleId(id_)]


def change(
    id_: str,
    *,
    unit: Unit = Unit.MI,
    every: Every | None = None,
    first: tuple[Fraction, ...] | None = None,
    limits: dict[str, Fraction] | None = None,
    off: bool | None = None,
) -> RuleChange:
    return RuleChange(
        rule=RuleId(id_),
        why="its book, p. 31",
        unit=unit,
        every=every,
        first=first,
        limits=limits or {},
        off=off,
    )


def test_without_a_file_of_the_garage_the_shipped_rules_are_in_force() -> None:
    rules, faults = rule_book(shipped(), None)

    assert faults == ()
    assert set(rules.rules) == set(shipped().rules)


def test_the_garage_changes_one_rule_and_adds_another() -> None:
    rules = book(
        '[[rule]]\nid = "oil"\nevery = { miles = 5000 }\n'
        '[[rule]]\nid = "wiper-look"\ntitle = "wiper blades"\ncomponent = "lights"\n'
        "every = { months = 12 }\n"
    )

    assert rules.rules[RuleId("oil")].every == Every(distance=Fraction(5000))
    assert rules.rules[RuleId("oil")].origin == "garage"
    assert rules.rules[RuleId("wiper-look")].title == "wiper blades"
    assert rules.rules[RuleId("hub-repack")].origin == "shipped"


def test_a_file_with_any_fault_changes_nothing() -> None:
    """Half a file in force would be worse than none: nobody would know which half."""
    rules, faults = rule_book(
        shipped(),
        '[[rule]]\nid = "oil"\nevery = { miles = 5000 }\n[[rule]]\nid = "u-bolts"\ndanger = 9\n',
    )

    assert [str(fault) for fault in faults] == [
        "rules.toml line 6, u-bolts, danger: 9 is out of range; allowed 1 to 3"
    ]
    assert rules.rules[RuleId("oil")].every == Every(distance=Fraction(3000), months=6)


def test_what_a_conversion_makes_due_stands_among_the_points_of_the_rules() -> None:
    rules = book().rules

    assert EventPoint(event="front-discs", at=Fraction(50)) in rules[RuleId("pipe-look")].also_after
    assert EventPoint(event="poly-bushings", at=Fraction(500)) in rules[RuleId("align")].also_after


def test_what_a_conversion_makes_due_holds_for_a_rule_the_garage_has_put_in_kilometers() -> None:
    rules = book('[[rule]]\nid = "pipe-look"\nunit = "km"\nalso_after = []\n').rules

    points = rules[RuleId("pipe-look")].also_after
    assert EventPoint(event="front-discs", at=Fraction("80.4672")) in points


def test_a_car_of_its_own_interval_has_that_and_says_why() -> None:
    rule = for_car(rule_of("battery-test"), [change("battery-test", every=Every(months=2))])

    assert rule.every == Every(months=2)
    assert rule.variants == ()
    assert rule.origin == "this car"
    assert rule.source == "its book, p. 31"
    assert rule.basis is Basis.PRACTICE


def test_a_cars_longer_interval_is_not_cut_short_by_the_age_limit_of_the_rule() -> None:
    rule = for_car(
        rule_of("hose-renew"),
        [change("hose-renew", every=Every(distance=Fraction(60000), months=84))],
    )

    assert rule.age is not None
    assert rule.age.months == 84


def test_a_cars_interval_without_a_time_side_has_no_age_limit_either() -> None:
    rule = for_car(
        rule_of("hose-renew"), [change("hose-renew", every=Every(distance=Fraction(60000)))]
    )

    assert rule.age is None


def test_a_cars_interval_leaves_the_start_of_looking_and_the_label_alone() -> None:
    look = for_car(rule_of("tire-age-look"), [change("tire-age-look", every=Every(months=6))])

    assert look.age == rule_of("tire-age-look").age


def test_what_a_car_does_not_change_stays_the_garages() -> None:
    garage = book('[[rule]]\nid = "u-bolts"\nfirst = [200]\n').rules[RuleId("u-bolts")]

    rule = for_car(garage, [change("u-bolts", every=Every(distance=Fraction(6000)))])

    assert rule.every == Every(distance=Fraction(6000))
    assert rule.first == (Fraction(200),)


def test_a_change_of_another_rule_leaves_a_rule_alone() -> None:
    rule = rule_of("oil")

    assert for_car(rule, [change("u-bolts", off=True)]) is rule


def test_of_two_changes_the_later_goes_over_the_earlier() -> None:
    rule = for_car(
        rule_of("oil"),
        [
            change("oil", every=Every(months=3), first=(Fraction(100),)),
            change("oil", every=Every(months=4)),
        ],
    )

    assert rule.every == Every(months=4)
    assert rule.first == (Fraction(100),)


def test_a_car_may_have_no_first_points() -> None:
    assert for_car(rule_of("u-bolts"), [change("u-bolts", first=())]).first == ()


def test_a_change_in_kilometers_takes_the_rules_points_along_exactly() -> None:
    rule = for_car(
        rule_of("u-bolts"),
        [change("u-bolts", unit=Unit.KM, every=Every(distance=Fraction(20000)))],
    )

    assert rule.unit is Unit.KM
    assert rule.every == Every(distance=Fraction(20000))
    assert rule.first == (Fraction("482.8032"), Fraction("1609.344"))


def test_a_rule_off_for_one_car_is_off_in_its_book_alone() -> None:
    assert for_car(rule_of("oil"), [change("oil", off=True)]).off
    assert not rule_of("oil").off


def test_a_rule_off_as_shipped_is_put_in_force_for_a_car_whose_book_asks_it() -> None:
    rule = for_car(rule_of("hydraulics-seals"), [change("hydraulics-seals", off=False)])

    assert not rule.off


def test_a_rule_the_garage_took_from_a_car_is_put_in_force_again() -> None:
    garage = book('[[rule]]\nid = "oil"\noff = true\nvehicles = ["red-wagon"]\n')

    rule = for_car(garage.rules[RuleId("oil")], [change("oil", off=False)])

    assert rule.off_for == frozenset()


def test_a_cars_own_limit_stands_in_place_of_the_rules() -> None:
    rule = for_car(rule_of("pad-measure"), [change("pad-measure", limits={"pad_thickness": THREE})])

    assert rule.limits == (
        Limit(measure="pad_thickness", bound=Bound.AT_LEAST, value=THREE, unit="in"),
    )


THREE = Fraction(3, 16)


def test_a_cars_own_limit_of_a_play_is_the_most_it_may_have() -> None:
    rule = for_car(
        rule_of("hub-play"), [change("hub-play", limits={"bearing_end_play": Fraction(8, 1000)})]
    )

    assert [(limit.bound, limit.value) for limit in rule.limits] == [
        (Bound.AT_LEAST, Fraction(1, 1000)),
        (Bound.AT_MOST, Fraction(8, 1000)),
    ]


def test_a_cars_own_figure_takes_the_place_of_every_limit_of_that_measure() -> None:
    rule = for_car(
        rule_of("shoe-measure"),
        [change("shoe-measure", limits={"lining_thickness": Fraction(1, 8)})],
    )

    assert [limit.value for limit in rule.limits] == [Fraction(1, 8)]


def test_a_cars_own_toe_is_not_multiplied() -> None:
    rule = for_car(rule_of("align"), [change("align", limits={"toe": Fraction(1, 4)})])

    (toe,) = (limit for limit in rule.limits if limit.measure == "toe")
    assert (toe.value, toe.times) == (Fraction(1, 4), Fraction(1))
    assert Figure.SPEC in [limit.value for limit in rule.limits]


def test_a_limit_the_rule_does_not_have_is_added() -> None:
    rule = for_car(rule_of("oil"), [change("oil", limits={"fluid_copper": Fraction(100)})])

    assert rule.limits == (
        Limit(measure="fluid_copper", bound=Bound.AT_MOST, value=Fraction(100), unit="ppm"),
    )


def test_a_change_of_what_is_not_known_is_told() -> None:
    faults = change_faults(change("oyl", limits={"padd": Fraction(1)}), book())

    assert [str(fault) for fault in faults] == [
        'rule: "oyl" is not a rule; castlenut rules lists them all',
        'oyl, limit: "padd" is not a measure; name one of the rule\'s own measures',
    ]
    assert change_faults(change("oil"), book()) == ()


@pytest.mark.parametrize(
    ("text", "distance", "months", "days"),
    [
        ("12k/24m", 12000, 24, None),
        ("500mi", 500, None, None),
        ("500 mi", 500, None, None),
        ("500", 500, None, None),
        ("12,000mi/1y", 12000, 12, None),
        ("6k/-", 6000, None, None),
        ("-/12m", None, 12, None),
        (".25k", 250, None, None),
        ("2.5k/6m", 2500, 6, None),
        ("-/45d", None, None, 45),
        ("1k/2w", 1000, None, 14),
        ("3m", None, 3, None),
        ("6 months", None, 6, None),
        (" 12K / 24M ", 12000, 24, None),
    ],
)
def test_an_interval_is_read_as_it_is_typed(
    text: str, distance: int | None, months: int | None, days: int | None
) -> None:
    expected = None if distance is None else Fraction(distance)

    assert every_from_text(text, Unit.MI) == Every(distance=expected, months=months, days=days)


def test_a_distance_without_a_unit_is_in_the_cars_own() -> None:
    assert every_from_text("12k/24m", Unit.KM) == Every(distance=Fraction(12000), months=24)


def test_a_distance_in_the_other_unit_is_converted_exactly() -> None:
    assert every_from_text("10000km/12m", Unit.MI) == Every(
        distance=Fraction(10000) / Fraction("1.609344"), months=12
    )
    assert every_from_text("10k km", Unit.KM) == Every(distance=Fraction(10000))
    assert every_from_text("500mi", Unit.KM) == Every(distance=Fraction("804.672"))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "-",
        "-/-",
        "12k/",
        "/12m",
        "12q",
        "12k/24",
        "0",
        "0/12m",
        "12k/0m",
        "-5",
        "1/2/3",
        "12k/24m/",
        "1e9",
        "9999y",
        "99999999",
        "six months",
        "12k/9999999999m",
    ],
)
def test_what_is_no_interval_is_refused_with_the_forms_that_are(text: str) -> None:
    with pytest.raises(BadInput) as bad:
        every_from_text(text, Unit.MI)

    (fault,) = bad.value.faults
    assert str(fault) == (
        f'every: "{text}" is not an interval;'
        " write a distance, a time or both, as 12k/24m, 500mi, 6k/-, -/12m or 10000km/12m"
    )


def test_a_rule_comes_back_from_another_unit_unchanged() -> None:
    """Nothing is lost: distances are kept as exact fractions."""
    for rule in shipped().rules.values():
        assert rule_in(rule_in(rule, Unit.KM), Unit.MI) == rule


def test_a_rule_in_its_own_unit_is_the_same_rule() -> None:
    assert rule_in(rule_of("oil"), Unit.MI) is rule_of("oil")


def test_every_distance_of_a_rule_goes_into_the_other_unit() -> None:
    rule = rule_in(rule_of("tire-rotate"), Unit.KM)

    assert rule.every == Every(distance=Fraction("8046.72"))
    assert rule.first == (Fraction("8046.72"),)
    assert rule.ends_under_yearly == Fraction("3218.688")
    assert rule.lead.cap_distance == Fraction("804.672")


def test_a_mile_is_exactly_1_609344_km() -> None:
    assert exact(Fraction(1), given=Unit.MI, wanted=Unit.KM) == Fraction("1.609344")
    assert exact(Fraction("1.609344"), given=Unit.KM, wanted=Unit.MI) == 1
