"""The shipped rules against published service charts: each default equals a figure or lies within.

Where a source gives one figure, the default is that figure or, where several sources differ, no
later than the latest of them. Makes are named as the sources name themselves.
"""

from fractions import Fraction

import pytest

from castlenut.domain.ids import RuleId
from castlenut.domain.rules.rule import Bound, Figure, Limit, Rule
from castlenut.domain.units import KM_PER_MI
from tests.builders import shipped


def rule_of(id_: str) -> Rule:
    return shipped().rules[RuleId(id_)]


def miles(id_: str) -> float:
    every = rule_of(id_).every
    assert every is not None
    assert every.distance is not None
    return float(every.distance)


def months(id_: str) -> int:
    rule = rule_of(id_)
    if rule.every is not None and rule.every.months is not None:
        return rule.every.months
    assert rule.age is not None
    assert rule.age.months is not None
    return rule.age.months


def limits(id_: str, measure: str) -> list[Limit]:
    return [limit for limit in rule_of(id_).limits if limit.measure == measure]


def on(row: str, basis: str, source: str, *case: object) -> object:
    """Give a case with where it was published."""
    return pytest.param(
        *case,
        marks=pytest.mark.published(row, basis=basis, source=source),
        id=f"{row}-{'-'.join(str(each) for each in case)}",
    )


MINI = "Mini 1969-2001 repair manual, schedule"
DEFENDER = "Land Rover Defender 1993 workshop manual, maintenance page"
GROUP_1967 = "Automotive Products Group, The Press 4 Aug 1967"
LO_273 = "LO 9-2320-273-12"
ARMY_STORAGE = "TM 9-2330-267-14&P 4-65"
NFPA = "pages restating NFPA 10 (1998-2007)"
MINOR = "Morris Minor maintenance manual, extract"
HEALEY = "owners' magazine guide to the Austin-Healey six, 2011"


