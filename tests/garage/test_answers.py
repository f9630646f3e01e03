"""The board: which cars stand worst, what comes first on each, and cars that cannot be read."""

from datetime import date

from castlenut.domain.working import State
from castlenut.garage.answers import board, board_order, board_row, vehicles
from castlenut.garage.changes.corrections import draft_correction
from castlenut.garage.changes.jobs import draft_job
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.drafts import Draft, save
from castlenut.garage.garage import Garage
from castlenut.store.revisions import Added
from tests.garage.conftest import CAR, Shop


def add(garage: Garage, slug: str) -> None:
    save(garage, draft_vehicle(garage, slug, {}))


def record(garage: Garage, slug: str, table: str, **values: str) -> None:
    """Add a record that no draft of this issue makes."""
    edit = Added(
        table=table,
        id=garage.surroundings.new_id(),
        values={name.rstrip("_"): value for name, value in values.items()},
    )
    save(garage, Draft(slug=slug, file=garage.file(slug), edits=(edit,), told=(), title=table))


def test_a_car_of_which_nothing_is_known_has_nothing_due(shop: Shop) -> None:
    row = board_row(shop.garage, CAR)

    assert (row.state, row.first, row.open, row.fault) == (None, None, 0, None)
    assert row.description == "Tollgate wagon, invented"


def test_the_worst_thing_stands_first_with_its_places(shop: Shop) -> None:
    shop.save(draft_reading(shop.garage, CAR, "61000"))
    shop.save(draft_fit(shop.garage, CAR, "wheel bearing", "LF,RF", {"service": "sealed"}, on="-"))

    row = board_row(shop.garage, CAR)

    assert row.state is State.NO_RECORD
    assert row.first is not None
    assert row.first.endswith(", LF RF")
    assert row.open == 1


def test_the_order_is_unread_then_in_work_then_worst_first(garage: Garage) -> None:
    for slug in ("fine", "overdue", "shut", "work"):
        add(garage, slug)
    save(garage, draft_reading(garage, "overdue", "100"))
    save(garage, draft_fit(garage, "overdue", "brake fluid", None, {"fluid": "DOT 4"}, on="-"))
    save(garage, draft_job(garage, "overdue", ["brake-fluid"], on="2020-01-01", at="-"))
    record(garage, "work", "stay", from_="2026-11-20")
    (garage.folder.vehicles / "shut.json").write_text("damaged")

    assert [row.slug for row in sorted(board(garage), key=board_order)] == [
        "shut",
        "work",
        "overdue",
        "fine",
    ]


def test_a_car_in_work_tells_how_many_things_stand_against_its_rolling(shop: Shop) -> None:
    shop.save(draft_fit(shop.garage, CAR, "brake fluid", None, {"fluid": "DOT 4"}, on="-"))
    record(shop.garage, CAR, "stay", from_="2026-11-20")

    row = board_row(shop.garage, CAR)

    assert row.in_work
    assert row.first == "2 before it rolls"


def test_the_next_booked_visit_is_told(shop: Shop) -> None:
    record(shop.garage, CAR, "visit", on="2026-12-02", state="booked")
    record(shop.garage, CAR, "visit", on="2026-12-01", state="refused")
    record(shop.garage, CAR, "visit", on="2026-10-01", state="booked")

    assert board_row(shop.garage, CAR).next_on == date(2026, 12, 2)


def test_a_sold_car_leaves_the_list(shop: Shop) -> None:
    shop.save(draft_correction(shop.garage, CAR, "vehicle", {"sold_on": "2026-11-01"}))

    assert vehicles(shop.garage) == ()
    assert [row.slug for row in vehicles(shop.garage, sold=True)] == [CAR]


def test_a_car_that_cannot_be_read_says_why(shop: Shop) -> None:
    (shop.garage.folder.vehicles / f"{CAR}.json").write_text("damaged")

    row = board_row(shop.garage, CAR)

    assert row.fault is not None
    assert row.fault.startswith("damaged at line 1")
