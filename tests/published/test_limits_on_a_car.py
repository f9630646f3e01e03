"""Published limits, each through the whole computation: a figure measured on a small invented car.

What the source passes must not be open for its measurement; what it rejects must be overdue by it.
"""

from dataclasses import dataclass
from decimal import Decimal

import pytest

from castlenut.domain.item import Item
from castlenut.domain.vehicle import Drive
from castlenut.domain.working import Binds, Judged, State
from tests.builders import book, car, figure, measured, part, reading, the_item, today, vehicle
from tests.published.cited import AP_1967, PRACTICE, said

ON = "2026-01-02"

TABLE_1 = "49 CFR 570.7(a) Table 1; 570.60 Table 2"
DUAL_RULE = "Maryland COMAR 11.14.05.05 A(1)(g)"
EMBOSSED = "RCW 46.37.360(4); 49 CFR 570.59(b)"
LIGHT_LINING = "RCW 46.37.360(5), after 49 CFR 570.5 (from memory)"
TABLE_3 = "49 CFR 570.60(b) Table 3"
FMVSS_116 = "fluid maker's sheet and reference table after FMVSS 116"
SHELL = "Shell data sheet citing FMVSS 116 S5.1.1, S5.1.2"
AP_PADS = f"{AP_1967}; the 1/8 in read from an unclear scan"
RUNOUT = "Honda Fit, Nissan Pathfinder 1999 service texts"
VARIATION = "Mitsubishi, Honda, Nissan service texts"
JAPANESE_HUBS = "Suzuki Jimny, Mazda 1998, Toyota 2004, Mitsubishi Montero"
MAGAZINE = "travel-vehicle magazine"
DEERE = "Deere operator manual, ethylene glycol"
OWNERS_BARS = "owner's manuals (VW 2015, GM 2008 and 2011) restating the federal rule"


@dataclass(frozen=True, kw_only=True)
class Setup:
    """One part on an otherwise empty car, and what the limit goes by."""

    rule: str
    kind: str
    where: str = ""
    attributes: tuple[tuple[str, str], ...] = ()
    stamped: tuple[tuple[str, str], ...] = ()
    weight_lb: int | None = None
    dual: bool = False
    own: tuple[tuple[str, str, str], ...] = ()  # the car's own figures: name, value, unit

    def __str__(self) -> str:
        """Name the case in the list of tests."""
        given = (*self.attributes, *self.stamped, *self.own, ("lb", str(self.weight_lb or "-")))
        return " ".join([self.rule, *("=".join(each) for each in given)])

    def seen(self, measure: str, value: str, unit: str) -> Item:
        """Give the item on the day its part was measured, a day after it was fitted."""
        fitted = part(
            self.kind,
            self.where,
            on="2026-01-01",
            at=50000,
            stamped=dict(self.stamped),
            **dict(self.attributes),
        )
        this = car(
            fitted,
            of=vehicle(weight_lb=self.weight_lb, dual=self.dual),
            readings=(reading("2026-01-01", 50000), reading(ON, 50010)),
            measurements=(measured(measure, ON, 50010, value, unit=unit, where=self.where),),
            figures=tuple(figure(*each) for each in self.own),
        )
        return the_item(today(this, book(), ON), self.rule)


def judged(item: Item, measure: str) -> list[Judged]:
    return [step for step in item.working if isinstance(step, Judged) and step.measure == measure]


def lash(wheel_in: str) -> Setup:
    return Setup(
        rule="steering-lash",
        kind="steering box",
        own=(("steering_wheel_diameter", wheel_in, "in"),),
    )


def linkage(weight_lb: int, rim_in: str | None = None) -> Setup:
    return Setup(
        rule="linkage-play",
        kind="tie rod end",
        where="L",
        weight_lb=weight_lb,
        own=() if rim_in is None else (("rim_diameter", rim_in, "in"),),
    )


def shoe(lining: str, *, new: str | None = None, weight_lb: int | None = None) -> Setup:
    return Setup(
        rule="shoe-measure",
        kind="brake shoe",
        where="LR",
        attributes=(("lining", lining), ("adjuster", "manual")),
        stamped=() if new is None else (("new", new),),
        weight_lb=weight_lb,
    )