@pytest.mark.parametrize(
    ("id_", "published"),
    [
        on(
            "4.14", "R", "GM 2005, Nankang: 5,000 mi if the maker says nothing", "tire-rotate", 5000
        ),
        on("4.24", "R", "Chevrolet 10-60 series 1970 p.0-19", "wheel-nuts-heavy", 1000),
        on("6.13", "R", f"{LO_273} note 2(d)", "hub-repack", 24000),
        on("6.18", "R2", "owner site restating service standards B-13", "hub-repack-4x4", 6000),
        on("6.19", "R2", "magazine columnist, 2021", "hub-repack-old", 10000),
        on("6.21", "R", "Studebaker Champion 1952 lubrication chart", "hub-repack-old", 10000),
        on("5.13", "R", DEFENDER, "brake-fluid", 15000),
        on("5.13", "R", DEFENDER, "clutch-fluid", 15000),
        on("5.15", "R", GROUP_1967, "brake-level", 1000),
        on("5.16", "R", GROUP_1967, "pad-measure", 5000),
        on("5.17", "R", GROUP_1967, "pipe-look", 10000),
        on("5.21", "R", MINI, "shoe-adjust", 3000),
        on("5.21", "R", MINI, "parking-brake", 3000),
        on("5.22", "R", MINI, "shoe-measure", 6000),
        on("5.22", "R", MINI, "hose-look", 3000),
        on("9.01", "R", "Chevrolet light truck 1973 p.0-16", "grease", 6000),
        on("9.03", "R", "Chevrolet light truck 1973 p.0-16", "hinges", 6000),
        on("9.06", "R", "Chevrolet 10 series 1968, 1970", "ujoint-grease", 6000),
        on("9.06", "R", "Chevrolet 10 series 1968, 1970", "axle-level", 6000),
        on("9.20", "R", "Pontiac 1957 owner's manual p.30, first point", "grease-old", 1000),
        on("9.25", "R2", "Jeep CJ-3B service standards B-11, owner site", "box-level-old", 1000),
        on("9.25", "R2", "Jeep CJ-3B service standards B-11, owner site", "knuckle", 12000),
        on("9.30", "R2", "MG Farina handbook as restated by a club", "kingpin", 500),
        on("9.31", "R2", MINOR, "kingpin", 500),
        on("9.31", "R2", MINOR, "oil", 3000),
        on("9.31", "R2", MINOR, "air-oilbath", 3000),
        on("9.31", "R2", MINOR, "generator-oil", 3000),
        on("9.31", "R2", MINOR, "dashpot", 1000),
        on("9.33", "R2", "Triumph owners' list citing the workshop manual", "trunnion-oil", 6000),
        on("9.34", "R2", HEALEY, "valve-clear", 12000),
        on("9.34", "R2", HEALEY, "plugs-clean", 6000),
        on("9.34", "R2", HEALEY, "plugs-renew", 12000),
        on("9.34", "R2", HEALEY, "distributor-oil", 6000),
        on("9.35", "R", MINI, "belt-look", 3000),
        on("9.35", "R", MINI, "fuel-hose-look", 3000),
        on("9.36", "R", MINI, "points-set", 6000),
        on("9.36", "R", MINI, "cv-boot", 6000),
        on("9.36", "R", MINI, "hose-coolant-look", 6000),
        on("9.36", "R", MINI, "clutch-play", 6000),
        on("9.37", "R", MINI, "leads", 12000),
        on("9.37", "R", MINI, "plugs-renew", 12000),
        on("9.39", "R2", "motoring reference site", "leaf-look", 12000),
        on("9.42", "R", "Isuzu Rodeo 2004, then every 30,000", "transmission-oil", 30000),
        on("9.43", "R", "GMC Jimmy 2005 owner's manual p.6-7", "axle-oil-lsd", 15000),
        on("9.44", "R2", "a technician of the make, four-cylinder engines", "timing-belt", 50000),
        on("9.46", "R2", "newspaper of 1980 on the trade of 1950", "points-renew", 12000),
        on("9.49", "R", "TM 9-2320-272-23-2 item 31", "atf", 24000),
        on("9.53", "R", "Chevrolet 10 series 1968 p.0-16", "axle-level", 6000),
        on("9.54", "R", "Studebaker 1952 chart, drained", "transmission-oil-old", 10000),
        on("9.54", "R", "Studebaker 1952 chart, joints", "grease-old", 1000),
        on("9.29", "R", "TM 5-3820-256-24-4 p.4", "axle-oil-old", 10000),
        on("9.56", "R2", "MGB club technical page", "carb-linkage", 3000),
        on("9.59", "R2", "course notes of the 1970s", "atf", 24000),
        on("9.59", "R2", "course notes of the 1970s", "coolant-green", 24000),
        on("9.61", "R", "Buick LeSabre 1998 owner's manual", "grease", 6000),
        on("11.07", "R2", "press, 4 years or 50,000 mi", "coolant-long", 50000),
    ],
)
def test_the_distance_of_a_rule_is_the_published_one(id_: str, published: int) -> None:
    assert miles(id_) == published


