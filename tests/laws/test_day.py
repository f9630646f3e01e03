"""A law of the day's work: one entry comes to the same items as its rows saved one by one."""

import shutil
from collections.abc import Sequence
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from castlenut.domain.errors import BadInput
from castlenut.domain.frozen import replace
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.vehicles import draft_vehicle
from castlenut.garage.day import draft_day
from castlenut.garage.day_rows import (
    Costs,
    Declined,
    Done,
    Entry,
    Fitted,
    Found,
    Happened,
    Head,
    Measured,
    Tread,
)
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage, Surroundings, make_garage, open_garage
from castlenut.garage.undoing import redo, undo
from castlenut.store.values import canonical
from tests.command.conftest import Shop
from tests.garage.conftest import surroundings

CAR = "tollgate"
PARTS: Sequence[tuple[str, str | None, dict[str, str]]] = (
    ("wheel bearing", "LF,RF", {"service": "repackable"}),
    ("brake pad", "LF,RF", {}),
    ("brake hose", "LF,RF", {"material": "rubber"}),
    ("brake fluid", None, {"fluid": "DOT 4"}),
    ("bushing", "LF,RF", {"material": "rubber"}),
    ("alignment", None, {}),
    ("engine oil", None, {}),
    ("tire", "all", {"size": "185/70R14"}),
    ("wheel", "all", {"type": "disc"}),
    ("cavity", "L", {}),
)
ROWS: Sequence[Entry] = (
    Done(row=1, items=("hub-repack@LF",)),
    Done(row=2, items=("oil", "brake-fluid")),
    Done(row=3, items=("pad-measure@LF",), values=("8mm",)),
    Done(row=4, items=("align",)),
    Measured(row=5, items=("pad-measure@RF",), values=("1mm",)),
    Happened(row=6, event="suspension", where="LF"),
    Happened(row=7, event="curb-hit", where="RF"),
    Fitted(row=8, kind="wheel bearing", places="RF", part="WB-12"),
    Fitted(row=9, kind="brake hose", places="LF,RF", part=None),
    Fitted(row=10, kind="bushing", places="LF", part=None),
    Found(row=11, what="sill seam rusted", where="L", decided="mend"),
    Found(row=12, what="axle seal leaks", where="rear", decided="watch", watch="500mi"),
    Declined(row=13, items=("hose-look",), who="owner", why=None, until=None),
    Tread(row=14, depths=(("LF", "7"), ("RF", "6 6 5"))),
)
HEAD = Head(on="2026-11-24", at="61590", by=None)
NO_COSTS = Costs()


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build a car with parts fitted in spring, read twice since."""
    path = tmp_path_factory.mktemp("day") / "garage"
    garage = make_garage(path, surroundings())
    save(garage, draft_vehicle(garage, CAR, {"year": "1970", "digits": "5"}))
    save(garage, draft_reading(garage, CAR, "58000", on="2026-03-01"))
    save(garage, draft_reading(garage, CAR, "61500", on="2026-11-20"))
    for kind, places, fields in PARTS:
        save(garage, draft_fit(garage, CAR, kind, places, fields, on="2026-03-02", at="58010"))
    return path


def later() -> Surroundings:
    """Give surroundings whose ids come after those of the car as it was built."""
    ids = count(100_000)
    return replace(surroundings(), new_id=lambda: f"01a20000-0000-7000-8000-{next(ids):012x}")


def items(garage: Garage) -> list[tuple[object, ...]]:
    return sorted(
        (
            item.id.rule,
            item.rule.title,
            str(item.place or ""),
            item.state.value,
            str(item.due_on),
            str(item.due_at),
            str(item.window),
            item.has_open_point_at_0,
        )
        for item in garage.today(CAR).items
    )


def entered_at_once(garage: Garage, rows: Sequence[Entry]) -> bool:
    """Save rows as one entry; tell whether they were taken."""
    try:
        draft = draft_day(garage, CAR, HEAD, rows, NO_COSTS)
    except BadInput:
        return False
    save(garage, draft)
    return True


def entered_one_by_one(garage: Garage, rows: Sequence[Entry]) -> bool:
    return all(entered_at_once(garage, [row]) for row in rows)


SHARED = [HealthCheck.function_scoped_fixture]
SOME_ROWS = st.lists(st.sampled_from(ROWS), min_size=1, max_size=5, unique=True)


@settings(max_examples=5, suppress_health_check=SHARED, deadline=None)
@given(SOME_ROWS)
def test_one_entry_comes_to_the_same_as_its_rows_one_by_one(built: Path, rows: list[Entry]) -> None:
    """One day's entry and its rows saved one by one give the same items."""
    check_that_one_entry_is_its_rows(built, rows)


@pytest.mark.long
@settings(max_examples=100, suppress_health_check=SHARED, deadline=None)
@given(SOME_ROWS)
def test_many_entries_come_to_the_same_as_their_rows(built: Path, rows: list[Entry]) -> None:
    check_that_one_entry_is_its_rows(built, rows)


def check_that_one_entry_is_its_rows(built: Path, rows: list[Entry]) -> None:
    with TemporaryDirectory() as work:
        whole, parts = (
            open_garage(shutil.copytree(built, Path(work) / name), later())
            for name in ("whole", "parts")
        )

        assert entered_at_once(whole, rows) == entered_one_by_one(parts, rows)

        assert items(whole) == items(parts)


def live(garage: Garage) -> list[tuple[str, str, str]]:
    return [
        (each.table, each.id, canonical(dict(each.values))) for each in garage.file(CAR).records()
    ]


@settings(
    max_examples=5, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(st.lists(st.sampled_from(ROWS), min_size=1, max_size=6, unique=True))
def test_one_entry_is_taken_back_whole_by_one_undo(built: Path, rows: list[Entry]) -> None:
    """Issue 5: the evening's card in one entry, one undo; what it corrected stands as before."""
    with TemporaryDirectory() as work:
        garage = open_garage(shutil.copytree(built, Path(work) / "one"), later())
        before = live(garage)
        if not entered_at_once(garage, rows):
            return
        after = live(garage)

        undo(garage)
        assert live(garage) == before
        redo(garage)
        assert live(garage) == after


def test_the_evening_entered_is_taken_back_by_one_undo_on_the_command_line(
    built: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = shutil.copytree(built, tmp_path / "garage")
    garage = open_garage(path, later())
    before = live(garage)
    evening = [ROWS[at] for at in (0, 5, 8, 11, 12, 13)]
    save(garage, draft_day(garage, CAR, HEAD, evening, Costs(hours="2.5", cost="80")))
    touched = len(live(garage)) - len(before)
    shop = Shop(path, capsys)
    shop.begin(ids=200_000, device="dev-test")

    told = shop.must("undo", "--json")

    assert {each["table"] for each in told.json["records"]} == {
        *("job", "happening", "component", "finding", "own_item", "decline", "measurement")
    }
    assert len([each for each in told.json["records"] if each["vehicle"] == CAR]) >= touched > 6
    assert live(open_garage(path, later())) == before
