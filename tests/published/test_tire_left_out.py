"""Published figures of tires on which nothing here rests, and the rows of tires all together."""

import re
from pathlib import Path

import pytest

from castlenut.domain.tires.legality import verdicts
from castlenut.domain.tires.reasons import Code
from castlenut.domain.tires.size import read_size
from castlenut.store.schema import fields_of
from tests.builders import shipped
from tests.domain.tires.wheels import ROAD, car, changed
from tests.published.cited import rule_of

SOURCES = Path(__file__).parents[2] / "docs" / "sources.md"
CFR_575 = "49 CFR 575.104; NHTSA interpretation 10811 (1995)"


@pytest.mark.published("2.16", basis="R2", source="C&U Regs 1986 reg. 27: 1.0 mm, other vehicles")
@pytest.mark.published("2.19", basis="R", source="COMAR 11.14.03.05: 1/32 in, motorcycles")
def test_laxer_tread_limits_of_other_vehicles_are_not_taken_over() -> None:
    limits = [
        limit
        for rule in shipped().rules.values()
        for limit in rule.limits
        if limit.measure == "tread_depth"
    ]

    assert {limit.unit for limit in limits} == {"1/32 in"}
    assert min(str(limit.value) for limit in limits) == "2"


@pytest.mark.published("2.10", basis="R", source="49 CFR 571.139 S2.1, 1 Oct 2007 ed.")
def test_tread_is_judged_alike_whichever_standard_a_tire_was_made_to() -> None:
    """Newer radials fall under standard 139, bias tires and pre-1976 cars under 109."""
    assert rule_of("tire-tread").where.conditions == ()


@pytest.mark.published("2.17", basis="R2", source="C&U Regs 1986 reg. 27: 25 mm or 10 % of width")
def test_no_length_of_a_cut_that_shows_cord_is_let_pass() -> None:
    """The law of one country rejects a cut to the cord from 25 mm on; the look asks for none."""
    assert "no cord" in (rule_of("tire-age-look").check or "")
    assert rule_of("tire-age-look").limits == ()


@pytest.mark.published("2.11", basis="R", source=f"{CFR_575}: projected miles x 100 / 30,000")
@pytest.mark.published("2.12", basis="R2", source=f"{CFR_575}: 150 wears 1.5 x 100 on the course")
@pytest.mark.published(
    "2.13", basis="R", source="49 CFR 575.104(c): no grade on rims of 12 in or less"
)
def test_no_wear_is_expected_from_a_treadwear_grade() -> None:
    """A grade compares tires on one course and promises no miles; a small classic has none."""
    assert not [name for name in fields_of("tire") if "grade" in name or "treadwear" in name]


@pytest.mark.published("3.16", basis="M", source="loads of letter sizes at 32 psi, from memory")
@pytest.mark.parametrize("marking", ["C78-14", "G78-15", "L78-15"])
def test_load_of_a_letter_size_is_not_taken_from_memory(marking: str) -> None:
    """G is told to carry 1,620 lb; without a load index the answer is that it is not known."""
    size = read_size(marking)
    wheels = changed(car(), ROAD, size=size, load_index=size.load_index)

    assert size.load_index is None
    assert {reason.code for each in verdicts(wheels) for reason in each.reasons} == {Code.LOAD}


@pytest.mark.published("4.45", basis="R2", source="UK transport pages: heavy vehicles' front axles")
def test_ban_of_old_tires_in_front_is_not_put_on_a_car() -> None:
    """Historic vehicles not in commercial use are exempt: age is the same for every place."""
    rule = rule_of("tire-age")

    assert "front" not in f"{rule.where}"
    assert "never as law" in (rule.note or "")


def _all(section: int, *numbers: range) -> set[str]:
    return {f"{section}.{number:02}" for each in numbers for number in each}


def test_every_row_on_tires_and_vehicle_numbers_is_checked() -> None:
    """TIN and tread (2), sizes (3), rotation, retorque and age (4), vehicle numbers (8)."""
    rows = {
        *_all(2, range(1, 20)),
        *_all(3, range(1, 25)),
        *("3.B",),
        *_all(4, range(1, 16), range(20, 26), range(30, 32), range(40, 47), range(50, 57)),
        *_all(8, range(1, 15)),
    }

    listed = set(re.findall(r"^\| (\d\.\w+) \|", SOURCES.read_text(encoding="utf-8"), re.MULTILINE))

    assert rows - listed == set()
