"""What each car of the sample fleet must show, on whatever day it is seen.

The figures are written out from the description of the fleet; none is taken from the program.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from castlenut.store.encoding import encoded
from castlenut.store.folder import Folder
from castlenut.store.record_file import RecordFile
from tests.faces.in_process import ran
from tests.faces.installed import bench
from tests.fleet.build_sample_fleet import CARS, FLEET, build

SEEN_ON = (
    *("2025-02-28", "2026-11-25", "2028-08-07"),
    *(pytest.param(day, marks=pytest.mark.long) for day in ("2025-07-15", "2027-03-31")),
)

PELLWORTH = "pellworth-fallowmere"
BRANTHOLM = "brantholm-cobblegate"
CARROWBY = "carrowby-hartsedge"
MOSSBURN = "mossburn-stackyard"
KESTRIN = "kestrin-fellside"
MILLRACE = "wendlecot-millrace"
PIM = "tessarin-pim"
DUNNARD = "dunnard-quayside"


@dataclass(frozen=True, slots=True, kw_only=True)
class Promise:
    """How an item must stand; what is None may be anything."""

    car: str
    rule: str
    at: str | None = None
    state: str
    due_at: int | None = None
    opens_at: int | None = None
    binds: str | None = None

    def __str__(self) -> str:
        return f"{self.car}-{self.rule}{f'-{self.at}' if self.at else ''}"


PROMISES = (
    # the 300-mile point at 61,230 + 300 was forgotten
    Promise(car=PELLWORTH, rule="u-bolts", at="LR", state="overdue", due_at=61530),
    Promise(car=PELLWORTH, rule="u-bolts", at="RR", state="overdue", due_at=61530),
    # the 500-mile points, open half way before: from 61,480
    Promise(car=PELLWORTH, rule="oil-rebuilt", state="due", due_at=61730, opens_at=61480),
    Promise(
        car=PELLWORTH, rule="axle-oil-lsd", at="rear", state="due", due_at=61730, opens_at=61480
    ),
    Promise(car=PELLWORTH, rule="clutch-play", state="due", due_at=61730, opens_at=61480),
    Promise(car=PELLWORTH, rule="valve-clear", state="due", due_at=61730, opens_at=61480),
    Promise(car=PELLWORTH, rule="mounts", state="due", due_at=61730, opens_at=61480),
    Promise(car=PELLWORTH, rule="ride-height", at="LR", state="due", due_at=61730, opens_at=61480),
    # the 600-mile point, open half of 600 before
    Promise(car=PELLWORTH, rule="transmission-oil", state="due", due_at=61830, opens_at=61530),
    # 91,000 + 50,000 is far off: the 60 months have run out
    Promise(car=BRANTHOLM, rule="timing-belt", state="overdue", due_at=141000, binds="date"),
    Promise(car=BRANTHOLM, rule="brake-fluid", state="due", due_at=135800),
    # 128,890 + 3,000 x 0.7
    Promise(car=BRANTHOLM, rule="oil", state="due", due_at=130990),
    Promise(car=BRANTHOLM, rule="drain-door", at="LF", state="declined"),
    Promise(car=BRANTHOLM, rule="pad-measure", at="LF", state="ahead"),
    Promise(car=CARROWBY, rule="layup-battery", state="overdue"),
    Promise(car=CARROWBY, rule="battery-test", state="ahead"),
    Promise(car=CARROWBY, rule="coolant-green", state="due", binds="date"),
    Promise(car=CARROWBY, rule="brake-fluid", state="ahead", due_at=58480, binds="date"),
    Promise(car=CARROWBY, rule="layup-tires", state="ahead"),
    Promise(car=CARROWBY, rule="hose-renew", at="LF", state="ahead"),
    Promise(car=MOSSBURN, rule="dual-match", state="overdue", binds="measurement"),
    # 48,200 + 500, open half way before
    Promise(
        car=MOSSBURN, rule="wheel-nuts-heavy", at="LRI", state="due", due_at=48700, opens_at=48450
    ),
    # the side of the months: 39,600 + 24,000 x 0.5 is still ahead
    Promise(car=MOSSBURN, rule="atf", state="overdue", due_at=51600, binds="date"),
    Promise(car=MOSSBURN, rule="shoe-measure", at="LR", state="overdue", binds="measurement"),
    # from 15/32 at 30,200 to 5/32 at 48,200, so 1/32 more in 1,800 miles: 4/32, the front limit
    Promise(car=MOSSBURN, rule="tire-tread", at="LF", state="ahead", due_at=50000),
    Promise(car=KESTRIN, rule="awd-spread", state="overdue", binds="measurement"),
    Promise(car=KESTRIN, rule="cv-boot", at="LF", state="due", due_at=101200, binds="date"),
    Promise(car=KESTRIN, rule="timing-belt", state="ahead", due_at=126300),
    Promise(car=MILLRACE, rule="tire-age", at="LF", state="overdue", binds="age"),
    Promise(car=MILLRACE, rule="brake-fluid", state="no record"),
    # 77,795 km + 5,000 mi of 1.609344 km, the figure cut off
    Promise(car=PIM, rule="tire-rotate", state="overdue", due_at=85841, binds="distance"),
    # 83,350 km + 3,000 mi
    Promise(car=PIM, rule="oil", state="ahead", due_at=88178),
    Promise(car=DUNNARD, rule="steering-lash", state="overdue", binds="measurement"),
    # 500 true miles after 1,523, at 1.041 each mile shown: 480.3 on the dial
    Promise(car=DUNNARD, rule="kingpin", at="L", state="overdue", due_at=2003, binds="date"),
    Promise(car=DUNNARD, rule="hub-repack-old", at="LF", state="due", binds="date"),
    # 1,000 true miles after 1,542: 960.6 on the dial
    Promise(car=DUNNARD, rule="grease-old", at="L", state="due", due_at=2502, binds="date"),
)


@dataclass(frozen=True, slots=True)
class Seen:
    """The fleet on a day, as `demo` copied it and `due --json` told it."""

    garage: Path
    on: date
    items: Sequence[Mapping[str, Any]]

    def of(self, car: str, rule: str, at: str | None = None) -> Mapping[str, Any]:
        found = [
            item
            for item in self.items
            if (item["vehicle"], item["rule"]) == (car, rule) and at in {None, item["position"]}
        ]
        assert found, f"no {rule} on {car}"
        return found[0]

    def all_of(self, car: str) -> Sequence[Mapping[str, Any]]:
        return [item for item in self.items if item["vehicle"] == car]

    def records(self, car: str, table: str) -> Sequence[Mapping[str, Any]]:
        answer = ran("records", car, "--table", table, garage=self.garage, today=str(self.on))
        return [json.loads(line)["values"] for line in answer.out.splitlines()]


@pytest.fixture(scope="session", params=SEEN_ON)
def seen(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Seen:
    """Copy the fleet as it is seen on a day, and ask once what is due."""
    on: str = request.param
    garage = tmp_path_factory.mktemp("fleet") / "demo"
    copied = ran("demo", "--no-open", str(garage), garage=None, today=on)
    assert (copied.code, copied.out.strip()) == (0, str(garage))
    answer = ran("due", "--json", garage=garage, today=on)
    assert answer.code == 0
    return Seen(garage, date.fromisoformat(on), answer.json())


@cache
def files() -> Mapping[str, bytes]:
    """Give the files of the fleet as they are kept, by name."""
    return {
        path.relative_to(FLEET).as_posix(): path.read_bytes()
        for path in sorted(FLEET.rglob("*"))
        if path.is_file()
    }


@pytest.mark.parametrize("promise", PROMISES, ids=str)
def test_a_car_shows_what_is_promised(seen: Seen, promise: Promise) -> None:
    item = seen.of(promise.car, promise.rule, promise.at)

    assert item["state"] == promise.state
    if promise.due_at is not None:
        assert item["due_at"] == promise.due_at
    if promise.opens_at is not None:
        assert item["window"]["opens_at"] == promise.opens_at
    if promise.binds is not None:
        assert item["binds"] == promise.binds


def test_dates_keep_four_days_from_an_edge(seen: Seen) -> None:
    """So that no promise depends on the length of a month: windows are looked at by their days."""
    for promise in PROMISES:
        item = seen.of(promise.car, promise.rule, promise.at)
        if item["binds"] not in {"date", "age"}:
            continue
        for edge in (item["window"]["opens_on"], item["window"]["closes_on"]):
            assert abs((date.fromisoformat(edge) - seen.on).days) >= 4, str(promise)


def test_the_last_readings_are_of_yesterday(seen: Seen) -> None:
    yesterday = str(seen.on - timedelta(days=1))

    last = {
        car: max(each["on"] for each in seen.records(car, "reading"))
        for car in (PELLWORTH, BRANTHOLM, MOSSBURN, KESTRIN, MILLRACE, PIM, DUNNARD)
    }

    assert set(last.values()) == {yesterday}


def test_the_laid_up_car_was_read_when_it_was_put_away(seen: Seen) -> None:
    last = max(each["on"] for each in seen.records(CARROWBY, "reading"))

    assert last == str(seen.on - timedelta(days=48))


def test_the_forgotten_point_is_seventy_miles_past_at_the_reading(seen: Seen) -> None:
    """61,600 at the reading; the day since then adds the few miles of one day at most."""
    left = seen.of(PELLWORTH, "u-bolts", "LR")["left"]["distance"]

    assert -80 <= left <= -70


def test_the_declined_drains_are_still_counted(seen: Seen) -> None:
    declined = seen.of(BRANTHOLM, "drain-door", "LF")["declined"]

    assert declined["who"] == "Tobin Wrackett"
    assert declined["on"] == str(seen.on - timedelta(days=40))
    assert declined["without_it"] == "overdue"


def test_the_wear_of_the_pads_is_carried_on_to_their_limit(seen: Seen) -> None:
    """From 10 mm at 112,000 to 4.5 mm at 129,400; to 3.175 mm another 4,192 miles: 133,592."""
    why = " ".join(seen.of(BRANTHOLM, "pad-measure", "LF")["why"])

    assert "at the limit at 133,59" in why


def test_what_goes_by_distance_is_expected_after_the_return_to_the_road(seen: Seen) -> None:
    """The lay-up is planned to end 120 days after the day the fleet is seen."""
    returns = seen.on + timedelta(days=120)
    by_distance = [item for item in seen.all_of(CARROWBY) if item["binds"] in {"distance", "event"}]

    # none within ten years counts as latest
    dates = [item["expected"]["p50"] for item in by_distance]
    expected = [date.fromisoformat(each) for each in dates if each is not None]

    assert expected
    assert min(expected) > returns


def test_the_spread_of_the_tires_is_told(seen: Seen) -> None:
    """2/32 in of tread: 2 x 3.14159 x 0.0625 in is 0.3927 in of circumference."""
    why = " ".join(seen.of(KESTRIN, "awd-spread")["why"])

    assert "0.3927 in" in why


def test_the_lash_is_held_against_its_wheel(seen: Seen) -> None:
    """49 CFR 570.7: 2-1/4 in for a wheel of 18 in."""
    why = " ".join(seen.of(DUNNARD, "steering-lash")["why"])

    assert "2.3 in" in why
    assert "at most 2.25 in" in why


def test_nothing_is_known_of_the_car_from_the_barn(seen: Seen) -> None:
    """But the week that its tires were made in; what nobody knows comes by its rank."""
    items = seen.all_of(MILLRACE)

    known = {item["rule"] for item in items if item["state"] != "no record"}
    ranks = [item["rank"] for item in items if item["state"] == "no record"]

    # the tires tell their age, and a weld of two days ago what it left to do
    assert known == {
        *("tire-age", "tire-age-look"),
        *("paint-seal", "repair-look", "cavity-wax", "wiring-look", "own"),
    }
    assert len(ranks) > 50
    assert ranks == sorted(ranks)
    assert ranks[0] == 1


def test_of_the_car_from_the_barn_nothing_is_forecast(seen: Seen) -> None:
    found = {tuple(item["expected"].values()) for item in seen.all_of(MILLRACE)}

    undated = {each for each in found if None in each}

    assert undated == {(None, None, None)}


def test_the_garage_is_asked_only_about_what_is_odd(seen: Seen) -> None:
    """The number of the one car, the figure with two digits swapped of the other."""
    found = ran("check", "--json", garage=seen.garage, today=str(seen.on)).json()

    told = {each["file"]: each["message"] for each in found}

    assert set(told) == {f"vehicles/{KESTRIN}.json", f"vehicles/{PIM}.json"}
    assert len(found) == 2
    assert "check digit" in told[f"vehicles/{KESTRIN}.json"]
    assert "68,995 km" in told[f"vehicles/{PIM}.json"]


def test_the_swapped_figure_is_kept_and_left_out(seen: Seen) -> None:
    figures = [each["figure"] for each in seen.records(PIM, "reading")]
    why = " ".join(seen.of(PIM, "tire-rotate")["why"])

    assert 68995 in figures
    assert "from the reading 86,995" in why


@pytest.mark.parametrize("car", [PELLWORTH, BRANTHOLM, CARROWBY, MOSSBURN, KESTRIN, PIM, DUNNARD])
def test_each_car_has_jobs_with_hours_and_cost(seen: Seen, car: str) -> None:
    jobs = [job for job in seen.records(car, "job") if "hours" in job and "cost" in job]

    assert 6 <= len(jobs) <= 20


def test_the_restored_car_has_a_page_of_its_own_figures(seen: Seen) -> None:
    """They are the limits of what is checked on it: nothing of the U-bolts is missing."""
    figures = {each["name"]: each for each in seen.records(PELLWORTH, "figure")}

    assert len(figures) > 15
    assert (figures["toe"]["value"], figures["toe"]["unit"]) == (0.0625, "in")
    told = " ".join(seen.of(PELLWORTH, "u-bolts", "LR")["why"])
    assert "U-bolt torque 45 ft-lb (its book, p. 112 (invented))" in told
    assert "no limit known" not in told


def test_what_was_ordered_lies_on_the_shelf(seen: Seen) -> None:
    shelf = [
        (each["kind"], each["place"])
        for each in seen.records(MOSSBURN, "component")
        if each["state"] == "shelf"
    ]

    assert sorted(shelf) == [
        ("brake shoe", "LR"),
        ("brake shoe", "RR"),
        ("wheel cylinder", "LR"),
        ("wheel cylinder", "RR"),
    ]


def test_work_of_another_shop_is_a_baseline_and_says_whose_it_is(seen: Seen) -> None:
    assert seen.of(BRANTHOLM, "align")["baseline"]["by"] == "Tern Lane Alignment (invented)"


def test_one_visit_is_booked_for_next_week(seen: Seen) -> None:
    visits = [visit for car in (BRANTHOLM, KESTRIN) for visit in seen.records(car, "visit")]

    assert [visit["state"] for visit in visits] == ["booked"]
    assert visits[0]["on"] == str(seen.on + timedelta(days=7))
    assert len(visits[0]["items"]) == 3


def test_the_yards_own_rules_are_in_force(seen: Seen) -> None:
    assert "12 months" in " ".join(seen.of(PELLWORTH, "hinges")["why"])
    assert seen.of(CARROWBY, "fuel-cap")["state"] == "ahead"


def test_the_installed_command_tells_the_same(tmp_path: Path) -> None:
    run = bench(tmp_path)
    on = "2027-03-31"

    copied = run.script(on, "demo", "--no-open", str(run.garage))
    told = run.script(on, "due", "--json")

    assert (copied.code, told.code, told.err) == (0, 0, "")
    there = tmp_path / "here"
    ran("demo", "--no-open", str(there), garage=None, today=on)
    assert told.out == ran("due", "--json", garage=there, today=on).out


def built(folder: Path) -> Mapping[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_the_first_car_of_the_fleet_is_what_its_description_builds(tmp_path: Path) -> None:
    """Run `python tests/fleet/build_sample_fleet.py` after a change of the description."""
    build(tmp_path, entered=CARS[:1])

    found = built(tmp_path)
    assert found.keys() == {"garage.json", "rules.toml", f"vehicles/{PELLWORTH}.json"}
    assert [name for name in found if found[name] != files()[name]] == []


@pytest.mark.long
def test_the_fleet_is_what_its_description_builds(tmp_path: Path) -> None:
    build(tmp_path)

    found = built(tmp_path)
    assert found.keys() == files().keys()
    assert [name for name in found if found[name] != files()[name]] == []


def test_every_file_of_the_fleet_is_in_the_one_form() -> None:
    folder = Folder(path=FLEET)

    for slug in folder.slugs():
        file = folder.load(slug)
        assert isinstance(file, RecordFile)
        assert not file.faults
        data, _ = encoded(file.state.content, {})
        assert data == files()[f"vehicles/{slug}.json"]


def test_every_file_says_that_it_is_invented() -> None:
    assert len(files()) == 10
    assert [name for name, data in files().items() if b"nvented" not in data] == []


def test_ids_of_one_car_differ_in_their_last_digits() -> None:
    """The last 8 digits are how a record is named."""
    folder = Folder(path=FLEET)

    for slug in folder.slugs():
        file = folder.load(slug)
        assert isinstance(file, RecordFile)
        ids = [record.id[-8:] for record in file.records()]
        assert len(ids) == len(set(ids))


@pytest.mark.parametrize(
    ("car", "left"),
    [
        (PELLWORTH, ["side to side"]),  # 185/70R14 in front, 205/70R14 at the rear
        (PIM, ["front to rear"]),  # directional tires
        (MOSSBURN, []),  # duals: they change as pairs, and front and rear tread differ
        (KESTRIN, ["forward cross", "rearward cross", "X", "front to rear", "side to side"]),
        (BRANTHOLM, ["forward cross", "rearward cross", "X", "front to rear", "side to side"]),
    ],
)
def test_patterns_left_are_those_that_the_tires_allow(car: str, left: Sequence[str]) -> None:
    answer = ran("rotation", car, "--json", garage=FLEET, today="2026-11-25")

    told = json.loads(answer.out)["patterns"]
    assert [each["pattern"] for each in told if each["answer"] == "yes"] == left


def test_the_spread_of_an_all_wheel_drive_warns_and_blocks_no_pattern() -> None:
    """2/32 in are 1.59 mm; 1/4 in of circumference is 1.0 mm of tread."""
    answer = ran("rotation", KESTRIN, "--json", garage=FLEET, today="2026-11-25")

    told = json.loads(answer.out)["notes"]
    assert "The road tires differ by 2/32 of tread; all-wheel drive allows 1.26/32." in told


def test_a_winter_set_lies_by_on_wheels_of_its_own() -> None:
    answer = ran("tires", BRANTHOLM, "--json", garage=FLEET, today="2026-11-25")

    off = json.loads(answer.out)["off"]
    assert len(off) == 4
    assert all(each["tire_id"] and each["wheel_id"] for each in off)
