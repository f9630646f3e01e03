"""The shipped intervals against published service charts: the same figure, or one between them.

Each rule names the source to the user too. Where sources differ, the default is no later than the
latest of them.
"""

from fractions import Fraction

import pytest

from castlenut.domain.units import KM_PER_MI
from tests.published.cited import (
    AP_1967,
    ARMY_STORAGE,
    CHEVROLET_1970,
    CHEVROLET_1973,
    DEFENDER,
    LO_273,
    MINI,
    NFPA,
    PRACTICE,
    on,
    rows_named,
    rule_of,
    said,
)

CJ_3B = "Jeep CJ-3B service standards on an owner site"
MINOR = "Morris Minor maintenance manual, extract on a motoring forum"
HEALEY = "owners' magazine guide to the Austin-Healey six, 2011"
STUDEBAKER_1952 = "Studebaker Champion 1952 owner's guide, lubrication chart"
TRIUMPH = "Triumph owners' list citing the workshop manual"
VOLVO_TECHNICIAN = "Volvo master technician, four-cylinder engines"
PRESIDENT = "Studebaker President Eight owner's manual pp.19, 27"
HOSE_MAKER = "a brake-hose maker in a UK trade magazine"
AP_SHOES = f"{AP_1967}, shoes and pads"


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


@pytest.mark.parametrize(
    ("row", "id_", "published"),
    [
        on("4.14", "R", "Bridgestone, if the maker says nothing", "tire-rotate", 5000),
        on("4.24", "R", CHEVROLET_1970, "wheel-nuts-heavy", 1000),
        on("5.13", "R", DEFENDER, "brake-fluid", 15000),
        on("5.13", "R", DEFENDER, "clutch-fluid", 15000),
        on("5.15", "R", AP_1967, "brake-level", 1000),
        on("5.16", "R", AP_SHOES, "pad-measure", 5000),
        on("5.17", "R", f"{AP_1967}, hoses and pipes", "pipe-look", 10000),
        on("5.21", "R", MINI, "shoe-adjust", 3000),
        on("5.21", "R", MINI, "parking-brake", 3000),
        on("5.22", "R", MINI, "shoe-measure", 6000),
        on("5.22", "R", MINI, "hose-look", 3000),
        on("5.23", "R", "GM 1998 S/T Isuzu; GM 2009 C-series", "shoe-measure", 6000),
        on("6.13", "R", f"{LO_273} note 2(d), Army M915 series", "hub-repack", 24000),
        on("6.18", "R2", f"{CJ_3B} (B-13)", "hub-repack-4x4", 6000),
        on("6.19", "R2", "magazine columnist, 2021", "hub-repack-old", 10000),
        on("6.21", "R", STUDEBAKER_1952, "hub-repack-old", 10000),
        on("9.01", "R", CHEVROLET_1973, "grease", 6000),
        on("9.03", "R", CHEVROLET_1973, "hinges", 6000),
        on("9.06", "R", "Chevrolet 10 series 1968, 1970", "ujoint-grease", 6000),
        on("9.06", "R", "Chevrolet 10 series 1968, 1970", "axle-level", 6000),
        on("9.20", "R", "Pontiac 1957 owner's manual p.30, first point", "grease-old", 1000),
        on("9.25", "R2", f"{CJ_3B} (B-11)", "box-level-old", 1000),
        on("9.25", "R2", f"{CJ_3B} (B-11)", "knuckle", 12000),
        on("9.29", "R", "TM 5-3820-256-24-4 p.4, tie-rod joints", "grease-old", 1000),
        on("9.29", "R", "TM 5-3820-256-24-4 p.4, drive-axle oil", "axle-oil-old", 10000),
        on("9.30", "R2", "MG Farina club page restating the handbook", "kingpin", 500),
        on("9.31", "R2", MINOR, "kingpin", 500),
        on("9.31", "R2", MINOR, "oil", 3000),
        on("9.31", "R2", MINOR, "air-oilbath", 3000),
        on("9.31", "R2", MINOR, "generator-oil", 3000),
        on("9.31", "R2", MINOR, "dashpot", 1000),
        on("9.33", "R2", TRIUMPH, "trunnion-oil", 6000),
        on("9.34", "R2", HEALEY, "valve-clear", 12000),
        on("9.34", "R2", HEALEY, "plugs-clean", 6000),
        on("9.34", "R2", HEALEY, "plugs-renew", 12000),
        on("9.34", "R2", HEALEY, "distributor-oil", 6000),
        on("9.35", "R", MINI, "belt-look", 3000),
        on("9.35", "R", MINI, "fuel-hose-look", 3000),
        on("9.36", "R", MINI, "grease", 6000),
        on("9.36", "R", MINI, "points-set", 6000),
        on("9.36", "R", MINI, "distributor-oil", 6000),
        on("9.36", "R", MINI, "cv-boot", 6000),
        on("9.36", "R", MINI, "hose-coolant-look", 6000),
        on("9.36", "R", MINI, "clutch-play", 6000),
        on("9.37", "R", "Mini 1969-2001 repair manual p.20", "leads", 12000),
        on("9.37", "R", "Mini 1969-2001 repair manual p.20", "plugs-renew", 12000),
        on("9.39", "R2", "motoring reference site", "leaf-look", 12000),
        on("9.42", "R", "Isuzu Rodeo 2004, then every 30,000 mi", "transmission-oil", 30000),
        on("9.43", "R", "GMC Jimmy 2005 owner's manual p.6-7", "axle-oil-lsd", 15000),
        on("9.44", "R2", VOLVO_TECHNICIAN, "timing-belt", 50000),
        on("9.46", "R2", "newspaper, autumn 1980, on 1950", "points-renew", 12000),
        on("9.46", "R2", "newspaper, autumn 1980, on 1950", "grease-old", 1000),
        on("9.49", "R", "TM 9-2320-272-23-2 item 31, Army automatic", "atf", 24000),
        on("9.50", "R2", "trade pages, on rough roads", "align", 15000),
        on("9.53", "R", "Chevrolet 10 series 1968 p.0-16", "axle-level", 6000),
        on("9.53", "R", "Chevrolet 10 series 1968 p.0-16", "transmission-level", 6000),
        on("9.54", "R", STUDEBAKER_1952, "transmission-oil-old", 10000),
        on("9.54", "R", STUDEBAKER_1952, "grease-old", 1000),
        on("9.56", "R2", "MGB club technical page", "carb-linkage", 3000),
        on("9.59", "R2", "1970s course notes", "atf", 24000),
        on("9.59", "R2", "1970s course notes", "coolant-green", 24000),
        on("9.61", "R", "Buick LeSabre 1998 owner's manual, short trips", "grease", 6000),
        on("11.07", "R2", "press, 4 years or 50,000 mi", "coolant-long", 50000),
    ],
)
def test_the_distance_of_a_rule_is_the_published_one(row: str, id_: str, published: int) -> None:
    assert miles(id_) == published
    assert row in rows_named(id_)


