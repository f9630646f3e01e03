"""Published interval arithmetic through the whole computation: a rule, a small car, its item.

Hours of the aviation texts stand as miles here: the arithmetic is the published part.
"""

from datetime import date

import pytest

from castlenut.domain.item import Item
from castlenut.domain.working import Binds, State
from tests.builders import book, car, exposed, job, only, part, reading, the_item, today
from tests.published.cited import DEFENDER, LO_273, SPECIAL, said

RULE = """
[[rule]]
id = "test-{name}"
title = "service {name}, test"
part = "Engine"
component = "engine oil"
every = {{ {every} }}
lead = {{ {margin} }}
tolerance = {{ {margin} }}
next_from = "{next_from}"
"""
TEN = "percent = 10"
CAPPED = "percent = 10, cap_days = 30"
ARMY = "DA PAM 750-8 as told in PS Magazine 18 Dec 2019"


def rule(
    every: str, margin: str = TEN, *, next_from: str = "schedule", name: str = "service"
) -> str:
    return RULE.format(every=every, margin=margin, next_from=next_from, name=name)


def item_on(
    text: str, on: str, *, fitted: str, at: int | None = None, dial: int = 0, done: str = ""
) -> Item:
    """Give the item of a rule on a day, fitted and perhaps `done` ("2020-01-31 at 105")."""
    day, _, figure = done.partition(" at ")
    jobs = () if not done else (job(day, int(figure) if figure else None, "test-service~oil"),)
    this = car(
        part("engine oil", on=fitted, at=at, name="oil"),
        readings=(reading(fitted, at or 0), reading(on, dial or at or 0)),
        jobs=jobs,
    )
    return the_item(today(this, only(text), on), "test-service")


@pytest.mark.parametrize(
    ("every", "margin", "fitted", "due", "opens", "closes"),
    [
        said(
            "7.04", "R", SPECIAL,
            "months = 6", CAPPED, "1998-07-31", "1999-01-31", "1999-01-13", "1999-02-18",
        ),
        said(
            "7.05", "R", SPECIAL,
            "months = 12", CAPPED, "1998-02-06", "1999-02-06", "1999-01-07", "1999-03-08",
        ),
        said(
            "7.09", "R", f"{ARMY}: annual 36 d",
            "months = 12", TEN, "2018-06-01", "2019-06-01", "2019-04-26", "2019-07-07",
        ),
        said(
            "7.12", "C", "PS 569 (2000) p.32, whose 10 April is a slip",
            "months = 12", TEN, "1999-05-15", "2000-05-15", "2000-04-09", "2000-06-20",
        ),
    ],
)  # fmt: skip
def test_the_window_in_days_is_the_published_one(
    every: str, margin: str, fitted: str, due: str, opens: str, closes: str
) -> None:
    item = item_on(rule(every, margin), fitted, fitted=fitted)

    assert item.due_on == date.fromisoformat(due)
    assert item.window.opens_on == date.fromisoformat(opens)
    assert item.window.closes_on == date.fromisoformat(closes)


@pytest.mark.published("7.04", basis="R", source=SPECIAL)
@pytest.mark.parametrize(
    ("on", "state"),
    [
        ("1999-01-12", State.AHEAD),
        ("1999-01-13", State.DUE),
        ("1999-02-18", State.DUE),
        pytest.param(
            "1999-02-19", State.OVERDUE,
            marks=pytest.mark.published(
                "7.11", basis="R", source=f"{ARMY}: over 10 percent, not mission capable"
            ),
        ),
    ],
)  # fmt: skip
def test_the_state_follows_the_published_window(on: str, state: State) -> None:
    item = item_on(rule("months = 6", CAPPED), on, fitted="1998-07-31")

    assert item.state is state


@pytest.mark.parametrize(
    ("months", "fitted", "done", "due"),
    [
        said("7.04", "R", SPECIAL, 6, "1998-07-31", "1999-02-15", "1999-07-31"),
        said("7.10", "R", f"{ARMY}, inside", 12, "2018-06-01", "2019-07-07", "2020-06-01"),
        said("7.10", "R", f"{ARMY}, outside", 12, "2018-06-01", "2019-07-08", "2020-07-08"),
        said("7.03", "C", f"{SPECIAL}; by days", 6, "1998-07-31", "1999-01-12", "1999-07-12"),
    ],
)
def test_inside_its_window_a_job_keeps_the_schedule_in_days(
    months: int, fitted: str, done: str, due: str
) -> None:
    item = item_on(rule(f"months = {months}"), done, fitted=fitted, done=done)

    assert item.due_on == date.fromisoformat(due)


