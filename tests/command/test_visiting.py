"""`visits` and `visit`: lines, JSON, exit codes."""

from tests.command.conftest import Shop


def test_visits_of_a_car_are_a_list_by_date(yard: Shop) -> None:
    told = yard.must("visits", "fallowmere", "--seconds", "2")

    heads = [line for line in told.lines if "  proposed  " in line]
    assert heads == sorted(heads, key=lambda line: line.split()[1])
    assert not any("life" in line or "bound" in line for line in told.lines)


def test_why_tells_what_it_costs_and_how_good_it_is(yard: Shop) -> None:
    yard.must("settings", "hourly_rate=60", "visit_cost=50")

    told = yard.must("visits", "fallowmere", "--why", "--seconds", "2")

    assert "proved: no other days cost less" in told.lines
    assert any(line.startswith("visits ") and ", opening " in line for line in told.lines)


def test_a_visit_is_booked_moved_and_called_off(yard: Shop) -> None:
    item = yard.must("visits", "fallowmere", "--json", "--seconds", "2").json["visits"][0]["items"][
        0
    ]

    booked = yard.must("visit", "fallowmere", "2026-12-10", item["item"], "--json").json
    assert [each["table"] for each in booked["records"]] == ["visit"]
    yard.must("visit", "fallowmere", "2026-12-10", "--move", "2026-12-11")
    found = yard.must("visits", "fallowmere", "--json", "--seconds", "2").json
    assert [(each["on"], each["state"]) for each in found["visits"] if each["record"]] == [
        ("2026-12-11", "booked")
    ]
    yard.must("visit", "fallowmere", "2026-12-11", "--cancel")
    found = yard.must("visits", "fallowmere", "--json", "--seconds", "2").json
    assert {each["state"] for each in found["visits"]} == {"proposed"}


def test_the_weeks_of_all_cars(yard: Shop) -> None:
    answer = yard.must("visits", "--json", "--seconds", "2").json

    assert answer["weeks"][0]["monday"] == "2026-11-23"
    assert {each["vehicle"] for each in answer["visits"]} == {"fallowmere"}
    assert sum(each["short"] for each in answer["over"]) == sum(
        each["unplaced"] for each in answer["visits"]
    )


def test_what_has_no_meaning_together_is_refused(yard: Shop) -> None:
    told = yard("visit", "fallowmere", "2026-12-10", "oil-change", "--cancel")

    assert told.code == 2
    assert "ITEM: stands beside --move, --cancel or --refused" in told.err


def test_days_sooner_are_of_all_cars(yard: Shop) -> None:
    assert yard.must("visits", "--sooner", "2", "--json", "--seconds", "1").json["days_sooner"] == 2
    told = yard("visits", "fallowmere", "--sooner", "2")
    assert (told.code, "--sooner: is for all cars" in told.err) == (2, True)
    told = yard("visits", "--sooner", "soon")
    assert (told.code, '"soon" is no number of days' in told.err) == (2, True)
