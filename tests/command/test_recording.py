"""Recording: readings, jobs, measurements, refusals, events, parts, lay-ups."""

import json

import pytest

from tests.command.conftest import Shop


def item(yard: Shop, rule: str) -> dict[str, object]:
    (found,) = yard.must("why", "fallow", rule, "--json").json
    assert isinstance(found, dict)
    return found


def test_add_begins_with_the_short_name(shop: Shop) -> None:
    told = shop("add", "pim", "--description", "Tessarin Pim", "--unit", "km", "--tenths")

    assert (told.code, told.lines[0]) == (0, "pim added")
    (car,) = shop("vehicles", "--json").json
    assert (car["unit"], car["tenths"], car["description"]) == ("km", True, "Tessarin Pim")


def test_a_car_is_added_once(yard: Shop) -> None:
    told = yard("add", "fallowmere")

    assert told.code == 2
    assert "fallowmere is in the garage already" in told.err


def test_a_bad_car_leaves_no_garage_behind(shop: Shop) -> None:
    told = shop("add", "pim", "--year", "long ago", "--digits", "9")

    assert told.code == 2
    assert len(told.faults) == 2
    assert not shop.path.exists()


def test_a_field_given_twice_is_refused(shop: Shop) -> None:
    told = shop("add", "pim", "--year", "1988", "year=1989")

    assert told.code == 2
    assert told.faults == ["castlenut: year: given twice; give it once"]


def test_a_vin_that_fails_warns_and_is_kept(shop: Shop) -> None:
    told = shop("add", "pim", "vin=1M8GDM9A0KP042788")

    assert told.code == 0
    assert "check digit" in told.err
    assert [each["fault"] for each in shop("check", "--json").json] == ["vin"]


def test_a_saved_change_answers_one_line_of_json(yard: Shop) -> None:
    told = yard("reading", "fallow", "61610", "--json")

    assert told.out.count("\n") == 1
    answer = told.json
    assert list(answer) == ["change", "records", "vehicle"]
    assert answer["vehicle"] == "fallowmere"
    (record,) = answer["records"]
    assert (record["table"], record["vehicle"]) == ("reading", "fallowmere")
    assert record["id"] in yard("records", "--table", "reading", "--ids").lines


def test_an_odd_reading_is_kept_and_told(yard: Shop) -> None:
    told = yard("reading", "fallow", "61590")

    assert told.code == 0
    assert told.faults == [
        (
            "castlenut: 61,590 mi on 2026-11-25: 61,590 is lower than 61,600 on 24 November 2026."
            " 61,599 would fit; one digit may be wrong. Kept, and left out until somebody says what"
            " it was."
        )
    ]
    assert len(yard("records", "--table", "reading").lines) == 3


@pytest.mark.parametrize(
    ("figure", "says"),
    [
        ("6160x", "castlenut: figure: '6160x'"),
        ("-5", "castlenut: figure: '-5' is negative"),
        ("1234567", "castlenut: figure: '1234567' has more digits than the dial"),
    ],
)
def test_a_figure_that_cannot_be_is_refused(yard: Shop, figure: str, says: str) -> None:
    told = yard("reading", "fallow", figure)

    assert told.code == 2
    assert told.err.startswith(says)
    assert len(yard("records", "--table", "reading").lines) == 2


def test_a_day_to_come_is_refused(yard: Shop) -> None:
    told = yard("reading", "fallow", "61700", "--on", "2026-11-26")

    assert told.code == 2
    assert told.err.startswith("castlenut: on: 2026-11-26 is after today, 2026-11-25; ")


def test_lines_of_readings_are_saved_one_by_one(yard: Shop) -> None:
    """A bad line is told with its number and skipped; the rest is saved, and the end is 2."""
    told = yard(
        "reading",
        "fallow",
        "--from",
        "-",
        stdin="# from the fuel book\n\n61602 2026-11-24 at the pump\nsixty\n61605\n",
    )

    assert told.code == 2
    assert [line.split(" ", 1)[1] for line in told.lines] == [
        "61602 mi 2026-11-24",
        "61605 mi 2026-11-25",
    ]
    assert len(told.faults) == 1
    assert told.faults[0].startswith("castlenut: line 4, figure: 'sixty' ")
    stored = [json.loads(line) for line in yard("records", "--table", "reading").lines]
    assert [each["values"].get("note") for each in stored if "note" in each["values"]] == [
        "at the pump"
    ]