@pytest.mark.parametrize(
    ("id_", "published"),
    [
        on("4.41", "R", "Honda and Acura owner's manual, out of service", "tire-age", 120),
        on("4.41", "R", "Honda and Acura owner's manual, yearly look", "tire-age-look", 12),
        on("4.56", "R2", "Rubber Manufacturers Association campaign", "tire-pressure", 1),
        on("6.17", "R", "Volvo 1800 service manual, every other year", "hub-repack", 24),
        on("5.13", "R", DEFENDER, "brake-fluid", 18),
        on("5.08", "R", "Mini (BMC era) routine maintenance text, ch. 10", "brake-fluid", 18),
        on("5.15", "R", GROUP_1967, "brake-level", 1),
        on("5.18", "R2", "a brake-hose maker in a UK trade magazine", "hose-renew", 60),
        on("5.19", "R", "UAZ and Lada workshop texts", "hose-renew", 60),
        on("5.14", "R", DEFENDER, "hydraulics-seals", 36),
        on("5.22", "R", MINI, "shoe-measure", 6),
        on("5.35", "R", "Volvo 1800 service manual, a couple of times a year", "parking-cable", 6),
        on("9.13", "R2", "motoring page, twice a year", "drain-door", 6),
        on("9.13", "R2", "motoring page, twice a year", "drain-cowl", 6),
        on("9.25", "R2", "Jeep CJ-3B service standards B-11, owner site", "knuckle", 12),
        on("9.32", "R2", "a parts maker's page", "rack-oil", 12),
        on("9.35", "R", MINI, "lights", 3),
        on("9.36", "R", MINI, "oil", 6),
        on("9.36", "R", MINI, "points-set", 6),
        on("9.36", "R", MINI, "dashpot", 6),
        on("9.44", "R2", "a technician of the make, four-cylinder engines", "timing-belt", 60),
        on("9.49", "R", "TM 9-2320-272-23-2 item 31", "atf", 24),
        on("9.50", "R2", "three trade pages", "align", 12),
        on("9.55", "R", "Chevrolet Suburban 1995 owner's manual p.6-67", "seals", 6),
        on("9.58", "R", "Mazda 6 owner's manual, end of each winter", "under-wash", 12),
        on("9.59", "R2", "course notes of the 1970s", "thermostat", 24),
        on("9.60", "R2", "general schedule page, every 2 years", "leads", 24),
        on("11.07", "R2", "press, 4 years or 50,000 mi", "coolant-long", 48),
        on("11.10", "R", "Volvo coupe 1980 owner's manual p.6:46", "coolant-green", 24),
        on("12.04", "R", f"{ARMY_STORAGE}, monthly under cover", "layup-walk", 1),
        on("4.53", "R", "Goodyear tire storage page", "layup-tires", 3),
        on("12.01", "R2", "petroleum distributor's page, about 90 days", "fuel-stale", 3),
        on("12.06", "R", "Ford Escort 1980s workshop text", "battery-test", 3),
        on("13.03", "R2", NFPA, "ext-month", 1),
        on("13.03", "R2", NFPA, "ext-year", 12),
        on("13.03", "R2", NFPA, "ext-6y", 72),
        on("13.03", "R2", NFPA, "ext-12y", 144),
    ],
)
def test_the_months_of_a_rule_are_the_published_ones(id_: str, published: int) -> None:
    assert months(id_) == published


@pytest.mark.parametrize(
    ("id_", "soonest", "latest"),
    [
        on("4.55", "R", "Pontiac Firebird 1997 owner's manual p.6-51", "tire-rotate", 0, 8000),
        on("6.10", "R", "Chevrolet 10-60 series 1970 p.0-19", "hub-repack", 0, 30000),
        on("6.12", "R", "GMC Safari 1999 owner's manual p.7-40", "hub-repack", 0, 30000),
        on("6.14", "R", "TM 9-2330-335-14&P items 17-18", "hub-repack", 0, 36000),
        on("6.17", "R", "Volvo 1800 service manual, lubrication", "hub-repack", 0, 25000),
        on("6.22", "R2", "course notes shown on a blog", "hub-repack", 12000, 30000),
        on("6.23", "R", "Ford 1999-2004 service text", "hub-repack", 0, 30000),
        on("5.08", "R", "Mini (BMC era) routine maintenance text", "brake-fluid", 0, 18000),
        on("5.09", "R", "workshop text of the 1980s, a check", "hydraulics-look", 0, 36000),
        on("5.14", "R", DEFENDER, "hydraulics-seals", 0, 37500),
        on("5.17", "R", GROUP_1967, "brake-fluid", 0, 24000),
        on("5.17", "R", GROUP_1967, "hose-renew", 0, 40000),
        on("5.18", "R2", "a brake-hose maker, 50,000 km", "hose-renew", 0, 31069),
        on("5.19", "R", "UAZ and Lada workshop texts, 100,000 km", "hose-renew", 0, 62137),
        on("5.33", "R", "owner's manuals of 2004, 2005: at each oil change", "hose-look", 0, 3000),
        on("9.05", "R", "Chevrolet 10 series 1970 p.19", "axle-oil", 12000, 75000),
        on("9.10", "R", "Camaro 1979, hot use", "atf", 15000, 30000),
        on("9.11", "R2", "press and service texts", "coolant-green", 24000, 30000),
        on("9.16", "R", f"{LO_273} notes 2(e),(f)", "ujoint-grease", 2000, 6000),
        on("9.23", "R", "Hudson 1948-52 service manual p.1-9", "oil", 2000, 7500),
        on("9.26", "R", "Sabra workshop text", "oil", 0, 5000),
        on("9.38", "R", DEFENDER, "shock-test", 0, 37500),
        on("9.45", "R2", "several shop pages", "belt-renew", 40000, 50000),
        on("9.45", "R2", "several shop pages", "hose-coolant", 0, 60000),
        on("9.57", "R", "Ford 1999-2004 service text, heavy idling", "fuel-filter", 0, 15000),
        on("11.06", "R2", "press, service texts", "coolant-green", 0, 30000),
        on("11.11", "R", "GMC Envoy 1998 owner's manual p.6-2", "coolant-long", 0, 150000),
    ],
)
def test_the_distance_of_a_rule_lies_within_the_published_ones(
    id_: str, soonest: int, latest: int
) -> None:
    assert soonest <= miles(id_) <= latest