@pytest.mark.parametrize(
    ("row", "id_", "published"),
    [
        on("4.41", "R", "Honda and Acura owner's manual, out of service", "tire-age", 120),
        on("4.41", "R", "Honda and Acura owner's manual, yearly look", "tire-age-look", 12),
        on("4.42", "R2", "British Rubber Manufacturers Association, June 2001", "tire-age", 120),
        on("4.53", "R", "Goodyear tire storage page", "layup-tires", 3),
        on("4.54", "R2", "Firestone, told in a trade magazine 2010", "layup-tires", 3),
        on("4.56", "R2", "Rubber Manufacturers Association campaign", "tire-pressure", 1),
        on("5.08", "R", "Mini (BMC era) routine maintenance text, ch. 10", "brake-fluid", 18),
        on("5.13", "R", DEFENDER, "brake-fluid", 18),
        on("5.13", "R", DEFENDER, "clutch-fluid", 18),
        on("5.14", "R", DEFENDER, "hydraulics-seals", 36),
        on("5.15", "R", AP_1967, "brake-level", 1),
        on("5.18", "R2", HOSE_MAKER, "hose-renew", 60),
        on("5.19", "R", "UAZ and Lada workshop texts", "hose-renew", 60),
        on("5.22", "R", MINI, "shoe-measure", 6),
        on("5.22", "R", MINI, "pad-measure", 6),
        on("5.35", "R", "Volvo 1800 service manual, a couple of times a year", "parking-cable", 6),
        on("6.17", "R", "Volvo 1800 service manual, every other year", "hub-repack", 24),
        on("6.17", "R", "Volvo 1800 service manual, every other year", "hub-repack-old", 24),
        on("9.13", "R2", "Philippine motoring page, twice a year", "drain-door", 6),
        on("9.13", "R2", "Philippine motoring page, twice a year", "drain-cowl", 6),
        on("9.20", "R", "Pontiac 1957 owner's manual p.30, yearly", "box-level", 12),
        on("9.25", "R2", f"{CJ_3B} (B-11)", "knuckle", 12),
        on("9.32", "R2", "Morris Minor parts maker's page", "rack-oil", 12),
        on("9.35", "R", f"{MINI}, headlamp aim", "lights", 3),
        on("9.36", "R", MINI, "oil", 6),
        on("9.36", "R", MINI, "grease", 6),
        on("9.36", "R", MINI, "points-set", 6),
        on("9.36", "R", MINI, "distributor-oil", 6),
        on("9.36", "R", MINI, "cv-boot", 6),
        on("9.36", "R", MINI, "clutch-play", 6),
        on("9.36", "R", MINI, "hose-coolant-look", 6),
        on("9.36", "R", MINI, "dashpot", 6),
        on("9.37", "R", "Mini 1969-2001 repair manual p.20", "plugs-renew", 12),
        on("9.44", "R2", VOLVO_TECHNICIAN, "timing-belt", 60),
        on("9.46", "R2", "newspaper, autumn 1980, on 1950, yearly", "points-renew", 12),
        on("9.49", "R", "TM 9-2320-272-23-2 item 31, Army automatic", "atf", 24),
        on("9.50", "R2", "trade pages, yearly", "align", 12),
        on("9.55", "R", "Chevrolet Suburban 1995 owner's manual p.6-67", "seals", 6),
        on("9.58", "R", "Mazda 6 owner's manual, end of each winter", "under-wash", 12),
        on("9.59", "R2", "1970s course notes", "thermostat", 24),
        on("9.60", "R2", "general schedule page, every 2 years", "leads", 24),
        on("11.07", "R2", "press, 4 years or 50,000 mi", "coolant-long", 48),
        on("11.10", "R", "Volvo coupe 1980 owner's manual p.6:46", "coolant-green", 24),
        on("12.01", "R2", "petroleum distributor's page, about 90 days", "fuel-stale", 3),
        on("12.04", "R", f"{ARMY_STORAGE}, monthly under cover", "layup-walk", 1),
        on("12.06", "R", "Ford Escort 1980s workshop text", "battery-test", 3),
        on("13.03", "R2", f"{NFPA}, monthly", "ext-month", 1),
        on("13.03", "R2", f"{NFPA}, yearly", "ext-year", 12),
        on("13.03", "R2", f"{NFPA}, dry chemical at 6 years", "ext-6y", 72),
        on("13.03", "R2", f"{NFPA}, at 12 years", "ext-12y", 144),
    ],
)
def test_the_months_of_a_rule_are_the_published_ones(row: str, id_: str, published: int) -> None:
    assert months(id_) == published
    assert row in rows_named(id_)