def test_lines_of_readings_answer_json_each(yard: Shop) -> None:
    told = yard("reading", "fallow", "--from", "-", "--json", stdin="61602\n61605\n")

    assert told.code == 0
    assert [len(json.loads(line)["records"]) for line in told.lines] == [1, 1]


@pytest.mark.parametrize(
    ("options", "what"),
    [
        ([], "FIGURE: no figure is given"),
        (["61700", "--from", "-"], "FIGURE: a figure and --from are both given"),
        (["--from", "book.txt"], '--from: "book.txt" cannot be read from'),
    ],
)
def test_a_reading_has_one_source(yard: Shop, options: list[str], what: str) -> None:
    told = yard("reading", "fallow", *options)

    assert told.code == 2
    assert told.err.startswith(f"castlenut: {what}; ")


def test_done_moves_the_due_point_and_tells_the_next(yard: Shop) -> None:
    told = yard("done", "fallow", "u-bolts", "--at", "61610", "--hours", "0.5", "--cost", "32.5")

    assert told.code == 0
    assert told.lines[0].startswith("saved: done u-bolts on 2026-11-25 (")
    assert told.lines[1] == ("next: spring U-bolts, torque, LR  due at 62,230 mi or on 2027-10-18")
    assert item(yard, "u-bolts")["state"] == "ahead"


def test_a_dial_figure_not_given_is_the_estimate_and_marked(yard: Shop) -> None:
    told = yard("done", "fallow", "u-bolts")

    assert told.faults == ["castlenut: dial figure taken as 61,604 mi, estimated"]
    (job,) = [
        values
        for line in yard("records", "--table", "job").lines
        if (values := json.loads(line)["values"]).get("items")
    ]
    assert (job["at"], job["estimated"]) == (61604, True)


def test_done_by_another_shop_says_whose_work_it_is(yard: Shop) -> None:
    yard.must("done", "fallow", "leaf-look", "--at", "61610", "--by", "Marsh Lane Motors")

    baseline = item(yard, "leaf-look")["baseline"]

    assert isinstance(baseline, dict)
    assert (baseline["from"], baseline["by"], baseline["at"]) == (
        "done",
        "Marsh Lane Motors",
        61610,
    )


def test_a_measurement_below_its_limit_is_overdue(yard: Shop) -> None:
    """Pads of 3 mm: 1/8 in, 3.2 mm, is the least."""
    yard.must("fit", "fallow", "brake pad", "LF", "--on", "2026-11-20", "--at", "61560")
    yard.must("measure", "fallow", "pad-measure", "3mm", "--at", "61610")

    found = item(yard, "pad-measure")

    assert (found["state"], found["binds"]) == ("overdue", "measurement")


def test_a_refusal_stays_counted(yard: Shop) -> None:
    yard.must("decline", "fallow", "u-bolts", "--who", "Odile Marrowby", "--why", "next month")

    found = item(yard, "u-bolts")

    assert found["state"] == "declined"
    assert found["declined"] == {
        "on": "2026-11-25",
        "who": "Odile Marrowby",
        "why": "next month",
        "until": None,
        "without_it": "overdue",
    }
    assert "/ declined" in yard("due").out


def test_what_happened_tells_what_falls_due_by_it(yard: Shop) -> None:
    yard.must("fit", "fallow", "wheel", "LF", "--on", "2026-10-18", "--at", "61230")

    told = yard("happened", "fallow", "curb", "--where", "LF", "--at", "61610")

    assert told.code == 0
    assert any("wheel" in line and line.startswith("due by this: ! due") for line in told.lines)


def test_an_event_nobody_knows_is_refused(yard: Shop) -> None:
    told = yard("happened", "fallow", "curb-hti")

    assert told.code == 2
    assert "did you mean 'curb-hit'" in told.err


def test_fitting_tells_what_joins_the_schedule(yard: Shop) -> None:
    told = yard("fit", "fallow", "brake", "hose", "LF,RF", "material=rubber", "--at", "61610")

    assert told.code == 0
    assert told.lines[0].startswith("saved: brake hose at LF, RF fitted on 2026-11-25")
    joins = [line for line in told.lines if line.startswith("joins: ")]
    assert any("[hose-renew]" in line for line in joins)


