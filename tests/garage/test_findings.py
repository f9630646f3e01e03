"""What was found: to be mended, watched or declined; repairs, and notes."""

from pathlib import Path

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.findings import Decided
from castlenut.domain.units import Distance
from castlenut.domain.working import State
from castlenut.garage.changes.findings import Found, draft_found
from castlenut.garage.changes.jobs import draft_job
from castlenut.garage.changes.mending import draft_mended
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.watching import draft_watch
from tests.garage.conftest import CAR, Shop

SEAM = "sill seam rusted through"


@pytest.fixture
def shop(shop: Shop) -> Shop:
    """Give a car read at 60,000 and at 61,000 today."""
    shop.save(draft_reading(shop.garage, CAR, "60000", on="2026-08-17"))
    shop.save(draft_reading(shop.garage, CAR, "61000", on="2026-11-25"))
    return shop


def mend(shop: Shop, what: str = SEAM, where: str | None = "L", **fields: str) -> None:
    found = Found(what=what, where=where, decided=Decided.MEND, **fields)  # type: ignore[arg-type]
    shop.save(draft_found(shop.garage, CAR, found))


def fault(error: pytest.ExceptionInfo[BadInput]) -> str:
    (only,) = error.value.faults
    return str(only)


def titles(shop: Shop) -> list[tuple[str, str, State]]:
    return [(item.rule.title, str(item.place or ""), item.state) for item in shop.items("own")]


def test_a_finding_to_be_mended_asks_for_the_other_side(shop: Shop) -> None:
    found = Found(what=SEAM, where="L", nature="rust", decided=Decided.MEND)
    draft = draft_found(shop.garage, CAR, found)
    shop.save(draft)

    here, there = shop.table("finding")
    assert here == {
        "what": SEAM,
        "place": "L",
        "kind": "rust",
        "on": "2026-11-25",
        "at": 61000,
        "decided": "mend",
    }
    assert {**here, "place": "R"} == {**there, "decided": "mend"}
    assert draft.cautions == ("weld", "fuel", "lead")
    assert any(f"L {SEAM}: and R?" in each for each in draft.told)
    assert titles(shop) == [
        (f"look at {SEAM}", "R", State.DUE),
        (f"mend {SEAM}", "L", State.DUE),
    ]


def test_the_other_side_found_as_well_is_decided_and_not_noted_twice(shop: Shop) -> None:
    mend(shop)
    mend(shop, where="R")

    assert [(each["place"], each["decided"]) for each in shop.table("finding")] == [
        ("L", "mend"),
        ("R", "mend"),
    ]


def test_both_sides_found_at_once_ask_for_no_other(shop: Shop) -> None:
    mend(shop, where="LF,RF")

    assert [each["place"] for each in shop.table("finding")] == ["LF", "RF"]


def test_a_weld_becomes_a_part_and_brings_paint_wax_and_a_look(shop: Shop) -> None:
    mend(shop)

    shop.save(draft_mended(shop.garage, CAR, SEAM, "weld", near="suspension", hours="2:30"))

    repair = next(each for each in shop.table("component") if each["kind"] == "repair")
    assert repair["place"] == "L"
    assert repair["attributes"] == {"by": "weld", "near": "suspension mount"}
    (job,) = shop.table("job")
    assert job["events"] == ["weld L"]
    assert [(item.state, item.due_at) for item in shop.items("paint-seal")] == [
        (State.DUE, Distance(61000))
    ]
    assert [(item.state, item.due_at) for item in shop.items("repair-look")] == [
        (State.AHEAD, Distance(61500))
    ]
    assert [item.state for item in shop.items("cavity-wax")] == [State.DUE]
    assert titles(shop) == [(f"look at {SEAM}", "R", State.DUE)]


def test_a_look_at_the_other_side_ends_it(shop: Shop) -> None:
    mend(shop)
    shop.save(draft_mended(shop.garage, CAR, SEAM, "patch"))

    shop.save(draft_job(shop.garage, CAR, [f"look at {SEAM}"]))

    assert titles(shop) == []


def test_a_finding_cannot_be_mended_twice(shop: Shop) -> None:
    mend(shop)
    shop.save(draft_mended(shop.garage, CAR, "sill seam", "weld"))

    with pytest.raises(BadInput) as error:
        draft_mended(shop.garage, CAR, "sill seam", "weld")

    assert "is mended already" in fault(error)
    assert len(shop.table("job")) == 1


def test_a_finding_cannot_be_mended_before_it_was_found(shop: Shop) -> None:
    mend(shop)

    with pytest.raises(BadInput) as error:
        draft_mended(shop.garage, CAR, SEAM, "weld", on="2026-11-24")

    assert fault(error) == (
        "on: 2026-11-24 is before it was found, 2026-11-25; give a day from 2026-11-25 on"
    )


def test_a_finding_to_be_mended_is_not_done_but_mended(shop: Shop) -> None:
    mend(shop, where=None)

    with pytest.raises(BadInput) as error:
        draft_job(shop.garage, CAR, [f"mend {SEAM}"])

    assert "--how weld, patch, braze or part" in fault(error)