@pytest.mark.parametrize(
    ("id_", "soonest", "latest"),
    [
        on("5.07", "R2", "makers as restated by a workshop", "brake-fluid", 0, 24),
        on("5.20", "R2", "UK recommissioning article", "brake-fluid", 0, 24),
        on("7.15", "R", "HMMWV manuals, low use: at the semiannual service", "grease-old", 0, 6),
        on("7.15", "R", "HMMWV manuals, low use: at the semiannual service", "kingpin", 0, 6),
        on("7.32", "R", f"{LO_273} note 1, points of 1,000 or 2,000 mi", "leaf-shackle", 0, 6),
        on("7.34", "R", DEFENDER, "shoe-adjust", 3, 6),
        on("7.34", "R", DEFENDER, "hose-look", 3, 6),
        on("9.38", "R", DEFENDER, "coolant-green", 0, 24),
        on("9.45", "R2", "several shop pages", "belt-renew", 36, 48),
        on("9.45", "R2", "several shop pages", "hose-coolant", 0, 48),
        on("9.52", "R2", "one owner's log", "hose-coolant", 0, 48),
        on("11.06", "R2", "press, service texts", "coolant-green", 24, 36),
        on("11.11", "R", "GMC Envoy 1998 owner's manual p.6-2", "coolant-long", 0, 60),
        on("12.02", "R2", "general pages, E10 3-4 months", "fuel-stale", 3, 4),
        on("12.05", "R", "owner's manual: off, or a maintainer", "layup-battery", 0, 3),
    ],
)
def test_the_months_of_a_rule_lie_within_the_published_ones(
    id_: str, soonest: int, latest: int
) -> None:
    assert soonest <= months(id_) <= latest


@pytest.mark.parametrize(
    ("id_", "first"),
    [
        on("4.24", "R", "Chevrolet 10-60 series 1970 p.0-19", "wheel-nuts-heavy", (100, 500, 1000)),
        on("4.23", "R2", "trade press, 50 or 100 mi", "wheel-nuts", (50,)),
        on(
            "9.24", "R2", "Jeep CJ-3B service standards B-6, owner site", "oil-rebuilt", (500, 2000)
        ),
        on("9.21", "R", "Studebaker President Eight pp.19, 27", "u-bolts", (300, 1000)),
        on("9.42", "R", "Isuzu Rodeo 2004", "transmission-oil", (600, 15000)),
        on("9.41", "R2", "gear suppliers' pages, oil at 500", "axle-oil", (500, 15000)),
        on("9.48", "R2", "engine rebuilder's page", "valve-clear", (500, 1000)),
        on("9.51", "R2", "how-to page: at once and as the car sinks", "align", (0, 500)),
        on("9.43", "R", "GMC Jimmy 2005: the first oil change", "axle-oil-lsd", (3000,)),
    ],
)
def test_the_first_points_of_a_rule_are_the_published_ones(
    id_: str, first: tuple[int, ...]
) -> None:
    assert rule_of(id_).first == tuple(map(Fraction, first))


@pytest.mark.parametrize(
    ("id_", "soonest", "latest"),
    [
        on("4.22", "R2", "BS AU 50 part 2 as restated", "wheel-nuts", 25, 50),
        on("4.25", "M", "owner's manuals, from memory", "wheel-nuts", 0, 500),
        on("9.04", "R", "Chevrolet light truck 1973 p.0-16", "u-bolts", 0, 1000),
        on("9.22", "R", "Chrysler 1956 supplement p.79", "oil-rebuilt", 500, 1000),
        on("9.27", "R", "Volvo 240 1989 owner's manual p.53", "transmission-oil", 600, 1200),
        on("9.40", "R2", "a spring maker's page", "u-bolts", 0, 500),
    ],
)
def test_the_first_point_of_a_rule_lies_within_the_published_ones(
    id_: str, soonest: int, latest: int
) -> None:
    assert soonest <= rule_of(id_).first[0] <= latest