@pytest.mark.parametrize(
    ("next_from", "every", "at", "done", "due"),
    [
        said("7.18", "R2", "14 CFR 91.409(b) as quoted", "schedule", 100, 0, 102, 200),
        said("7.21", "R2", "Part-ML, ML.A.302(d)(1)(a), AMC", "done", 100, 1900, 2010, 2110),
        said("7.22", "R2", "ED 2015/024/R Annex I", "schedule", 100, 1900, 2010, 2100),
        said("7.24", "R2", "Rotax 912 style maintenance text, late", "schedule", 100, 0, 110, 200),
        said("7.24", "R2", "Rotax 912 style maintenance text, early", "schedule", 100, 0, 87, 187),
        said("7.25", "R", "Pilatus PC-12/47E ch. 5, inside", "schedule", 300, 0, 325, 600),
        said("7.25", "R", "Pilatus PC-12/47E ch. 5, early", "schedule", 300, 0, 260, 560),
    ],
)
def test_the_next_point_is_counted_as_published(
    next_from: str, every: int, at: int, done: int, due: float
) -> None:
    text = rule(f"miles = {every}", next_from=next_from)

    item = item_on(
        text, "2020-03-01", fitted="2020-01-01", at=at, dial=done, done=f"2020-03-01 at {done}"
    )

    assert item.due_at == due


@pytest.mark.parametrize(
    ("every", "margin", "opens", "due", "closes"),
    [
        said("7.08", "R", "TM 1-1500-328-23, component page", 300, TEN, 270, 300, 330),
        said(
            "7.08", "R", "TM 1-1500-328-23, component page", 1000, "percent = 7.5", 925, 1000, 1075,
        ),
        said(
            "7.25", "R", "Pilatus PC-12/47E ch. 5",
            300, "percent = 10, cap_distance = 500", 270, 300, 330,
        ),
        said("7.02", "R", SPECIAL, 75, "percent = 10, cap_distance = 5", 70, 75, 80),
    ],
)  # fmt: skip
def test_the_window_in_distance_is_the_published_one(
    every: int, margin: str, opens: float, due: float, closes: float
) -> None:
    item = item_on(rule(f"miles = {every}", margin), "2020-01-01", fitted="2020-01-01", at=0)

    assert item.due_at == due
    assert (item.window.opens_at, item.window.closes_at) == (opens, closes)


HMMWV = "HMMWV TM 9-2320-387-24-1 para 2-9"


@pytest.mark.parametrize(
    ("months", "miles", "dial", "binds"),
    [
        said("7.14", "R", f"{HMMWV}, semiannual", 6, 3000, 3000, Binds.DISTANCE),
        said("7.14", "R", f"{HMMWV}, annual", 12, 6000, 6000, Binds.DISTANCE),
        said("7.14", "R", f"{HMMWV}, biennial", 24, 12000, 12000, Binds.DISTANCE),
        said("7.15", "R", f"{HMMWV}, under 1,000 mi in 6 months", 6, 3000, 400, Binds.DATE),
        said("7.32", "R", f"{LO_273} note 1, 3,100 mi a year", 12, 24000, 1200, Binds.DATE),
    ],
)
def test_whichever_side_is_first_makes_it_due(
    months: int, miles: int, dial: int, binds: Binds
) -> None:
    """Five months after the service, at what the dial shows then."""
    text = rule(f"miles = {miles}, months = {months}")

    item = item_on(text, "2020-06-01", fitted="2020-01-01", at=0, dial=dial)

    assert item.binds is binds
    assert (item.state is State.DUE) is (binds is Binds.DISTANCE)


@pytest.mark.published("7.14", basis="R", source=f"{HMMWV}: 10 percent on lubrication mileage")
def test_a_semiannual_service_has_300_mi_either_side() -> None:
    item = item_on(rule("miles = 3000, months = 6"), "2020-01-01", fitted="2020-01-01", at=0)

    assert (item.window.opens_at, item.window.closes_at) == (2700, 3300)


@pytest.mark.published("9.18", basis="R", source="TM 1-1500-328-23, battery: 25 hours or 30 days")
@pytest.mark.parametrize(("dial", "binds"), [(24, Binds.DISTANCE), (5, Binds.DATE)])
def test_a_dual_rule_of_days_and_distance_goes_by_the_first(dial: int, binds: Binds) -> None:
    text = rule("miles = 25, days = 30")

    item = item_on(text, "2020-01-11", fitted="2020-01-01", at=0, dial=dial)

    assert (item.due_on, item.due_at) == (date(2020, 1, 31), 25.0)
    assert item.binds is binds