@pytest.mark.parametrize(
    ("row", "id_", "soonest", "latest"),
    [
        on("4.14", "R", "GM 2005 and Nankang", "tire-rotate", 5000, 8000),
        on("4.14", "R", "BFGoodrich Canada, 10,000-12,000 km", "tire-rotate", 0, 6213),
        on("4.14", "R", "a dealer, 6,000-8,000 mi", "tire-rotate", 0, 6000),
        on("4.50", "R", "Pontiac 1957 owner's manual p.24, five tires", "tire-rotate", 4000, 8000),
        on("4.52", "R2", MINOR, "tire-rotate", 3000, 8000),
        on("4.55", "R", "Pontiac Firebird 1997 owner's manual p.6-51", "tire-rotate", 0, 8000),
        on("5.08", "R", "Mini (BMC era) routine maintenance text, ch. 10", "brake-fluid", 0, 18000),
        on("5.09", "R", "Ford (1980s-90s Europe) workshop text", "hydraulics-look", 0, 36000),
        on("5.14", "R", DEFENDER, "hydraulics-seals", 0, 37500),
        on("5.17", "R", f"{AP_1967}, fluid", "brake-fluid", 0, 24000),
        on("5.17", "R", f"{AP_1967}, hoses", "hose-renew", 0, 40000),
        on("5.17", "R", f"{AP_1967}, hoses and pipes", "hose-look", 0, 10000),
        on("5.18", "R2", f"{HOSE_MAKER}, 50,000 km", "hose-renew", 0, 31069),
        on("5.19", "R", "UAZ and Lada workshop texts, 100,000 km", "hose-renew", 0, 62137),
        on("5.33", "R", "Dodge Grand Caravan 2005, Jeep Wrangler 2004", "hose-look", 0, 3000),
        on("5.34", "R", "Volvo 1800 service manual, 5,000 km", "brake-level", 0, 3107),
        on("6.10", "R", CHEVROLET_1970, "hub-repack", 0, 30000),
        on("6.12", "R", "GMC Safari 1999 owner's manual p.7-40", "hub-repack", 0, 30000),
        on("6.14", "R", "TM 9-2330-335-14&P items 17-18", "hub-repack", 0, 36000),
        on("6.17", "R", "Volvo 1800 service manual, lubrication", "hub-repack", 0, 25000),
        on("6.22", "R2", "1970s course notes shown on a blog", "hub-repack", 12000, 30000),
        on("6.23", "R", "Ford 1999-2004 service text", "hub-repack", 0, 30000),
        on("7.35", "R", "Mercedes-Benz 300 TD 1983 owner's manual p.63", "oil", 2500, 5000),
        on("7.35", "R", "Mercedes-Benz 300 TD 1983 owner's manual p.63", "atf", 15000, 30000),
        on("9.05", "R", "Chevrolet 10 series 1970 p.19", "axle-oil", 12000, 75000),
        on("9.10", "R", "Camaro 1979, hot use", "atf", 15000, 30000),
        on("9.11", "R2", "press and service texts", "coolant-green", 24000, 30000),
        on("9.16", "R", f"{LO_273} notes 2(e),(f)", "ujoint-grease", 2000, 6000),
        on("9.17", "R", "LO 9-2320-363-12, Army axle oil M915A2", "axle-oil", 5000, 75000),
        on("9.23", "R", "Hudson 1948-52 service manual p.1-9", "oil", 2000, 7500),
        on("9.26", "R", "Sabra workshop text", "oil", 0, 5000),
        on("9.32", "R2", "Morris Minor parts maker's page, 20,000 km", "rack-oil", 0, 12427),
        on("9.38", "R", DEFENDER, "shock-test", 0, 37500),
        on("9.45", "R2", "several shop pages", "belt-renew", 40000, 50000),
        on("9.45", "R2", "several shop pages", "hose-coolant", 0, 60000),
        on("9.54", "R", f"{STUDEBAKER_1952}, automatic", "atf", 15000, 30000),
        on("9.57", "R", "Ford 1999-2004 service text, heavy idling", "fuel-filter", 0, 15000),
        on("11.06", "R2", "press, service texts", "coolant-green", 0, 30000),
        on("11.10", "R", "Volvo coupe 1980 owner's manual p.6:46", "coolant-green", 0, 30000),
        on("11.11", "R", "GMC Envoy 1998 owner's manual p.6-2", "coolant-long", 0, 150000),
    ],
)
def test_the_distance_of_a_rule_lies_within_the_published_ones(
    row: str, id_: str, soonest: int, latest: int
) -> None:
    assert soonest <= miles(id_) <= latest
    assert row in rows_named(id_)