def fluid(name: str) -> Setup:
    return Setup(rule="brake-fluid", kind="brake fluid", attributes=(("fluid", name),))


def tread(where: str, weight_lb: int | None = None) -> Setup:
    return Setup(rule="tire-tread", kind="tire", where=where, weight_lb=weight_lb)


def ball_joint(limit: str | None = None, unit: str = "mm") -> Setup:
    return Setup(
        rule="ball-joint-play",
        kind="ball joint",
        where="L lower",
        own=() if limit is None else (("ball_joint_play", limit, unit),),
    )


def battery(volts: str) -> Setup:
    return Setup(rule="battery-test", kind="battery", attributes=(("volts", volts),))


TOE = Setup(rule="align", kind="alignment", own=(("toe", "0.125", "in"),))
PEDAL = Setup(
    rule="shoe-adjust", kind="brake shoe", where="LR", attributes=(("adjuster", "manual"),)
)
PAD = Setup(rule="pad-measure", kind="brake pad", where="LF")
ROTOR = Setup(
    rule="rotor-measure", kind="rotor", where="LF", stamped=(("rotor_thickness", "0.43 in"),)
)
DRUM = Setup(rule="drum-measure", kind="drum", where="LR", stamped=(("drum_diameter", "9.56 in"),))
WHEEL = Setup(rule="wheel-look", kind="wheel", where="LF")
DUALS = Setup(rule="dual-match", kind="tire set", dual=True)
PACKED = Setup(
    rule="hub-play", kind="wheel bearing", where="LF", attributes=(("service", "repackable"),)
)
SEALED = Setup(
    rule="hub-sealed", kind="wheel bearing", where="LF", attributes=(("service", "sealed"),)
)
ENGINE = Setup(rule="compression", kind="engine")
ALTERNATOR = Setup(rule="charging", kind="generator", attributes=(("type", "alternator"),))
GROUND = Setup(rule="grounds", kind="ground strap")
SPRING = Setup(rule="ride-height", kind="spring", where="LF", attributes=(("type", "coil"),))
COOLANT = Setup(rule="coolant-test", kind="coolant", own=(("coolant_freeze", "-30", "F"),))