def test_a_kind_nobody_knows_names_the_nearest(yard: Shop) -> None:
    told = yard("fit", "fallow", "brake hoze", "LF")

    assert told.code == 2
    assert "did you mean" in told.err
    assert "'brake hose'" in told.err


def test_a_part_is_not_put_where_it_cannot_stand(yard: Shop) -> None:
    told = yard("fit", "fallow", "wheel bearing", "front upper left")

    assert told.code == 2
    assert told.err.startswith("castlenut: ")
    assert [each["kind"] for each in yard("components", "--json").json] == ["spring"]


def test_a_part_waits_on_the_shelf_and_is_fitted_by_its_id(yard: Shop) -> None:
    yard.must("fit", "fallow", "brake hose", "LF", "part=BH-204", "--shelf")
    waiting = [each for each in yard("components", "--json").json if each["state"] == "shelf"]

    yard.must("fit", "fallow", waiting[0]["id"][-8:], "--at", "61610")

    (hose,) = [each for each in yard("components", "--json").json if each["kind"] == "brake hose"]
    assert (hose["state"], hose["part"], hose["on"]) == ("fitted", "BH-204", "2026-11-25")


def test_convert_only_shows_until_told_to_do_it(yard: Shop) -> None:
    yard.must("fit", "fallow", "brake shoe", "LF,RF", "--on", "-")
    before = yard("records").out

    shown = yard("convert", "fallow", "front-discs", "--at", "61610")
    assert shown.code == 0
    assert yard("records").out == before
    assert any(line.startswith("leaves: ") and "brake shoes" in line for line in shown.lines)
    assert any(line.startswith("joins: ") and "brake pads" in line for line in shown.lines)
    assert shown.lines[-1] == "nothing is saved yet: --yes does it"

    done = yard("convert", "fallow", "front-discs", "--at", "61610", "--yes")
    assert done.code == 0
    kinds = {each["kind"] for each in yard("components", "--json").json}
    assert "brake pad" in kinds
    assert "brake shoe" not in kinds


def test_convert_shows_the_same_as_json(yard: Shop) -> None:
    yard.must("fit", "fallow", "brake shoe", "LF,RF", "--on", "-")

    answer = yard("convert", "fallow", "front-discs", "--at", "61610", "--json").json

    assert list(answer) == ["change", "vehicle", "leaves", "joins", "due_now"]
    assert answer["change"] is None
    assert "shoe-measure" in {each["rule"] for each in answer["leaves"]}
    assert "pad-measure" in {each["rule"] for each in answer["joins"]}


def test_intake_keeps_the_good_lines_and_names_the_bad(yard: Shop) -> None:
    told = yard(
        "intake",
        "fallow",
        "--from",
        "-",
        stdin="brake fluid - stated 2026-01-15 61000\nwheel bearing LF unknown\nflux LF unknown\n",
    )

    assert told.code == 2
    assert told.err.startswith("castlenut: line 3, kind: no kind 'flux'")
    kinds = {each["kind"] for each in yard("components", "--json").json}
    assert kinds == {"spring", "brake fluid", "wheel bearing"}
    assert item(yard, "brake-fluid")["state"] == "ahead"
    assert item(yard, "hub-repack")["state"] == "no record"


def test_a_lay_up_starts_its_own_items_and_may_have_a_planned_end(yard: Shop) -> None:
    told = yard("layup", "fallow", "--from", "2026-10-18", "--to", "2027-04-15")

    assert told.code == 0
    assert any(line.startswith("joins: ") and "[layup-walk]" in line for line in told.lines)
    assert item(yard, "layup-walk")["state"] == "overdue"


def test_an_exposure_shortens_an_interval(yard: Shop) -> None:
    """Towing: leaf springs, 12 months x 0.7 = 8 months 12 days from 18 October."""
    yard.must("exposure", "fallow", "towing", "--from", "2026-10-18")

    assert item(yard, "leaf-look")["due_on"] == "2027-06-30"


def test_a_lay_up_without_a_day_is_refused(yard: Shop) -> None:
    told = yard("layup", "fallow")

    assert told.code == 2
    assert told.faults == ["castlenut: layup: no day is given; give --from DATE, --to DATE or both"]
