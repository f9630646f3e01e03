"""Published ages through the whole computation: tires, harness, extinguisher, fluids that stand."""

from datetime import date

import pytest

from castlenut.domain.component import Component
from castlenut.domain.item import Item
from castlenut.domain.working import Aged, Binds, State
from tests.builders import book, car, exposed, happened, job, part, reading, the_item, today
from tests.published.cited import ARMY_STORAGE, NFPA, said

HONDA = "Honda and Acura owner's manual"


def seen(component: Component, rule: str, on: str) -> Item:
    this = car(component, readings=(reading("2020-01-01", 50000), reading(on, 50000)))
    return the_item(today(this, book(), on), rule)


def tire() -> Component:
    """Give a tire made four years before it was fitted."""
    return part("tire", "LF", on="2020-05-01", at=50000, made="2016-03-10")


@pytest.mark.published("4.46", basis="R", source="Jaguar 2018, Mazda 3; Honda and Acura manuals")
def test_the_age_of_a_tire_counts_from_its_make_and_not_from_its_fitting() -> None:
    item = seen(tire(), "tire-age", "2025-01-01")

    assert (item.due_on, item.binds) == (date(2026, 3, 10), Binds.AGE)


@pytest.mark.parametrize(
    ("on", "state"),
    [
        said("4.41", "R", f"{HONDA}, out of service at 10 years", "2026-03-10", State.DUE),
        said("4.41", "R", f"{HONDA}, out of service at 10 years", "2026-03-11", State.OVERDUE),
        said(
            "4.42",
            "R2",
            "British Rubber Manufacturers Association, June 2001",
            "2026-03-11",
            State.OVERDUE,
        ),
    ],
)
def test_a_tire_is_out_at_ten_years_spare_included(on: str, state: State) -> None:
    spare = part("tire", "SP", on="2020-05-01", at=50000, made="2016-03-10")

    assert seen(tire(), "tire-age", on).state is state
    assert seen(spare, "tire-age", on).state is state


@pytest.mark.published("4.40", basis="R", source="Jaguar 2018, Mazda 3 owner's manuals")
@pytest.mark.parametrize(("on", "is_advised"), [("2022-03-09", False), ("2022-03-10", True)])
def test_six_years_of_a_tire_are_advice_and_no_limit(on: str, *, is_advised: bool) -> None:
    item = seen(tire(), "tire-age", on)

    (aged,) = [step for step in item.working if isinstance(step, Aged)]
    assert (aged.advise_months, aged.is_advised) == (72, is_advised)
    assert item.state is State.AHEAD


@pytest.mark.published("4.41", basis="R", source=f"{HONDA}, yearly from year 5")
def test_the_yearly_look_at_a_tire_begins_at_five_years_from_its_make() -> None:
    item = seen(tire(), "tire-age-look", "2020-06-01")

    assert item.due_on == date(2021, 3, 10)


@pytest.mark.published("13.04", basis="R2", source="club rules 2003, 2017; trade pages on FIA 8853")
def test_a_harness_runs_to_31_december_of_the_year_on_its_label() -> None:
    item = seen(
        part("harness", on="2024-06-01", at=50000, label="2027"), "harness-date", "2025-01-01"
    )

    assert (item.due_on, item.binds) == (date(2027, 12, 31), Binds.AGE)


@pytest.mark.published("13.05", basis="R2", source="advice page, some experts 10-15 years")
def test_a_seat_belt_has_no_life_but_advice_from_ten_years() -> None:
    belt = part("seat belt", "L", on="2025-01-01", at=50000, made="2014-06-01")

    item = seen(belt, "belt-seat", "2025-03-01")

    assert item.state is State.AHEAD
    assert [(step.months, step.is_advised) for step in item.working if isinstance(step, Aged)] == [
        (None, True)
    ]


@pytest.mark.parametrize(
    ("rule", "type_", "due"),
    [
        said(
            "13.03", "R2", f"{NFPA}, emptied at 6 years",
            "ext-6y", "dry chemical", date(2026, 6, 1),
        ),
        said("13.03", "R2", f"{NFPA}, at 12 years", "ext-12y", "dry chemical", date(2032, 6, 1)),
        said("13.03", "R2", f"{NFPA}, CO2 at 5 years", "ext-12y", "CO2", date(2025, 6, 1)),
    ],
)  # fmt: skip
def test_an_extinguisher_is_opened_and_tested_by_its_age(rule: str, type_: str, due: date) -> None:
    bottle = part("extinguisher", on="2021-01-01", at=50000, made="2020-06-01", type=type_)

    assert seen(bottle, rule, "2021-01-01").due_on == due