@pytest.mark.published("6.11", basis="R", source="Camaro 1979 service manual 0B.8")
def test_each_relining_brings_the_bearings() -> None:
    """An event or a distance, whichever first."""
    points = {(point.event, point.at) for point in rule_of("hub-repack").also_after}

    assert ("reline", Fraction(0)) in points


@pytest.mark.published("5.14", basis="R", source=DEFENDER)
def test_renewing_all_seals_renews_fluid_and_hoses() -> None:
    assert set(rule_of("hydraulics-seals").includes) == {"brake-fluid", "hose-renew"}


@pytest.mark.published("4.40", basis="R", source="Jaguar 2018, Mazda 3 owner's manuals")
def test_six_years_of_a_tire_are_advice_and_count_from_its_make() -> None:
    age = rule_of("tire-age").age

    assert age is not None
    assert age.advise == 72
    assert age.counted_from.value == "made"


@pytest.mark.published("4.41", basis="R", source="Honda and Acura owner's manual")
def test_the_yearly_look_at_a_tire_begins_in_its_fifth_year() -> None:
    age = rule_of("tire-age-look").age

    assert age is not None
    assert age.inspect_from == 60


@pytest.mark.published("4.53", basis="R", source="Goodyear tire storage page, 30 days")
def test_a_tire_with_an_overlay_is_moved_monthly() -> None:
    (variant,) = rule_of("layup-tires").variants

    assert variant.every.months == 1


@pytest.mark.published("12.04", basis="R", source=f"{ARMY_STORAGE}, weekly outdoors, after storms")
def test_a_car_laid_up_outdoors_is_walked_round_weekly_and_after_a_storm() -> None:
    rule = rule_of("layup-walk")

    assert rule.variants[0].every.days == 7
    assert [point.event for point in rule.also_after] == ["storm"]


@pytest.mark.published("12.02", basis="R2", source="general pages, stabilized up to 12 months")
def test_stabilized_fuel_is_good_for_a_year() -> None:
    assert rule_of("fuel-stale").variants[0].every.months == 12


@pytest.mark.published("13.03", basis="R2", source=f"{NFPA}, CO2 tested at 5 years")
def test_a_co2_extinguisher_is_tested_at_five_years_from_its_make() -> None:
    variant = rule_of("ext-12y").variants[0]

    assert variant.every.months == 60
    assert variant.age is not None
    assert (variant.age.months, variant.age.counted_from.value) == (60, "made")


@pytest.mark.published("13.04", basis="R2", source="club rules, trade pages")
def test_a_harness_runs_to_the_year_on_its_label() -> None:
    age = rule_of("harness-date").age

    assert age is not None
    assert age.counted_from.value == "label"


@pytest.mark.published("13.05", basis="R2", source="advice page, some experts 10-15 years")
def test_road_belts_have_no_life_but_advice_from_ten_years() -> None:
    age = rule_of("belt-seat").age

    assert age is not None
    assert (age.months, age.advise) == (None, 120)


@pytest.mark.published("7.34", basis="R", source=f"{DEFENDER}: arduous use, at least halved")
@pytest.mark.parametrize("id_", ["grease", "hub-repack", "pad-measure", "ujoint-grease"])
def test_dust_halves_an_interval(id_: str) -> None:
    assert rule_of(id_).exposure["dust"] == Fraction(1, 2)


@pytest.mark.published("7.35", basis="R", source="Mercedes-Benz 300 TD 1983 owner's manual p.63")
def test_towing_halves_the_automatic_fluid() -> None:
    assert rule_of("atf").exposure["towing"] == Fraction(1, 2)


@pytest.mark.published("7.16", basis="R", source="HMMWV TM para 2-9c, nesting")
def test_a_yearly_service_of_an_extinguisher_includes_the_monthly_look() -> None:
    assert rule_of("ext-year").includes == ("ext-month",)
    assert rule_of("ext-6y").includes == ("ext-year",)