@pytest.mark.parametrize(
    ("row", "id_", "soonest", "latest"),
    [
        on("5.07", "R2", "Porsche, Audi, BMW, VW, Mini as restated", "brake-fluid", 0, 24),
        on("5.09", "R", "Ford (1980s-90s Europe) workshop text", "hydraulics-look", 0, 36),
        on("5.20", "R2", "UK recommissioning article", "brake-fluid", 0, 24),
        on("6.13", "R", f"{LO_273} note 2(d), annually", "hub-repack", 12, 24),
        on("7.15", "R", "HMMWV TMs: at the semiannual service", "grease-old", 0, 6),
        on("7.15", "R", "HMMWV TMs: at the semiannual service", "kingpin", 0, 6),
        on("7.32", "R", f"{LO_273} note 1: semiannual service", "shoe-adjust", 0, 6),
        on("7.34", "R", f"{DEFENDER}: low mileage at 6 months", "hose-look", 0, 6),
        on("9.28", "R", "Mercedes-Benz 300 TD 1983, at least yearly", "oil", 0, 12),
        on("9.38", "R", f"{DEFENDER}: coolant every 2 years", "coolant-green", 0, 24),
        on("9.45", "R2", "several shop pages", "belt-renew", 36, 48),
        on("9.45", "R2", "several shop pages", "hose-coolant", 0, 48),
        on("9.52", "R2", "one owner's log, 1970s cars", "hose-coolant", 0, 48),
        on("9.62", "R2", "magazine columnist, 2021, yearly", "coolant-green", 12, 36),
        on("11.06", "R2", "press, service texts", "coolant-green", 24, 36),
        on("11.11", "R", "GMC Envoy 1998 owner's manual p.6-2", "coolant-long", 0, 60),
        on("12.02", "R2", "several general pages, E10 3-4 months", "fuel-stale", 3, 4),
        on("12.06", "R", "Ford Escort 1980s workshop text", "layup-battery", 0, 3),
    ],
)
def test_the_months_of_a_rule_lie_within_the_published_ones(
    row: str, id_: str, soonest: int, latest: int
) -> None:
    assert soonest <= months(id_) <= latest
    assert row in rows_named(id_)


