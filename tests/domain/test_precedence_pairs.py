"""Whose figure counts, pair by pair: stamped, part maker, this car, garage, shipped.

The part, the book and the garage's file are invented. Each pair is put together on one car, and
what it comes to is read off the item.
"""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import combinations

import pytest

from castlenut.domain.ids import RuleId
from castlenut.domain.item import Item
from castlenut.domain.rules.precedence import RuleChange
from castlenut.domain.rules.rule import Every
from castlenut.domain.units import Unit
from castlenut.domain.working import Beats, Judged
from tests.builders import book, car, measured, part, reading, the_item, today

ORDER = ("stamped", "part maker", "this car", "garage", "shipped")

# brake hose, renew: fitted 2026-01-01; shipped every 31k/60m
RENEWED_ON = {
    "part maker": date(2028, 1, 1),  # 24 months
    "this car": date(2029, 1, 1),  # 36 months
    "garage": date(2030, 1, 1),  # 48 months
    "shipped": date(2031, 1, 1),  # 60 months
}
# brake pad, measure: shipped at least 1/8 in
LEAST_IN = {
    "stamped": Decimal("0.3"),
    "this car": Decimal("0.25"),
    "garage": Decimal("0.2"),
    "shipped": Decimal("0.125"),
}
INTERVALS = list(combinations([each for each in ORDER if each in RENEWED_ON], 2))
LIMITS = list(combinations([each for each in ORDER if each in LEAST_IN], 2))


def hose_with(voices: tuple[str, ...]) -> Item:
    """Give the renewal of a hose for which some say how long it serves."""
    garage = (
        '[[rule]]\nid = "hose-renew"\nevery = { months = 48 }\n'
        'age = { from = "made", months = 48 }\n'
    )
    own = RuleChange(
        rule=RuleId("hose-renew"), why="its book", unit=Unit.MI, every=Every(months=36)
    )
    this = car(
        part(
            "brake hose",
            "LF",
            on="2026-01-01",
            at=40000,
            every="-/24m" if "part maker" in voices else None,
            material="rubber",
        ),
        readings=[reading("2026-02-01", 40100)],
        rule_changes=[own] if "this car" in voices else [],
    )
    rules = book(garage if "garage" in voices else None)
    return the_item(today(this, rules, "2026-02-01"), "hose-renew")


def pad_with(voices: tuple[str, ...]) -> Judged:
    """Give the limit of a pad's thickness, for which some give a figure."""
    garage = (
        '[[rule]]\nid = "pad-measure"\n'
        'limits = [{ measure = "pad_thickness", at_least = 0.2, unit = "in" }]\n'
    )
    own = RuleChange(
        rule=RuleId("pad-measure"),
        why="its book",
        unit=Unit.MI,
        limits={"pad_thickness": Fraction(1, 4)},
    )
    this = car(
        part(
            "brake pad",
            "LF",
            on="2026-01-01",
            at=40000,
            stamped={"pad_thickness": "0.3 in"} if "stamped" in voices else None,
            friction="disc",
        ),
        readings=[reading("2026-02-01", 40100)],
        measurements=[measured("pad_thickness", "2026-02-01", 40100, "0.4", unit="in", where="LF")],
        rule_changes=[own] if "this car" in voices else [],
    )
    rules = book(garage if "garage" in voices else None)
    item = the_item(today(this, rules, "2026-02-01"), "pad-measure")
    (judged,) = (step for step in item.working if isinstance(step, Judged))
    return judged


@pytest.mark.parametrize(("first", "second"), INTERVALS)
def test_the_interval_of_the_one_named_first_counts(first: str, second: str) -> None:
    item = hose_with((first, second))

    assert item.due_on == RENEWED_ON[first]


@pytest.mark.parametrize(("first", "second"), LIMITS)
def test_the_limit_of_the_one_named_first_counts(first: str, second: str) -> None:
    judged = pad_with((first, second))

    assert judged.limit == LEAST_IN[first]
    assert judged.whose is {
        "stamped": Beats.STAMPED,
        "this car": Beats.THIS_CAR,
        "garage": Beats.GARAGE,
    }.get(first)


def test_the_year_on_a_label_stands_over_the_interval_of_the_maker() -> None:
    """A harness's label says until when it may be worn, whatever its maker writes of service."""
    this = car(part("harness", "L", on="2026-01-01", at=40000, every="-/12m", label="2029"))

    item = the_item(today(this, book(), "2026-02-01"), "harness-date")

    assert item.due_on == date(2029, 12, 31)


def test_every_pair_is_tried() -> None:
    tried = {*INTERVALS, *LIMITS, ("stamped", "part maker")}

    assert tried == set(combinations(ORDER, 2))
