"""The car's own figures: named, given in their units, and the limit of a rule."""

from decimal import Decimal

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.figures import (
    FigureRead,
    figure_name,
    figure_words,
    read_figure,
    same_figure,
    serves,
    units_of,
)
from tests.builders import book, figure


def test_the_figure_of_a_measure_is_kept_as_it_was_entered() -> None:
    assert read_figure("toe", "1/16", "in") == FigureRead(
        name="toe", value=Decimal("0.0625"), unit="in"
    )
    assert read_figure("toe", "2", "mm") == FigureRead(name="toe", value=Decimal(2), unit="mm")


def test_a_measure_is_found_by_its_words() -> None:
    assert figure_name("Ball joint play") == "ball_joint_play"
    assert figure_name("caster") == "caster"


def test_a_figure_no_measure_names_keeps_the_words_of_the_trade() -> None:
    assert read_figure("lug nut torque", "75", "lb-ft") == FigureRead(
        name="lug nut torque", value=Decimal(75), unit="ft-lb"
    )


def test_a_range_and_a_grade_are_kept_in_words() -> None:
    assert read_figure("idle speed", "750-800", "rpm").value == "750-800"
    assert read_figure("engine oil", "20W-50", "-") == FigureRead(
        name="engine oil", value="20W-50", unit="-"
    )


@pytest.mark.parametrize(
    ("name", "value", "unit", "sentence"),
    [
        (
            "toe",
            "1/16",
            "psi",
            (
                "value: '1/16 psi' has a unit that toe is not measured in;"
                " write 0.125 in or 1/8 in, 4.5 mm, a figure in deg"
            ),
        ),
        (
            "lug nut torque",
            "75",
            "psi",
            "unit: lug nut torque cannot be in psi; give it in ft-lb, in-lb or Nm",
        ),
        *(
            (name, "0.2", "V", f"unit: {name} cannot be in V; give it in in, mm or 1/32 in")
            for name in ("valve-clearance", "valve lash", "shims LF")  # once taken with any unit
        ),
        ("plug gap", "0.025", "-", "unit: plug gap has no unit; give it in in, mm or 1/32 in"),
        (
            "oil pressure",
            "good",
            "psi",
            "value: 'good' is no oil pressure; give a number, or two as 750-800",
        ),
        ("  ", "1", "in", "figure: no figure is named; as toe, or lug nut torque"),
    ],
)
def test_a_figure_that_cannot_be_is_refused_in_one_sentence(
    name: str, value: str, unit: str, sentence: str
) -> None:
    with pytest.raises(BadInput) as refused:
        read_figure(name, value, unit)

    assert [str(fault) for fault in refused.value.faults] == [sentence]


def test_the_units_of_a_figure_follow_from_the_last_word_that_tells() -> None:
    assert units_of("U-bolt torque, rear") == ()
    assert units_of("rear U-bolt torque") == ("ft-lb", "in-lb", "Nm")
    assert units_of("valve clearance intake") == ("in", "mm", "1/32 in")
    assert units_of("engine oil") == ()


def test_a_figure_is_the_limit_of_the_rules_that_ask_for_it() -> None:
    rules = tuple(book().rules.values())

    assert [rule.id for rule in serves(figure("toe", "0.1", "in"), rules)] == ["align"]
    assert [rule.id for rule in serves(figure("drum_diameter", "11.06", "in"), rules)] == [
        "drum-measure"
    ]
    assert [rule.id for rule in serves(figure("steering_wheel_diameter", "18", "in"), rules)] == [
        "linkage-play",
        "steering-lash",
    ]
    assert [rule.id for rule in serves(figure("wheel nut torque", "75", "ft-lb"), rules)] == [
        "wheel-nuts",
        "wheel-nuts-heavy",
    ]
    assert [rule.id for rule in serves(figure("dwell", "48", "deg"), rules)] == ["points-set"]
    assert [rule.id for rule in serves(figure("door gap", "4", "mm"), rules)] == []


def test_a_name_is_told_in_the_words_of_its_measure_else_in_its_own() -> None:
    assert figure_words("ball_joint_play") == "ball joint play"
    assert figure_words("idle_speed") == "idle speed"


def test_names_that_differ_by_case_and_plural_alone_mean_one_figure() -> None:
    assert same_figure("Lug Nuts torque", "lug nut torque")
    assert not same_figure("lug nut torque", "U-bolt torque")


@pytest.mark.parametrize(
    ("value", "kept"),
    [("1 1/2", Decimal("1.5")), ("-1/4", Decimal("-0.25")), ("1/3", "1/3"), ("1/0", "1/0")],
)
def test_a_fraction_that_has_no_exact_figure_stays_in_words(value: str, kept: object) -> None:
    assert read_figure("spacer", value, "-").value == kept


def test_two_figures_are_none_of_a_measure() -> None:
    with pytest.raises(BadInput, match="has 2 figures, toe is one"):
        read_figure("toe", "1 2", "mm")


def test_a_figure_without_a_name_is_refused() -> None:
    with pytest.raises(BadInput, match="no figure is named"):
        figure_name("  ")