PASSED = [
    said("1.01", "R", TABLE_1, lash("16"), "wheel_lash", "2", "in"),
    said("1.01", "R", TABLE_1, lash("18"), "wheel_lash", "2.25", "in"),
    said("1.01", "R", TABLE_1, lash("20"), "wheel_lash", "2.5", "in"),
    said("1.01", "R", TABLE_1, lash("22"), "wheel_lash", "2.75", "in"),
    said("1.03", "R", "49 CFR 570.7(b), (b)(1)", linkage(4000), "linkage_play", "0.25", "in"),
    said("1.04", "R", TABLE_3, linkage(14000, "16"), "linkage_play", "0.25", "in"),
    said("1.04", "R", TABLE_3, linkage(14000, "17.5"), "linkage_play", "0.375", "in"),
    said("1.04", "R", TABLE_3, linkage(14000, "19.5"), "linkage_play", "0.5", "in"),
    said("1.05", "R", "49 CFR 570.7(d); RCW 46.37.375(7)", TOE, "toe", "0.1875", "in"),
    said("1.07", "R", LIGHT_LINING, shoe("bonded"), "lining_thickness", "0.0625", "in"),
    said("1.07", "R", LIGHT_LINING, shoe("riveted"), "lining_thickness", "0.03125", "in"),
    said(
        "1.08", "R", "49 CFR 570.59(c)",
        shoe("bonded", weight_lb=14000), "lining_thickness", "0.0625", "in",
    ),
    said(
        "1.08", "R", "49 CFR 570.59(c)",
        shoe("riveted", weight_lb=14000), "lining_thickness", "0.03125", "in",
    ),
    said("1.09", "R", EMBOSSED, ROTOR, "rotor_thickness", "0.43", "in"),
    said("1.09", "R", EMBOSSED, DRUM, "drum_diameter", "9.56", "in"),
    said("1.10", "R", "RCW 46.37.360(2)", PEDAL, "pedal_travel", "80", "%"),
    said("1.10", "R", "49 CFR 570.55(c): A 5 in, B 1.2 in", PEDAL, "pedal_travel", "76", "%"),
    said("1.11", "M", "49 CFR 570.9, from memory", tread("LF"), "tread_depth", "2", "1/32 in"),
    said("1.12", "R", "49 CFR 570.62(a)", tread("LF", 14000), "tread_depth", "4", "1/32 in"),
    said("1.12", "R", "49 CFR 570.62(a)", tread("LR", 14000), "tread_depth", "2", "1/32 in"),
    said("1.13", "R", DUAL_RULE, DUALS, "dual_difference", "0.5", "in"),
    said("1.15", "R", "49 CFR 570.10(b), 39 FR 12868", WHEEL, "wheel_runout", "0.125", "in"),
    said(
        "2.14", "R2", "49 CFR 393.75 as restated",
        tread("LF", 14000), "tread_depth", "4", "1/32 in",
    ),
    said("2.15", "R2", "C&U Regs 1986 reg. 27", tread("LF"), "tread_depth", "1.6", "mm"),
    said("2.19", "R", "GM manual 2008", tread("LF", 14000), "tread_depth", "3.2", "mm"),
    said("5.01", "R2", FMVSS_116, fluid("DOT 3"), "fluid_boiling", "140", "C"),
    said("5.01", "R2", FMVSS_116, fluid("DOT 3"), "fluid_boiling", "284", "F"),
    said("5.02", "R", SHELL, fluid("DOT 4"), "fluid_boiling", "155", "C"),
    said("5.02", "R", SHELL, fluid("DOT 4"), "fluid_boiling", "311", "F"),
    said("5.03", "R2", FMVSS_116, fluid("DOT 5.1"), "fluid_boiling", "180", "C"),
    said("5.03", "R2", FMVSS_116, fluid("DOT 5.1"), "fluid_boiling", "356", "F"),
    said("5.16", "R", AP_PADS, PAD, "pad_thickness", "0.125", "in"),
    said("5.16", "R", AP_1967, shoe("bonded", new="0.24 in"), "lining_thickness", "0.08", "in"),
    said("5.27", "R", RUNOUT, ROTOR, "rotor_runout", "0.004", "in"),
    said("5.27", "R", RUNOUT, ROTOR, "rotor_runout", "0.10", "mm"),
    said("5.28", "R", VARIATION, ROTOR, "rotor_variation", "0.0006", "in"),
    said("5.28", "R", VARIATION, ROTOR, "rotor_variation", "0.015", "mm"),
    said("6.01", "M", "end play, from memory", PACKED, "bearing_end_play", "0.001", "in"),
    said("6.01", "M", "end play, from memory", PACKED, "bearing_end_play", "0.127", "mm"),
    said("6.04", "R", "GM 2006, medium duty", PACKED, "bearing_end_play", "0.004", "in"),
    said("6.05", "R", "TM 10-3930-671-24", PACKED, "bearing_end_play", "0.003", "in"),
    said("6.07", "R", JAPANESE_HUBS, SEALED, "bearing_end_play", "0.05", "mm"),
    said("6.20", "R", "Pontiac 1968 p.3-2", PACKED, "bearing_end_play", "0.005", "in"),
    said("11.01", "R2", "Motorist Assurance Program", fluid("DOT 4"), "fluid_copper", "200", "ppm"),
    said("11.12", "R", f"{DEERE}, 50 percent", COOLANT, "coolant_freeze", "-34", "F"),
    said("11.12", "R", f"{DEERE}, 50 percent", COOLANT, "coolant_freeze", "-37", "C"),
    said(
        "13.01", "R", "Ford Probe 1992, 1997 service texts", ENGINE, "compression_share", "75", "%",
    ),
    said("13.02", "R", "Lexus 2007", ball_joint("0.4"), "ball_joint_play", "0.4", "mm"),
    said("13.02", "R", "Saturn 2008", ball_joint(), "ball_joint_play", "0.5", "mm"),
    said("13.02", "R", "Subaru 1994", ball_joint("0.3"), "ball_joint_play", "0.3", "mm"),
    said(
        "13.02", "R", "Ford Sable 2004", ball_joint("0.03", "in"), "ball_joint_play", "0.75", "mm",
    ),
    said("13.02", "R", "GM P32 1999", ball_joint("2"), "ball_joint_play", "2", "mm"),
    said("13.06", "R2", MAGAZINE, battery("12"), "battery_volts", "12.45", "V"),
    said("13.06", "R2", MAGAZINE, battery("12"), "battery_gravity", "1.230", "gravity"),
    said("13.06", "C", f"half of 12.45 V, {MAGAZINE}", battery("6"), "battery_volts", "6.23", "V"),
    said("-", "P", PRACTICE, ALTERNATOR, "charging_volts", "13.8", "V"),
    said("-", "P", PRACTICE, ALTERNATOR, "charging_volts", "14.7", "V"),
    said("-", "P", PRACTICE, GROUND, "ground_drop", "0.2", "V"),
    said("-", "P", PRACTICE, SPRING, "ride_height_difference", "0.5", "in"),
]  # fmt: skip