@pytest.mark.parametrize(
    ("kind", "attributes", "rule", "due"),
    [
        said(
            "11.09", "R2", "two years whatever the miles, as restated (5.07)",
            "brake fluid", {"fluid": "DOT 4"}, "brake-fluid", date(2023, 12, 1),
        ),
        said(
            "11.09", "R2", "36 months even if not driven (9.11)",
            "coolant", {"type": "green"}, "coolant-green", date(2024, 6, 1),
        ),
        said(
            "5.20", "R2", "UK recommissioning article, stored or used",
            "brake fluid", {"fluid": "DOT 3"}, "brake-fluid", date(2023, 12, 1),
        ),
        said(
            "5.18", "R2", "a brake-hose maker in a UK trade magazine",
            "brake hose", {"material": "rubber"}, "hose-renew", date(2027, 6, 1),
        ),
    ],
)  # fmt: skip
def test_a_car_that_stands_grows_older_all_the_same(
    kind: str, attributes: dict[str, str], rule: str, due: date
) -> None:
    """Fitted on 1 June 2022; not a mile since."""
    parked = part(kind, on="2022-06-01", at=50000, stamped={}, **attributes)

    item = seen(parked, rule, "2027-07-02")

    assert (item.due_on, item.state) == (due, State.OVERDUE)


@pytest.mark.parametrize(
    ("rule", "kind", "attributes", "exposure", "due"),
    [
        said(
            "12.04", "R", f"{ARMY_STORAGE}, under cover",
            "layup-walk", "vehicle", {}, "", "2025-12-01",
        ),
        said(
            "12.04", "R", f"{ARMY_STORAGE}, outdoors",
            "layup-walk", "vehicle", {}, "stored outdoors", "2025-11-08",
        ),
        said(
            "4.53", "R", "Goodyear tire storage page",
            "layup-tires", "tire set", {}, "", "2026-02-01",
        ),
        said(
            "4.53", "R", "Goodyear tire storage page, 30 days with an overlay",
            "layup-tires", "tire set", {"overlay": "yes"}, "", "2025-12-01",
        ),
        said(
            "4.54", "R2", "Firestone, told in a trade magazine 2010",
            "layup-tires", "tire set", {}, "", "2026-02-01",
        ),
        said(
            "12.01", "R2", "petroleum distributor's page",
            "fuel-stale", "fuel tank", {}, "", "2026-02-01",
        ),
        said(
            "12.02", "R2", "several general pages, stabilized 12 months",
            "fuel-stale", "fuel tank", {"fuel": "stabilized"}, "", "2026-11-01",
        ),
    ],
)  # fmt: skip
def test_a_laid_up_car_is_looked_after_as_published(
    rule: str, kind: str, attributes: dict[str, str], exposure: str, due: str
) -> None:
    """Laid up on 1 November 2025."""
    exposures = [exposed("laid up", "2025-11-01")]
    if exposure:
        exposures.append(exposed(exposure, "2025-11-01"))
    its = part(kind, on="2020-01-01", at=40000, stamped={}, **attributes)
    this = car(its, readings=(reading("2025-11-01", 50000),), exposures=exposures)

    item = the_item(today(this, book(), "2025-11-02"), rule)

    assert item.due_on == date.fromisoformat(due)


@pytest.mark.parametrize(
    ("first", "opens"),
    [
        said("4.20", "R", "Jeep Patriot and Ram owner's manuals, 25 mi", 25, 41275),
        said("4.21", "R", "Continental Tires, 30 mi", 30, 41275),
        said("4.22", "R2", "BS AU 50 part 2 sec. 7A:1995 as restated, 25-50 mi", 50, 41275),
        said("4.23", "R2", "trade and press, 50 mi", 50, 41275),
    ],
)
def test_lug_nuts_are_open_at_every_published_distance_after_a_wheel_was_off(
    first: int, opens: int
) -> None:
    """The wheel was off at 41,250; the point of 50 mi opens half way."""
    this = car(
        part("wheel", "LF", on="2025-06-01", at=40000, name="wheel"),
        readings=(reading("2025-11-01", 41250), reading("2025-11-03", 41250 + first)),
        jobs=(job("2025-06-03", 40050, "wheel-nuts~wheel"),),
        happenings=(happened("wheel-off", "2025-11-01", 41250, "LF"),),
    )

    item = the_item(today(this, book(), "2025-11-03"), "wheel-nuts")

    assert (item.window.opens_at, item.window.closes_at) == (opens, 41300)
    assert (item.state, item.binds) == (State.DUE, Binds.EVENT)
