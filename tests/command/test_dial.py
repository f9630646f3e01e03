"""odometer and settle: what the dial means, and what an odd reading was. All cars are invented."""

from typing import Any

import pytest

from tests.command.conftest import Kept, Shop, Told

LATER = "2026-12-20"


@pytest.fixture
def odd(yard: Shop, kept: Kept) -> Shop:
    """Give the yard's car, read three times more, the first time with two digits swapped."""
    return kept.give(yard, _read)


def _read(yard: Shop) -> None:
    yard.must("reading", "fallow", "61960", "--on", "2026-12-01", today=LATER)
    yard.must("reading", "fallow", "61720", "--on", "2026-12-10", today=LATER)
    yard.must("reading", "fallow", "61800", "--on", "2026-12-19", today=LATER)


def page(yard: Shop) -> dict[str, Any]:
    found: dict[str, Any] = yard.must("odometer", "fallow", "--json", today=LATER).json
    return found


def settle(yard: Shop, *words: str) -> Told:
    (question,) = page(yard)["questions"]
    return yard("settle", "fallow", question["record"][-8:], *words, today=LATER)


def test_the_page_has_readings_questions_the_true_distance_and_the_days_ahead(odd: Shop) -> None:
    told = odd("odometer", "fallow", today=LATER)

    assert (told.code, told.err) == (0, "")
    assert told.lines[0] == "Pellworth Fallowmere: five-digit dial, mi"
    assert told.lines[2].startswith("    2026-12-19  61,800 mi  true 61,800 mi  ")
    assert told.lines[4].startswith("??  2026-12-01  61,960 mi  left out  ")
    assert told.lines[4].endswith("  digits swapped")
    assert [line for line in told.lines[1:] if not line.startswith((" ", "??"))] == [
        "readings, the newest first:",
        "asked:",
        "true distance, line by line:",
        "true distance today and ahead:",
    ]
    assert "    2026-12-19  61,800 mi  + 80 (61,720 to 61,800)" in told.lines
    assert any(line.startswith("    2026-12-20  about 61,8") for line in told.lines)


def test_each_answer_is_told_with_the_distance_it_gives_and_its_command(odd: Shop) -> None:
    lines = odd("odometer", "fallow", today=LATER).lines

    (corrected,) = [line for line in lines if line.startswith("    correct to ")]
    assert corrected.startswith(
        "    correct to 61690: 90 mi more, 61,690 true  [castlenut settle fallowmere "
    )
    assert corrected.endswith(" correct 61690]")
    assert "    strike it out: left out for good  [" in "".join(lines)


def test_other_programs_get_readings_events_questions_and_what_is_ahead(odd: Shop) -> None:
    found = page(odd)

    assert list(found) == [
        "vehicle",
        "unit",
        "dial",
        "readings",
        "events",
        "questions",
        "distance_today",
        "ahead",
        "yearly",
        "rests_on",
        "notes",
    ]
    swapped = found["readings"][3]
    assert (swapped["figure"], swapped["distance"], swapped["odd"]) == (
        61960,
        None,
        "digits swapped",
    )
    assert found["readings"][4]["legs"] == [
        {
            "from": 61600,
            "to": 61720,
            "factor": 1,
            "distance": 120,
            "begins": None,
            "since": None,
        }
    ]
    assert [each["answer"] for each in found["questions"][0]["answers"]] == [
        "rolled-over",
        "replaced",
        "unit",
        "correct",
        "strike",
        "right",
    ]
    assert found["ahead"][0]["on"] == "2027-01-20"
    assert found["distance_today"]["p10"] <= found["distance_today"]["p90"]


def test_no_date_moves_until_it_is_settled(odd: Shop) -> None:
    """An item told of a reading left out; once corrected the reading counts and is not asked."""
    before = odd.must("why", "fallow", "u-bolts", today=LATER).out
    assert "1 reading left out as odd" in before

    told = settle(odd, "correct", "61690")

    assert told.code == 0
    assert told.lines[0].startswith("saved: reading ")
    assert page(odd)["questions"] == []
    assert "left out as odd" not in odd.must("why", "fallow", "u-bolts", today=LATER).out


def test_settling_answers_one_line_of_json(odd: Shop) -> None:
    told = settle(odd, "strike", "--json")

    assert told.out.count("\n") == 1
    assert list(told.json) == ["change", "records", "vehicle"]


def test_the_beginning_of_an_answer_is_enough(odd: Shop) -> None:
    assert settle(odd, "str").code == 0


def test_an_answer_that_is_none_names_those_there_are(odd: Shop) -> None:
    told = settle(odd, "wrong")

    assert told.code == 2
    assert told.faults[0].startswith("castlenut: answer: no answer 'wrong';")
    assert len(page(odd)["questions"]) == 1


def test_a_new_dial_is_recorded_with_the_end_of_the_old_one(yard: Shop) -> None:
    told = yard(
        "odometer", "fallow", "--replaced", "0", "--last", "61605", "--on", "2026-11-25", "--json"
    )

    assert (told.code, told.err) == (0, "")
    assert [each["table"] for each in told.json["records"]] == ["odometer_event"]
    yard.must("reading", "fallow", "115", "--on", LATER, today=LATER)
    last = page(yard)["readings"][-1]
    assert (last["distance"], last["odd"]) == (61720, None)
    assert page(yard)["events"] == [
        {
            "record": told.json["records"][0]["id"],
            "on": "2026-11-25",
            "event": "replaced",
            "start": 0,
            "last": 61605,
        }
    ]


def test_a_factor_counts_from_its_day(yard: Shop) -> None:
    told = yard("odometer", "fallow", "--factor", "1.04", "--on", "2026-11-24")

    assert told.lines[0].startswith("saved: odometer factor 1.04 from 2026-11-24 (")
    yard.must("reading", "fallow", "61700", "--on", LATER, today=LATER)
    assert page(yard)["readings"][-1]["distance"] == 61704


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--replaced", "0", "--at", "3"), "--at: has no meaning here"),
        (("--factor", "1.1", "--last", "3"), "--last: has no meaning here"),
        (("--on", "2026-11-01"), "--on: has no meaning here"),
        (("--factor", "3"), "factor: 3 is out of range"),
        (("--replaced", "99999999"), "replaced: '99999999' has more digits than the dial"),
        (("--replaced", "0", "--factor", "1.1"), "not allowed with argument"),
        (("--replaced", "0", "--on", "2027-01-01"), "on: 2027-01-01 is after today"),
    ],
)
def test_what_cannot_be_is_refused(yard: Shop, words: tuple[str, ...], sentence: str) -> None:
    told = yard("odometer", "fallow", *words)

    assert told.code == 2
    assert sentence in told.err
    assert yard.must("records", "--table", "odometer_event").out == ""


def test_a_car_never_read_says_how_to_begin(yard: Shop) -> None:
    yard.must("add", "pim")

    assert list(yard("odometer", "pim").lines) == [
        "pim: six-digit dial, mi",
        "no reading yet: castlenut reading records one",
    ]


def test_use_is_told_when_a_car_is_added(shop: Shop) -> None:
    shop.must("add", "pim", "--use", "seasonal")

    (car,) = shop("vehicles", "--json").json
    assert car["use"] == "seasonal"