@pytest.mark.parametrize(
    ("row", "id_", "first"),
    [
        on("4.24", "R", CHEVROLET_1970, "wheel-nuts-heavy", (100, 500, 1000)),
        on("4.23", "R2", "trade and press, 50 or 100 mi", "wheel-nuts", (50,)),
        on("9.24", "R2", f"{CJ_3B} (B-6)", "oil-rebuilt", (500, 2000)),
        on("9.21", "R", PRESIDENT, "u-bolts", (300, 1000)),
        on("9.42", "R", "Isuzu Rodeo 2004", "transmission-oil", (600, 15000)),
        on("9.42", "R", "Isuzu Rodeo 2004", "axle-oil", (500, 15000)),
        on("9.41", "R2", "gear suppliers' pages, oil at 500 mi", "axle-oil", (500, 15000)),
        on("9.48", "R2", "engine rebuilder's page", "valve-clear", (500, 1000)),
        on("9.51", "R2", "how-to page: at once and as the car sinks", "align", (0, 500)),
        on("9.43", "R", "GMC Jimmy 2005 p.6-7, the first oil change", "axle-oil-lsd", (3000,)),
    ],
)
def test_the_first_points_of_a_rule_are_the_published_ones(
    row: str, id_: str, first: tuple[int, ...]
) -> None:
    assert rule_of(id_).first == tuple(map(Fraction, first))
    assert row in rows_named(id_)


@pytest.mark.parametrize(
    ("row", "id_", "soonest", "latest"),
    [
        on("4.15", "R", "GM 2005, the first rotation", "tire-rotate", 5000, 8000),
        on("4.22", "R2", "BS AU 50 part 2 sec. 7A:1995 as restated", "wheel-nuts", 25, 50),
        on("9.04", "R", CHEVROLET_1973, "u-bolts", 0, 1000),
        on("9.21", "R", PRESIDENT, "oil-rebuilt", 0, 500),
        on("9.22", "R", "Chrysler 1956 service manual supplement p.79", "oil-rebuilt", 500, 1000),
        on("9.26", "R", "Sabra workshop text, 300 mi", "oil-rebuilt", 300, 500),
        on("9.27", "R", "Volvo 240 1989 owner's manual p.53", "transmission-oil", 600, 1200),
        on("9.27", "R", "Volvo 240 1989 owner's manual p.53", "axle-oil", 0, 1200),
        on("9.40", "R2", "a spring maker's page, 500 mi", "u-bolts", 0, 500),
    ],
)
def test_the_first_point_of_a_rule_lies_within_the_published_ones(
    row: str, id_: str, soonest: int, latest: int
) -> None:
    assert soonest <= rule_of(id_).first[0] <= latest
    assert row in rows_named(id_)


@pytest.mark.published("4.25", basis="M", source="owner's manuals, from memory")
def test_lug_nuts_are_looked_at_no_later_than_500_mi() -> None:
    assert rule_of("wheel-nuts").first[0] <= 500


