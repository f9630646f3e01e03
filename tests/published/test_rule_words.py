"""What published texts say in words: in the checks, sources and cautions of the shipped rules."""

import pytest

from castlenut.domain.measures import MEASURES
from castlenut.domain.rules.rule import Limit
from castlenut.words.cautions import CAUTIONS
from tests.builders import shipped
from tests.published.cited import CHEVROLET_1970, on, rows_named, rule_of, said

PART_570 = "49 CFR 570.61, 570.62 page copies; RCW 46.37.375(5), (6)"
BOOSTER = "Toyota 2004; Mazda Tribute 2006"


@pytest.mark.parametrize(
    ("row", "id_", "words"),
    [
        on("1.02", "R", "49 CFR 570.7(a)(1)", "steering-lash", "engine on"),
        on("1.02", "R", "49 CFR 570.7(a)(1)", "steering-lash", "wheels straight ahead"),
        on("1.02", "R", "49 CFR 570.7(a)(1)", "steering-lash", "until the road wheel moves"),
        on("1.03", "R", "49 CFR 570.7(b)(1)", "linkage-play", "bearings first adjusted"),
        on("1.10", "R", "RCW 46.37.360(2)", "hydraulics-look", "125 lb holds for 10 s"),
        on("1.16", "R", "49 CFR 570.10(c); 570.63(c)", "wheel-nuts", "all in place"),
        on("1.17", "R", "49 CFR 570.63(a), 2026 text", "wheel-look", "no crack"),
        on("1.17", "R", "49 CFR 570.63(a), 2026 text", "wheel-look", "no oval bolt hole"),
        on("1.17", "R", "49 CFR 570.63(a), 2026 text", "wheel-look", "no weld made in service"),
        on("1.19", "R", PART_570, "shock-look", "no leak"),
        on("1.19", "R", PART_570, "bush-rubber", "no crack"),
        on("1.21", "R", "Nevada NAC 484D.120", "booster-test", "pedal drops at the start"),
        on("1.22", "R", "49 CFR 570.56(c)(1)(i), 40 FR 5160", "booster-test", "one assisted stop"),
        on("1.23", "R", "49 CFR 570.55(d)", "hose-look", "no crack, bulge, chafe"),
        on("1.23", "R", "49 CFR 570.55(d)", "hose-look", "clear at both locks"),
        on("1.23", "R", "49 CFR 570.55(d)", "lock-clearance", "full lock"),
        on("1.23", "R", "49 CFR 570.55(d)", "brake-recheck", "hoses clear at full lock"),
        on("5.25", "R", "GM Astro 1999", "drum-measure", ".030 in under the cast figure"),
        on("5.30", "R2", "workshop page, one make 1970-75 and later", "parking-brake", "5 clicks"),
        on("5.31", "R", "brake component maker's page", "bed-friction", "10 stops 30 to 10 mph"),
        on("5.31", "R", "brake component maker's page", "bed-friction", "5 stops 50 to 10 mph"),
        on("5.32", "R2", "trade study page; the pad maker's wins", "bed-friction", "maker's sheet"),
        on("6.08", "R", "Mercury Tracer 1989; Nissan Stanza 1987", "hub-play", "preload only if"),
        on("6.10", "R", CHEVROLET_1970, "hub-repack", "one kind of grease only"),
        on("6.14", "R", "TM 9-2330-335-14&P items 17-18", "hub-repack", "new seal each time"),
        on("9.09", "R", "Cadillac 2009, Hyundai: no oil", "wheel-nuts", "clean and dry"),
        on("9.32", "R2", "Morris Minor parts maker's page", "rack-oil", "oil, not grease"),
        on(
            "9.33",
            "R2",
            "Triumph owners' list citing the workshop manual",
            "trunnion-oil",
            "gear oil, never grease",
        ),
        on("11.13", "R", "Hyundai Santa Fe 2002", "coolant-green", "30 to 60 percent"),
        on("11.14", "R", "ASTM D3321-12 abstract", "coolant-test", "scale of the right glycol"),
        on("12.03", "R2", "collector-car insurer's checklist 2016", "return", "all fluids"),
        on("12.04", "R", "TM 9-2330-267-14&P 4-65", "layup-drive", "25 mi"),
        on("12.05", "R", "GM owner's manual", "layup-start", "battery off or on a maintainer"),
        on("13.12", "R", BOOSTER, "booster-test", "no rise in 30 s"),
        on("13.12", "R", BOOSTER, "booster-test", "one assisted stop after engine off"),
    ],
)
def test_the_check_of_a_rule_says_what_the_source_asks(row: str, id_: str, words: str) -> None:
    assert words in (rule_of(id_).check or "")
    assert row in rows_named(id_)


@pytest.mark.parametrize(
    ("row", "id_", "words"),
    [
        on("1.20", "R", "11 CSR 50-2.200; COMAR 11.22.03.04", "steering-lash", "states differ"),
        on("1.24", "R2", "NHTSA interpretation 8599", "parking-brake", "new cars: 30 percent"),
        on(
            "4.43",
            "R",
            "Rubber Manufacturers Association letter, June 2005",
            "tire-age",
            "no proven link of age and safety",
        ),
    ],
)
def test_the_source_of_a_rule_says_what_stands_against_it(row: str, id_: str, words: str) -> None:
    assert words in rule_of(id_).source
    assert row in rows_named(id_)