REJECTED = [
    said("1.01", "R", TABLE_1, lash("16"), "wheel_lash", "2.1", "in"),
    said("1.01", "R", TABLE_1, lash("18"), "wheel_lash", "2.3", "in"),
    said("1.01", "R", TABLE_1, lash("20"), "wheel_lash", "2.6", "in"),
    said("1.01", "R", TABLE_1, lash("22"), "wheel_lash", "2.8", "in"),
    said("1.03", "R", "49 CFR 570.7(b), (b)(1)", linkage(4000), "linkage_play", "0.3125", "in"),
    said("1.04", "R", TABLE_3, linkage(14000, "16"), "linkage_play", "0.3", "in"),
    said("1.04", "R", TABLE_3, linkage(14000, "17.5"), "linkage_play", "0.4", "in"),
    said("1.04", "R", TABLE_3, linkage(14000, "19.5"), "linkage_play", "0.51", "in"),
    said("1.05", "R", "49 CFR 570.7(d); RCW 46.37.375(7)", TOE, "toe", "0.19", "in"),
    said("1.07", "R", LIGHT_LINING, shoe("bonded"), "lining_thickness", "0.015625", "in"),
    said("1.07", "R", LIGHT_LINING, shoe("riveted"), "lining_thickness", "0.015625", "in"),
    said(
        "1.08", "R", "49 CFR 570.59(c)",
        shoe("bonded", weight_lb=14000), "lining_thickness", "0.03125", "in",
    ),
    said("1.09", "R", EMBOSSED, ROTOR, "rotor_thickness", "0.42", "in"),
    said("1.09", "R", EMBOSSED, DRUM, "drum_diameter", "9.57", "in"),
    said("1.10", "R", "RCW 46.37.360(2)", PEDAL, "pedal_travel", "81", "%"),
    said("1.11", "M", "49 CFR 570.9, from memory", tread("LF"), "tread_depth", "1", "1/32 in"),
    said("1.12", "R", "49 CFR 570.62(a)", tread("LF", 14000), "tread_depth", "3", "1/32 in"),
    said("1.12", "R", "49 CFR 570.62(a)", tread("LR", 14000), "tread_depth", "1", "1/32 in"),
    said("1.13", "R", DUAL_RULE, DUALS, "dual_difference", "0.6", "in"),
    said("1.15", "R", "49 CFR 570.10(b), 39 FR 12868", WHEEL, "wheel_runout", "0.13", "in"),
    said("2.09", "R2", OWNERS_BARS, tread("LF"), "tread_depth", "1", "1/32 in"),
    said(
        "2.14", "R2", "49 CFR 393.75 as restated",
        tread("LF", 14000), "tread_depth", "3", "1/32 in",
    ),
    said("2.15", "R2", "C&U Regs 1986 reg. 27", tread("LF"), "tread_depth", "1.5", "mm"),
    said("2.19", "R", "GM manual 2008", tread("LF", 14000), "tread_depth", "3.1", "mm"),
    said("5.01", "R2", FMVSS_116, fluid("DOT 3"), "fluid_boiling", "139", "C"),
    said("5.02", "R", SHELL, fluid("DOT 4"), "fluid_boiling", "154", "C"),
    said("5.03", "R2", FMVSS_116, fluid("DOT 5.1"), "fluid_boiling", "179", "C"),
    said("5.16", "R", AP_PADS, PAD, "pad_thickness", "0.12", "in"),
    said("5.16", "R", AP_1967, shoe("bonded", new="0.24 in"), "lining_thickness", "0.07", "in"),
    said("5.24", "R", "GM 1998 S/T Isuzu", shoe("bonded"), "lining_thickness", "0.029", "in"),
    said("5.24", "R", "GM 1998 S/T Isuzu", shoe("riveted"), "lining_thickness", "0.029", "in"),
    said("5.27", "R", RUNOUT, ROTOR, "rotor_runout", "0.005", "in"),
    said("5.27", "R", RUNOUT, ROTOR, "rotor_runout", "0.11", "mm"),
    said("5.28", "R", VARIATION, ROTOR, "rotor_variation", "0.0007", "in"),
    said("5.29", "R", "Saturn Astra 2008 owner's manual p.9-24", PAD, "pad_thickness", "2", "mm"),
    said(
        "5.30", "R2", "workshop page, one make 1970-75 and later",
        PAD, "pad_thickness", "2.0", "mm",
    ),
    said("6.01", "M", "end play, from memory", PACKED, "bearing_end_play", "0.0005", "in"),
    said("6.03", "R", "GM 1997 P62: 0.008 in is 0.20 mm", PACKED, "bearing_end_play", "0.21", "mm"),
    said("6.06", "R", "GM S-10 diagnosis", SEALED, "bearing_end_play", "0.128", "mm"),
    said("6.07", "R", JAPANESE_HUBS, SEALED, "bearing_end_play", "0.06", "mm"),
    said("6.20", "R", "Pontiac 1968 p.3-2", PACKED, "bearing_end_play", "0.006", "in"),
    said("11.01", "R2", "Motorist Assurance Program", fluid("DOT 4"), "fluid_copper", "250", "ppm"),
    said("11.12", "R", f"{DEERE}, 40 percent", COOLANT, "coolant_freeze", "-12", "F"),
    said("11.12", "R", f"{DEERE}, 40 percent", COOLANT, "coolant_freeze", "-24", "C"),
    said(
        "13.01", "R", "Ford Probe 1992, 1997 service texts", ENGINE, "compression_share", "74", "%",
    ),
    said("13.02", "R", "Lexus 2007", ball_joint("0.4"), "ball_joint_play", "0.41", "mm"),
    said("13.02", "R", "Saturn 2008", ball_joint(), "ball_joint_play", "0.021", "in"),
    said("13.02", "R", "Subaru 1994", ball_joint("0.3"), "ball_joint_play", "0.31", "mm"),
    said("13.02", "R", "GM P32 1999", ball_joint("2"), "ball_joint_play", "2.1", "mm"),
    said("13.06", "R2", MAGAZINE, battery("12"), "battery_volts", "12.44", "V"),
    said("13.06", "R2", MAGAZINE, battery("12"), "battery_gravity", "1.225", "gravity"),
    said("13.06", "C", f"half of 12.45 V, {MAGAZINE}", battery("6"), "battery_volts", "6.22", "V"),
    said("-", "P", PRACTICE, ALTERNATOR, "charging_volts", "13.7", "V"),
    said("-", "P", PRACTICE, ALTERNATOR, "charging_volts", "14.8", "V"),
    said("-", "P", PRACTICE, GROUND, "ground_drop", "0.25", "V"),
    said("-", "P", PRACTICE, SPRING, "ride_height_difference", "0.625", "in"),
]  # fmt: skip