def test_a_new_part_for_a_leak_needs_no_paint_and_no_wax(shop: Shop) -> None:
    mend(shop, what="axle seal leaks", where="rear", nature="leak")

    shop.save(draft_mended(shop.garage, CAR, "axle seal", "part"))

    assert shop.items("paint-seal") == []
    assert shop.items("cavity-wax") == []
    assert len(shop.items("repair-look")) == 1


def test_a_finding_watched_is_a_note_that_falls_due(shop: Shop) -> None:
    found = Found(
        what="axle seal leaks", where="rear", decided=Decided.WATCH, watch="500 mi", every="3m"
    )
    shop.save(draft_found(shop.garage, CAR, found))

    (note,) = shop.table("own_item")
    assert (note["title"], note["in"], note["every"]) == (
        "look at axle seal leaks",
        "500mi",
        "3m",
    )
    assert note["finding"] == shop.ids("finding")[0]
    assert [(item.state, item.due_at) for item in shop.items("own")] == [
        (State.AHEAD, Distance(61500))
    ]

    shop.save(draft_mended(shop.garage, CAR, "axle seal", "part"))
    assert shop.items("own") == []


def test_a_finding_may_be_watched_until_a_day(shop: Shop) -> None:
    found = Found(what="crack in dash", decided=Decided.WATCH, watch="2027-03-01")
    shop.save(draft_found(shop.garage, CAR, found))

    (note,) = shop.table("own_item")
    assert note["due_on"] == "2027-03-01"


def test_a_finding_the_owner_refuses_is_counted_as_declined(shop: Shop) -> None:
    found = Found(what=SEAM, where="L", decided=Decided.DECLINED, who="Odile Marrowby", why="later")
    shop.save(draft_found(shop.garage, CAR, found))

    (item,) = shop.items("own")
    assert item.state is State.DECLINED
    assert item.declined is not None
    assert (item.declined.who, item.declined.why) == ("Odile Marrowby", "later")


def test_a_photo_is_copied_when_it_is_saved_and_not_before(shop: Shop, tmp_path: Path) -> None:
    picture = tmp_path / "sill.jpg"
    picture.write_bytes(b"picture")
    found = Found(what=SEAM, where="rear", photo=str(picture), decided=Decided.MEND)

    draft = draft_found(shop.garage, CAR, found)
    assert not (shop.garage.path / "photos").exists()
    shop.save(draft)

    (name,) = (each["photo"] for each in shop.table("finding"))
    assert (shop.garage.path / "photos" / str(name)).read_bytes() == b"picture"
    assert str(name).endswith("-sill.jpg")


def test_all_that_is_wrong_with_a_finding_is_told_at_once(shop: Shop) -> None:
    found = Found(what=" ", where="LRI", nature="rot", photo="nowhere.jpg", decided=Decided.MEND)

    with pytest.raises(BadInput) as error:
        draft_found(shop.garage, CAR, found, on="2099-01-01")

    assert [each.where for each in error.value.faults] == ["what", "kind", "place", "on"]


def test_a_note_is_due_by_its_wait(shop: Shop) -> None:
    shop.save(draft_watch(shop.garage, CAR, "look at rear main seal", within="500mi", where="rear"))
    shop.save(draft_watch(shop.garage, CAR, "ask about the hood", due="2027-01-24"))

    assert {(item.rule.title, item.due_at, item.due_on) for item in shop.items("own")} == {
        ("look at rear main seal", Distance(61500), None),
        ("ask about the hood", None, shop.garage.today_date.replace(year=2027, month=1, day=24)),
    }


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({}, "in: nothing tells when; give --in 500mi, --due DATE or --every 3m"),
        ({"within": "soon"}, "in: 'soon' is no wait; write 500mi, 3m or 500mi/3m"),
        (
            {"within": "3m", "due": "2027-01-01"},
            "in: both --in and --due are given; give one of the two",
        ),
        (
            {"due": "2026-11-25"},
            (
                "due: 2026-11-25 is not after 2026-11-25, the day it was noted; give a later day,"
                " or a wait as 500mi or 3m"
            ),
        ),
        (
            {"within": "500mi", "at": "-"},
            (
                "at: 500mi cannot be counted: no dial figure is known; give what the dial shows,"
                " or a time as 3m"
            ),
        ),
    ],
)
def test_a_note_that_could_not_fall_due_is_refused(
    shop: Shop, given: dict[str, str], told: str
) -> None:
    with pytest.raises(BadInput) as error:
        draft_watch(shop.garage, CAR, "look at it", **given)

    assert fault(error) == told


def test_a_bare_number_may_be_a_day_or_a_distance_and_is_asked_about(shop: Shop) -> None:
    found = Found(what="crack in dash", decided=Decided.WATCH, watch="25")

    with pytest.raises(BadInput) as error:
        draft_found(shop.garage, CAR, found)

    assert fault(error) == "watch: '25' may be a day or a distance; write 25mi or a date"


def test_words_that_mean_two_findings_are_refused_with_both(shop: Shop) -> None:
    mend(shop, what="crack in arm", where="rear")
    mend(shop, what="crack in floor", where="front")

    with pytest.raises(BadInput) as error:
        draft_mended(shop.garage, CAR, "crack", "weld")

    assert "crack in arm rear" in fault(error)
    assert "crack in floor front" in fault(error)