@pytest.mark.published("4.44", basis="R2", source="trade pages; NHTSA text not found")
def test_six_years_of_a_tire_are_not_put_on_the_safety_administration() -> None:
    rule = rule_of("tire-age")

    assert "NHTSA" not in f"{rule.source} {rule.note}"
    assert "never as law" in (rule.note or "")


@pytest.mark.parametrize(
    ("id_", "words"),
    [
        said("9.07", "R", "Chevrolet 1970 p.0-19: 55 to 500 lb ft by series", "wheel-nuts", "own"),
        said("9.08", "R", "Jeep Patriot 100, Jimny 74, Accent 65-80 lb ft", "wheel-nuts", "own"),
    ],
)
def test_the_torque_of_lug_nuts_is_the_cars_own(id_: str, words: str) -> None:
    """The published figures run from 55 to 500 lb ft: none is a default."""
    assert f"the car's {words} torque" in (rule_of(id_).check or "")
    assert rule_of(id_).limits == ()


@pytest.mark.published("11.03", basis="R2", source="test-strip vendor (partisan)")
def test_no_limit_of_moisture_in_brake_fluid_is_made_up() -> None:
    measures = {limit.measure for limit in rule_of("brake-fluid").limits}

    assert measures == {"fluid_copper", "fluid_boiling"}
    assert not [id_ for id_ in MEASURES if "moisture" in id_]


@pytest.mark.published("11.05", basis="R2", source="trade articles")
def test_brake_fluid_is_not_judged_by_its_color() -> None:
    assert "color" not in (rule_of("brake-fluid").check or "")


def boiling() -> list[Limit]:
    rules = shipped().rules.values()
    return [limit for rule in rules for limit in rule.limits if limit.measure == "fluid_boiling"]


@pytest.mark.published("5.11", basis="R2", source="maker page that misprints DOT 4 as 205 C")
def test_the_misprinted_boiling_point_is_not_taken_over() -> None:
    assert [limit.value for limit in boiling()] == [140, 155, 180]


@pytest.mark.published("5.06", basis="R2", source="trade release citing FMVSS 116")
def test_dot_5_shares_figures_with_dot_5_1_and_never_a_circuit() -> None:
    glycol, silicone = shipped().tables.kinds["brake fluid"].apart["fluid"]

    assert "DOT 5.1" in glycol
    assert silicone == ("DOT 5",)


@pytest.mark.published("1.14", basis="R", source="Maryland COMAR 11.22.04.06(6)")
@pytest.mark.published("2.18", basis="R2", source="Irish tire trade legal page on regs 24-27")
def test_radial_and_bias_may_not_stand_on_one_axle() -> None:
    tire = shipped().tables.kinds["tire"]

    assert tire.apart["construction"] == (("radial",), ("bias", "bias belted"))
    assert tire.apart_by == "axle"


@pytest.mark.published("11.08", basis="R2", source="press text")
def test_mixed_coolant_falls_back_to_the_interval_of_green() -> None:
    (condition,) = rule_of("coolant-green").where.conditions

    assert set(condition.values) == {"green", "mixed", "unknown"}


@pytest.mark.parametrize(
    ("key", "words"),
    [
        said("13.08", "R", "Chicago code 15-26-470", "weld", "a look again 30 minutes after"),
        said("13.08", "R", "TM 10-3930-647-14&P 5-15", "weld", "fuel lines and tank out"),
        said("13.08", "R", "TM 10-3930-647-14&P 5-15", "weld", "Battery and alternator off"),
        said("13.09", "R2", "welding safety text", "weld", "zinc, paint and sealer fume makes ill"),
        said("13.10", "R", "29 CFR 1910.1001 app. F", "dust", "no dry brush"),
        said("13.10", "R", "29 CFR 1910.1001 app. F", "dust", "wet it or use a HEPA vacuum"),
        said("13.11", "R", "29 CFR 1910.177(f) as reprinted", "splitrim", "only in a cage"),
        said("13.11", "R", "29 CFR 1910.177(f) as reprinted", "splitrim", "no hammer"),
        said("12.05", "R", "GM owner's manual", "batt", "ground cable off first"),
    ],
)
def test_a_caution_says_what_the_source_forbids(key: str, words: str) -> None:
    assert words in CAUTIONS[key]


@pytest.mark.parametrize(
    ("id_", "caution"),
    [
        said("13.10", "R", "29 CFR 1910.1001 app. F", "shoe-measure", "dust"),
        said("13.10", "R", "29 CFR 1910.1001 app. F", "drum-measure", "dust"),
        said("13.11", "R", "29 CFR 1910.177(f) as reprinted", "wheel-look", "splitrim"),
        said("13.11", "R", "29 CFR 1910.177(f) as reprinted", "tire-age", "splitrim"),
    ],
)
def test_a_job_that_meets_it_carries_the_caution(id_: str, caution: str) -> None:
    assert caution in rule_of(id_).cautions