@pytest.mark.parametrize(
    ("id_", "measure", "bound", "value", "unit"),
    [
        on(
            "1.15", "R", "49 CFR 570.10(b)",
            "wheel-look", "wheel_runout", Bound.AT_MOST, "1/8", "in",
        ),
        on("1.13", "R", "Maryland COMAR 11.14.05.05 A(1)(g)",
           "dual-match", "dual_difference", Bound.AT_MOST, "1/2", "in"),
        on("4.30", "R2", "trade pages: as told to a shop, as restated",
           "awd-spread", "circumference_spread", Bound.AT_MOST, "1/4", "in"),
        on("5.16", "R", GROUP_1967,
           "pad-measure", "pad_thickness", Bound.AT_LEAST, "1/8", "in"),
        on("5.27", "R", "Honda Fit, Nissan Pathfinder 1999 service texts",
           "rotor-measure", "rotor_runout", Bound.AT_MOST, "0.004", "in"),
        on("5.28", "R", "Mitsubishi, Honda, Nissan service texts",
           "rotor-measure", "rotor_variation", Bound.AT_MOST, "0.0006", "in"),
        on("6.07", "R", "Suzuki Jimny, Mazda 1998, Toyota 2004, Mitsubishi Montero",
           "hub-sealed", "bearing_end_play", Bound.AT_MOST, "0.05", "mm"),
        on("1.10", "R", "RCW 46.37.360(2)",
           "shoe-adjust", "pedal_travel", Bound.AT_MOST, "80", "%"),
        on("13.01", "R", "Ford Probe 1992, 1997 service texts",
           "compression", "compression_share", Bound.AT_LEAST, "75", "%"),
    ],
)  # fmt: skip
def test_a_limit_is_the_published_one(
    id_: str, measure: str, bound: Bound, value: str, unit: str
) -> None:
    (limit,) = limits(id_, measure)

    assert (limit.bound, limit.value, limit.unit) == (bound, Fraction(value), unit)


@pytest.mark.published("1.08", basis="R", source="49 CFR 570.59(c)")
@pytest.mark.parametrize(("lining", "inches"), [("bonded", "1/16"), ("riveted", "1/32")])
def test_the_lining_limit_goes_by_its_fixing(lining: str, inches: str) -> None:
    values = [
        limit.value
        for limit in limits("shoe-measure", "lining_thickness")
        for condition in limit.where.conditions
        if lining in condition.values
    ]

    assert values == [Fraction(inches)]


@pytest.mark.published("5.16", basis="R", source=GROUP_1967)
def test_shoes_are_renewed_below_a_third_of_their_first_thickness() -> None:
    shares = [limit.share_of_new for limit in limits("shoe-measure", "lining_thickness")]

    assert Fraction(1, 3) in shares


@pytest.mark.published("1.12", basis="R", source="49 CFR 570.62(a)")
def test_the_front_tread_of_a_heavy_car_keeps_4_32() -> None:
    usual, heavy = limits("tire-tread", "tread_depth")

    assert (usual.value, usual.unit, usual.advise) == (Fraction(2), "1/32 in", Fraction(4))
    assert (heavy.value, heavy.where.weight_over_lb) == (Fraction(4), 10000)
    assert [str(place) for place in heavy.where.places] == ["front"]


@pytest.mark.published("1.09", basis="R", source="RCW 46.37.360(4); 49 CFR 570.59(b)")
def test_rotors_and_drums_go_by_the_figure_on_the_part() -> None:
    (rotor,) = limits("rotor-measure", "rotor_thickness")
    (drum,) = limits("drum-measure", "drum_diameter")

    assert (rotor.bound, rotor.value) == (Bound.AT_LEAST, Figure.STAMPED)
    assert (drum.bound, drum.value) == (Bound.AT_MOST, Figure.STAMPED)


@pytest.mark.published("1.05", basis="R", source="49 CFR 570.7(d); RCW 46.37.375(7)")
def test_toe_may_be_one_and_a_half_times_the_cars_own_value() -> None:
    (toe,) = limits("align", "toe")

    assert (toe.value, toe.times) == (Figure.SPEC, Fraction(3, 2))