@pytest.mark.published("6.11", basis="R", source="Camaro 1979 service manual 0B.8")
def test_each_relining_brings_the_bearings() -> None:
    """An event or a distance, whichever first."""
    points = {(point.event, point.at) for point in rule_of("hub-repack").also_after}

    assert ("reline", Fraction(0)) in points


@pytest.mark.parametrize(
    ("row", "id_", "exposure", "factor"),
    [
        on("7.34", "R", f"{DEFENDER}: arduous use", "pad-measure", "dust", "1/2"),
        on("7.35", "R", "Mercedes-Benz 300 TD 1983 p.63", "atf", "towing", "1/2"),
        on("9.01", "R", CHEVROLET_1973, "grease", "dust", "1/2"),
        on("9.02", "R", "Chevrolet light truck 1977 schedule", "grease", "dust", "1/2"),
        on("9.10", "R", "Camaro 1979, hot use", "atf", "stop-start", "1/2"),
    ],
)
def test_an_exposure_halves_the_interval_as_published(
    row: str, id_: str, exposure: str, factor: str
) -> None:
    """6,000 mi become 3,000 (9.01, 9.02); 30,000 become 15,000 (7.35)."""
    assert rule_of(id_).exposure[exposure] == Fraction(factor)
    assert row == "7.34" or row in rows_named(id_)


@pytest.mark.published("5.14", basis="R", source=DEFENDER)
def test_renewing_all_seals_renews_fluid_and_hoses() -> None:
    assert set(rule_of("hydraulics-seals").includes) == {"brake-fluid", "hose-renew"}


@pytest.mark.published("7.16", basis="R", source="HMMWV TM 9-2320-387-24-1 para 2-9c, nesting")
def test_the_yearly_service_of_an_extinguisher_includes_the_monthly_look() -> None:
    assert rule_of("ext-year").includes == ("ext-month",)
    assert rule_of("ext-6y").includes == ("ext-year",)


@pytest.mark.published("4.53", basis="R", source="Goodyear tire storage page, 30 days")
def test_a_tire_with_an_overlay_is_moved_monthly() -> None:
    (variant,) = rule_of("layup-tires").variants

    assert variant.every.months == 1


@pytest.mark.published("12.04", basis="R", source=f"{ARMY_STORAGE}, weekly outdoors, after storms")
def test_a_car_laid_up_outdoors_is_walked_round_weekly_and_after_a_storm() -> None:
    rule = rule_of("layup-walk")

    assert rule.variants[0].every.days == 7
    assert [point.event for point in rule.also_after] == ["storm"]


@pytest.mark.published("12.02", basis="R2", source="several general pages, stabilized 12 months")
def test_stabilized_fuel_is_good_for_a_year() -> None:
    assert rule_of("fuel-stale").variants[0].every.months == 12


@pytest.mark.published("5.18", basis="R2", source=HOSE_MAKER)
def test_31000_mi_are_just_under_the_makers_50000_km() -> None:
    assert miles("hose-renew") * KM_PER_MI == pytest.approx(49_889.7, abs=0.1)
    assert miles("hose-renew") * KM_PER_MI < 50_000


@pytest.mark.published("7.33", basis="R", source="TM 9-2320-365-20-5 app. H")
def test_a_shipped_rule_may_have_no_time_side() -> None:
    """6K = 6,000 mi regardless of the calendar; here the rotation of tires."""
    every = rule_of("tire-rotate").every

    assert every is not None
    assert (every.months, every.days) == (None, None)


@pytest.mark.parametrize(
    ("id_", "practice"),
    [
        said("-", "P", PRACTICE, "brake-fluid-silicone", 36),
        said("-", "P", PRACTICE, "hose-renew-braided", 96),
        said("-", "P", PRACTICE, "booster-hose", 60),
        said("-", "P", PRACTICE, "fuel-hose", 36),
        said("-", "P", PRACTICE, "fuel-hose-lined", 60),
        said("-", "P", PRACTICE, "battery-age", 60),
        said("-", "P", PRACTICE, "cavity-wax", 24),
    ],
)
def test_an_age_of_practice_says_that_it_has_no_source(id_: str, practice: int) -> None:
    assert months(id_) == practice
    assert PRACTICE in rule_of(id_).source