@pytest.mark.published("7.13", basis="R", source="PS 580 (Mar 2001)")
def test_several_services_each_keep_their_own_window() -> None:
    """Quarterly, semiannual and annual due on one day: 9, 18 and 36 days late at most."""
    text = "".join(
        rule(f"months = {months}", name=name)
        for name, months in (("annual", 12), ("semiannual", 6), ("quarterly", 3))
    )
    oil = part("engine oil", on="2020-01-01", name="oil")
    done = [
        job("2020-06-01", None, "test-annual~oil"),
        job("2020-12-01", None, "test-semiannual~oil"),
        job("2021-03-01", None, "test-quarterly~oil"),
    ]
    this = car(oil, readings=(reading("2020-01-01", 0),), jobs=done)

    found = today(this, only(text), "2021-06-01").items

    assert {(str(item.rule.id), item.due_on, item.window.closes_on) for item in found} == {
        ("test-quarterly", date(2021, 6, 1), date(2021, 6, 10)),
        ("test-semiannual", date(2021, 6, 1), date(2021, 6, 19)),
        ("test-annual", date(2021, 6, 1), date(2021, 7, 7)),
    }


@pytest.mark.published("7.27", basis="R", source="java.time documentation and examples")
@pytest.mark.parametrize(
    ("fitted", "months", "due"),
    [
        ("2011-01-31", 1, date(2011, 2, 28)),
        ("2012-01-31", 1, date(2012, 2, 29)),
        ("2013-10-31", 4, date(2014, 2, 28)),
        ("2012-02-29", 12, date(2013, 2, 28)),
    ],
)
def test_a_day_the_month_does_not_have_becomes_its_last(
    fitted: str, months: int, due: date
) -> None:
    item = item_on(rule(f"months = {months}"), fitted, fitted=fitted)

    assert item.due_on == due


@pytest.mark.published("7.29", basis="R", source="Oracle ADD_MONTHS, whose rule is another")
def test_the_last_day_of_a_month_is_a_day_like_any_other() -> None:
    """The other rule would give 31 August."""
    item = item_on(rule("months = 6"), "2025-02-28", fitted="2025-02-28")

    assert item.due_on == date(2025, 8, 28)


@pytest.mark.published("7.33", basis="R", source="TM 9-2320-365-20-5 app. H: 6K and Q")
def test_a_rule_of_distance_alone_stays_ahead_however_long_the_car_stands() -> None:
    text = rule("miles = 6000")

    item = item_on(text, "2030-01-01", fitted="2020-01-01", at=0, dial=100)

    assert (item.due_on, item.due_at, item.state) == (None, 6000.0, State.AHEAD)


@pytest.mark.parametrize(
    ("id_", "kind", "attributes", "exposure", "due_at"),
    [
        said(
            "7.34", "R", f"{DEFENDER}: at least halved",
            "pad-measure", "brake pad", {}, "dust", 2500,
        ),
        said(
            "7.35", "R", "Mercedes-Benz 300 TD 1983 owner's manual p.63",
            "atf", "automatic transmission", {}, "towing", 12000,
        ),
        said(
            "9.01", "R", "Chevrolet light truck 1973 service manual p.0-16",
            "grease", "tie rod end", {"grease": "fitting"}, "dust", 3000,
        ),
        said(
            "9.02", "R", "Chevrolet light truck 1977 schedule",
            "grease", "tie rod end", {"grease": "fitting"}, "dust", 3000,
        ),
    ],
)  # fmt: skip
def test_hard_use_halves_a_shipped_interval(
    id_: str, kind: str, attributes: dict[str, str], exposure: str, due_at: float
) -> None:
    """Done at 5,000 mi, so that no first point is open."""
    this = car(
        part(kind, "L", on="2015-01-01", at=0, name="part", stamped={}, **attributes),
        readings=(reading("2015-01-01", 0), reading("2020-01-01", 5000)),
        jobs=[job("2020-01-01", 5000, f"{id_}~part")],
        exposures=[exposed(exposure, "2015-01-01")],
    )

    item = the_item(today(this, book(), "2020-01-01"), id_)

    assert item.due_at == 5000 + due_at