@pytest.mark.parametrize(("setup", "measure", "value", "unit"), PASSED)
def test_what_the_source_passes_is_not_held_against_the_car(
    setup: Setup, measure: str, value: str, unit: str
) -> None:
    item = setup.seen(measure, value, unit)

    steps = judged(item, measure)
    assert [step.passes for step in steps] == [True] * len(steps)
    assert steps
    assert item.state is not State.OVERDUE


@pytest.mark.parametrize(("setup", "measure", "value", "unit"), REJECTED)
def test_what_the_source_rejects_is_overdue_by_its_measurement(
    setup: Setup, measure: str, value: str, unit: str
) -> None:
    item = setup.seen(measure, value, unit)

    assert False in [step.passes for step in judged(item, measure)]
    assert item.binds is Binds.MEASUREMENT
    own_check = State.DUE if item.rule.is_own_check else State.OVERDUE
    assert item.state is own_check


@pytest.mark.published("1.01", basis="R", source=TABLE_1)
def test_a_steering_wheel_of_unknown_size_gets_the_strictest_row() -> None:
    setup = Setup(rule="steering-lash", kind="steering box")

    (step,) = judged(setup.seen("wheel_lash", "2.1", "in"), "wheel_lash")

    assert (step.limit, step.is_stand_in, step.passes) == (Decimal(2), True, False)