@pytest.mark.published("1.01", basis="R", source="49 CFR 570.7(a) Table 1")
def test_steering_lash_goes_by_the_table_and_takes_its_strictest_row_meanwhile() -> None:
    (lash,) = limits("steering-lash", "wheel_lash")

    assert (lash.value, lash.if_unknown) == (Figure.TABLE, Fraction(2))


@pytest.mark.published("1.03", basis="R", source="49 CFR 570.7(b)")
def test_linkage_play_is_a_quarter_inch_unless_the_table_of_heavy_cars_says_more() -> None:
    (play,) = limits("linkage-play", "linkage_play")

    assert (play.value, play.if_unknown) == (Figure.TABLE, Fraction(1, 4))


@pytest.mark.published("6.01", basis="R", source="GM 1998 service text; the play from memory")
def test_a_packed_bearing_has_one_to_five_thousandths_of_play() -> None:
    least, most = limits("hub-play", "bearing_end_play")

    assert (least.bound, least.value) == (Bound.AT_LEAST, Fraction(1, 1000))
    assert (most.bound, most.value) == (Bound.AT_MOST, Fraction(5, 1000))


@pytest.mark.published("13.02", basis="R", source="service texts from .2 to 2 mm, Saturn 2008")
def test_a_ball_joint_goes_by_the_cars_own_figure_and_by_half_a_millimeter_meanwhile() -> None:
    (play,) = limits("ball-joint-play", "ball_joint_play")

    assert (play.value, play.if_unknown, play.unit) == (Figure.SPEC, Fraction(1, 50), "in")


@pytest.mark.published("11.01", basis="R2", source="Motorist Assurance Program guideline")
def test_brake_fluid_is_renewed_above_200_ppm_of_copper() -> None:
    (copper,) = limits("brake-fluid", "fluid_copper")

    assert (copper.bound, copper.value, copper.unit) == (Bound.AT_MOST, Fraction(200), "ppm")


@pytest.mark.published("5.02", basis="R", source="fluid data sheet citing FMVSS 116 S5.1.2")
@pytest.mark.parametrize(("fluid", "celsius"), [("DOT 3", 140), ("DOT 4", 155), ("DOT 5.1", 180)])
def test_brake_fluid_boils_no_lower_than_the_wet_minimum(fluid: str, celsius: int) -> None:
    values = [
        limit.value
        for limit in limits("brake-fluid", "fluid_boiling")
        for condition in limit.where.conditions
        if fluid in condition.values
    ]

    assert values == [celsius]


@pytest.mark.published("13.06", basis="R2", source="travel-vehicle magazine, 75 percent charged")
def test_a_12_v_battery_at_rest_has_12_45_v_and_a_6_v_one_half_of_it() -> None:
    twelve, six = limits("battery-test", "battery_volts")

    assert twelve.value == Fraction(1245, 100)
    assert six.value == Fraction(6225, 1000)


@pytest.mark.published("13.07", basis="R2", source="energy page with table, 80 F")
def test_a_battery_three_quarters_charged_has_a_gravity_of_1_230() -> None:
    (gravity,) = limits("battery-test", "battery_gravity")

    assert gravity.value == Fraction(123, 100)


@pytest.mark.published("11.08", basis="R2", source="press text")
def test_mixed_coolant_falls_back_to_the_interval_of_green() -> None:
    (condition,) = rule_of("coolant-green").where.conditions

    assert set(condition.values) == {"green", "mixed", "unknown"}


@pytest.mark.published("11.14", basis="R", source="ASTM D3321-12 abstract")
def test_the_frost_test_asks_for_the_scale_of_the_right_glycol() -> None:
    assert "scale of the right glycol" in (rule_of("coolant-test").check or "")


@pytest.mark.published("5.31", basis="R", source="brake component maker's page")
def test_bedding_is_ten_stops_from_30_and_five_from_50() -> None:
    check = rule_of("bed-friction").check or ""

    assert "10 stops 30 to 10 mph 30 s apart" in check
    assert "5 stops 50 to 10 mph" in check


@pytest.mark.published("5.18", basis="R2", source="a brake-hose maker in a UK trade magazine")
def test_31000_mi_are_just_under_the_makers_50000_km() -> None:
    assert miles("hose-renew") * KM_PER_MI == pytest.approx(49_889.7, abs=0.1)
    assert miles("hose-renew") * KM_PER_MI < 50_000
