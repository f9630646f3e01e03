"""The next weeks at a glance: what is booked in each, and how many windows close in it."""

from datetime import date

from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.settings import draft_settings
from castlenut.garage.changes.visiting import draft_visit
from castlenut.garage.coming_weeks import WEEKS, coming_weeks, weeks_of_car
from tests.garage.conftest import CAR, Shop

FIRST = date(2026, 11, 23)


def test_a_booked_visit_stands_in_its_week_against_the_hours_there_are(shop: Shop) -> None:
    shop.save(draft_settings(shop.garage, {"hours": "mon:8,thu:6", "closed": "2026-12-03"}))
    shop.save(draft_visit(shop.garage, CAR, "2026-12-07", hours="3.5"))

    garage = shop.garage
    weeks = coming_weeks(garage, [weeks_of_car(garage, garage.today(CAR))])

    assert len(weeks) == WEEKS
    assert weeks[0].monday == FIRST
    # Today is a Wednesday: Thursday is left of its week. The next Thursday is closed.
    assert [each.capacity for each in weeks[:3]] == [6.0, 8.0, 14.0]
    assert [each.booked for each in weeks[:3]] == [0.0, 0.0, 3.5]


def test_a_window_is_counted_in_the_week_in_which_it_closes(shop: Shop) -> None:
    shop.save(draft_reading(shop.garage, CAR, "60000", on="2026-06-01"))
    shop.save(
        draft_fit(shop.garage, CAR, "brake fluid", fields={"fluid": "DOT 4"}, on="2025-06-20")
    )

    garage = shop.garage
    found = weeks_of_car(garage, garage.today(CAR))

    # Renewed every 18 months, no lateness allowed: 20 December 2026, a Sunday.
    assert found.closing[date(2026, 12, 14)] == 1
    assert found.booked == {}