@pytest.mark.published("1.09", basis="R", source=EMBOSSED)
def test_a_drum_without_a_cast_figure_has_no_limit() -> None:
    """Embossing is usual since 1971: an older car's own has to be entered, nothing is made up."""
    setup = Setup(rule="drum-measure", kind="drum", where="LR")

    (step,) = judged(setup.seen("drum_diameter", "9.99", "in"), "drum_diameter")

    assert (step.limit, step.passes) == (None, None)


def four_tires(depths: tuple[str, str, str, str]) -> Item:
    corners = ("LF", "RF", "LR", "RR")
    this = car(
        *(part("tire", place, on="2026-01-01", at=50000) for place in corners),
        part("tire set", on="2026-01-01", at=50000),
        of=vehicle(drive=Drive.ALL),
        readings=(reading("2026-01-01", 50000), reading(ON, 50010)),
        measurements=tuple(
            measured("tread_depth", ON, 50010, depth, unit="1/32 in", where=place)
            for place, depth in zip(corners, depths, strict=True)
        ),
    )
    return the_item(today(this, book(), ON), "awd-spread")


@pytest.mark.published("4.31", basis="C", source="geometry: 2 x pi / 32 = 0.196 in a 1/32 of tread")
@pytest.mark.parametrize(
    ("depth", "spread", "passes"),
    [
        ("7", "0.1963", True),
        pytest.param(
            "6", "0.3927", False,
            marks=pytest.mark.published(
                "4.30", basis="R2", source="shop rule of 2/32, over 1/4 in: 0.39 computed"
            ),
        ),
        pytest.param(
            "5", "0.5890", False,
            marks=pytest.mark.published(
                "4.30", basis="R2", source="trade rule of 3/32, over 1/4 in: 0.59 computed"
            ),
        ),
    ],
)  # fmt: skip
def test_a_difference_of_tread_becomes_one_of_circumference(
    depth: str, spread: str, *, passes: bool
) -> None:
    item = four_tires(("8", "8", "8", depth))

    (step,) = judged(item, "circumference_spread")
    assert (step.value, step.passes) == (Decimal(spread), passes)
    assert (item.state is State.OVERDUE) is not passes


@pytest.mark.published("4.30", basis="R2", source="case report: 91.5 and 92.25 in, axle broke")
def test_three_quarters_of_an_inch_of_circumference_are_too_much() -> None:
    this = car(
        part("tire set", on="2026-01-01", at=50000),
        of=vehicle(drive=Drive.ALL),
        readings=(reading("2026-01-01", 50000), reading(ON, 50010)),
        measurements=(measured("circumference_spread", ON, 50010, "0.75", unit="in"),),
    )

    item = the_item(today(this, book(), ON), "awd-spread")

    assert (item.state, item.binds) == (State.OVERDUE, Binds.MEASUREMENT)
