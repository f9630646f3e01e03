"""Odd readings settled: each answer kept, each asked only once. The car is invented."""

from decimal import Decimal

import pytest

from castlenut.domain.dial_history import history_of
from castlenut.domain.errors import BadInput
from castlenut.domain.oddity import Cause
from castlenut.domain.odometer import Odometer
from castlenut.domain.settling import How, Outcome
from castlenut.garage.changes.dial import draft_factor, draft_replaced
from castlenut.garage.changes.jobs import draft_job
from castlenut.garage.changes.parts import draft_fit
from castlenut.garage.changes.readings import draft_reading
from castlenut.garage.changes.settling import Answer, draft_settlement
from castlenut.garage.dial_questions import questions
from castlenut.garage.drafts import Draft
from tests.garage.conftest import CAR, Shop

SWAPPED = (
    ("2026-06-01", "58600"),
    ("2026-07-01", "58273"),
    ("2026-08-01", "58900"),
    ("2026-09-01", "59200"),
)


def read(shop: Shop, *readings: tuple[str, str]) -> None:
    for on, figure in readings:
        shop.save(draft_reading(shop.garage, CAR, figure, on=on))


def dial(shop: Shop) -> Odometer:
    return history_of(shop.garage.car(CAR).car, south=False)


def record(shop: Shop, figure: str) -> str:
    return next(
        each.reading.record for each in dial(shop).placed if each.reading.figure == Decimal(figure)
    )


def settling(shop: Shop, figure: str, how: How, value: str | None = None, **more: str) -> Draft:
    answer = Answer(how=how, value=value, **more)
    return draft_settlement(shop.garage, CAR, record(shop, figure), answer)


def refusal(shop: Shop, figure: str, how: How, value: str | None = None, **more: str) -> str:
    with pytest.raises(BadInput) as raised:
        settling(shop, figure, how, value, **more)
    return str(raised.value.faults[0])


def distances(shop: Shop) -> list[float | None]:
    return [each.distance for each in dial(shop).placed]


def odd(shop: Shop) -> list[Cause]:
    return [each.oddity.cause for each in dial(shop).placed if each.oddity is not None]


def test_a_figure_corrected_counts_and_is_not_asked_about_again(shop: Shop) -> None:
    read(shop, *SWAPPED)
    assert (odd(shop), distances(shop)[1]) == ([Cause.SWAPPED], None)

    shop.save(settling(shop, "58273", How.CORRECTED, "58723"))

    assert (odd(shop), distances(shop)[1]) == ([], 58_723.0)
    assert shop.table("reading")[1] == {
        "figure": 58723,
        "judged": "right",
        "on": "2026-07-01",
        "unit": "mi",
    }


def test_a_correction_that_does_not_fit_either_is_told_and_stays_odd(shop: Shop) -> None:
    read(shop, *SWAPPED)

    draft = settling(shop, "58273", How.CORRECTED, "41111")
    shop.save(draft)

    assert draft.told[0].startswith("41,111 mi on 2026-07-01: 41,111 does not lie between")
    assert len(odd(shop)) == 1
    assert "judged" not in shop.table("reading")[1]


def test_a_day_corrected_moves_the_reading(shop: Shop) -> None:
    read(shop, *SWAPPED)

    shop.save(settling(shop, "58273", How.CORRECTED, "58273", on="2026-05-01"))

    assert odd(shop) == []
    assert distances(shop) == [58_273.0, 58_600.0, 58_900.0, 59_200.0]


def test_struck_out_it_is_gone_and_can_be_restored(shop: Shop) -> None:
    read(shop, *SWAPPED)

    shop.save(settling(shop, "58273", How.STRUCK, note="another car"))

    assert distances(shop) == [58_600.0, 58_900.0, 59_200.0]
    assert len(shop.garage.file(CAR).records(history=True)) == 5  # the vehicle and four readings


def test_right_is_kept_whatever_is_read_later(shop: Shop) -> None:
    read(shop, ("2026-06-01", "58600"), ("2026-07-01", "58273"))
    shop.save(settling(shop, "58273", How.RIGHT))

    read(shop, ("2026-08-01", "58900"), ("2026-09-01", "59200"))

    (right,) = [each for each in dial(shop).placed if each.reading.judged_right]
    assert (right.oddity, right.distance is None) == (None, False)


def test_settled_twice_changes_nothing(shop: Shop) -> None:
    read(shop, *SWAPPED)
    shop.save(settling(shop, "58273", How.RIGHT))

    assert shop.save(settling(shop, "58273", How.RIGHT)).change is None


def test_a_rollover_confirmed_is_a_record_and_not_asked_about_again(shop: Shop) -> None:
    """10.01: 98,750 then 00,430 is 1,680."""
    read(shop, ("2026-01-01", "98750"), ("2026-03-01", "430"))
    assert odd(shop) == [Cause.ROLLED_OVER]

    shop.save(settling(shop, "430", How.ROLLED_OVER))

    assert (odd(shop), distances(shop)) == ([], [98_750.0, 100_430.0])
    assert shop.table("odometer_event") == [{"event": "rolled over", "on": "2026-03-01"}]


def test_two_rounds_counted_are_two_records(shop: Shop) -> None:
    """44,000 a year, then nothing read for 28 months: 102,000, not 2,000."""
    steady = [("2017-01-01", "11000"), ("2018-01-01", "55000"), ("2019-01-01", "99000")]
    read(shop, *steady, ("2021-05-01", "1000"))
    assert distances(shop)[-1] == 201_000.0

    shop.save(settling(shop, "1000", How.ROLLED_OVER))

    assert (odd(shop), distances(shop)[-1]) == ([], 201_000.0)
    assert len(shop.table("odometer_event")) == 2


def test_a_figure_in_kilometers_counts_in_miles(shop: Shop) -> None:
    """83,364 km are 51,800.0 mi."""
    read(shop, ("2026-01-01", "51600"), ("2026-03-01", "83364"), ("2026-05-01", "52200"))

    shop.save(settling(shop, "83364", How.OTHER_UNIT, "km"))

    assert odd(shop) == []
    assert distances(shop)[1] == pytest.approx(51_800.0, abs=0.1)
    assert shop.table("reading")[1]["unit"] == "km"
    assert shop.table("reading")[1]["figure"] == 83364


def test_a_replaced_dial_gives_the_distances_after_it(shop: Shop) -> None:
    """The old one ended at 44,300: 310 on the new one is 44,610, 700 is 45,000."""
    read(
        shop,
        ("2026-01-01", "43000"),
        ("2026-02-01", "44120"),
        ("2026-02-21", "310"),
        ("2026-04-01", "700"),
    )
    assert distances(shop)[2:] == [None, None]

    shop.save(settling(shop, "310", How.REPLACED, "0", last="44300", on="2026-02-10"))

    assert odd(shop) == []
    assert distances(shop) == [43_000.0, 44_120.0, 44_610.0, 45_000.0]


def test_the_figure_of_a_job_is_settled_as_well(shop: Shop) -> None:
    read(shop, ("2026-06-01", "58600"), ("2026-08-01", "58900"), ("2026-09-01", "59200"))
    shop.save(draft_fit(shop.garage, CAR, "engine oil", on="2026-01-01", at="-"))
    shop.save(draft_job(shop.garage, CAR, ["oil"], on="2026-07-01", at="58273"))
    assert odd(shop) == [Cause.SWAPPED]

    shop.save(settling(shop, "58273", How.CORRECTED, "58723"))

    assert odd(shop) == []
    (job,) = [each for each in shop.table("job") if each["on"] == "2026-07-01"]
    assert job["at"] == 58723
    assert len(shop.table("reading")) == 3


def test_the_figure_of_a_job_judged_right_stands_in_a_reading(shop: Shop) -> None:
    read(shop, ("2026-06-01", "58600"), ("2026-08-01", "58900"), ("2026-09-01", "59200"))
    shop.save(draft_fit(shop.garage, CAR, "engine oil", on="2026-01-01", at="-"))
    shop.save(draft_job(shop.garage, CAR, ["oil"], on="2026-07-01", at="58273"))

    shop.save(settling(shop, "58273", How.RIGHT))

    assert shop.table("reading")[-1]["judged"] == "right"
    settled = next(each for each in dial(shop).placed if each.reading.judged_right)
    assert settled.shown == Decimal(58273)
    assert settled.oddity is None


@pytest.mark.parametrize(
    ("how", "value", "more", "sentence"),
    [
        (How.RIGHT, "58723", {}, "right: '58723' has no meaning with right; leave it out"),
        (How.STRUCK, None, {"last": "3"}, "last: '3' has no meaning with strike; leave it out"),
        (How.CORRECTED, None, {}, "correct: no figure is given; give what the dial showed"),
        (How.CORRECTED, "583000", {}, "correct: '583000' has more digits than the dial"),
        (How.CORRECTED, "58723", {"on": "2027-01-01"}, "on: 2027-01-01 is after today"),
        (How.OTHER_UNIT, None, {}, "unit: no unit is given; give mi or km"),
        (How.OTHER_UNIT, "leagues", {}, "unit: 'leagues' is no unit of distance"),
        (How.OTHER_UNIT, "mi", {}, "unit: it stands in mi already; give the other"),
        (How.REPLACED, None, {}, "replaced: no figure is given; give what the new dial showed"),
        (How.REPLACED, "60000", {}, "replaced: 60000 is more than the 58,273 read on the new"),
        (
            How.REPLACED,
            "0",
            {"on": "2026-05-01"},
            "on: 2026-05-01 does not lie between this reading and the one before",
        ),
    ],
)
def test_an_answer_that_cannot_be_is_refused(
    shop: Shop, how: How, value: str | None, more: dict[str, str], sentence: str
) -> None:
    read(shop, *SWAPPED)

    assert refusal(shop, "58273", how, value, **more).startswith(sentence)


def test_what_is_not_lower_has_not_rolled_over(shop: Shop) -> None:
    read(shop, *SWAPPED)

    told = refusal(shop, "58900", How.ROLLED_OVER)

    assert told.startswith("rolled-over: it is not lower than the reading before it")


def test_only_a_reading_that_stands_can_be_settled(shop: Shop) -> None:
    read(shop, *SWAPPED)
    struck = record(shop, "58273")
    shop.save(settling(shop, "58273", How.STRUCK))

    with pytest.raises(BadInput, match="is struck"):
        draft_settlement(shop.garage, CAR, struck, Answer(how=How.RIGHT))
    with pytest.raises(BadInput, match="is no reading of the dial"):
        draft_settlement(shop.garage, CAR, "vehicle", Answer(how=How.RIGHT))


def outcomes(shop: Shop) -> dict[How, Outcome]:
    (asked,) = questions(shop.garage, CAR, dial(shop))
    return {each.how: each for each in asked.outcomes}


def test_each_answer_tells_the_distance_it_would_give(shop: Shop) -> None:
    """123 since 58,600; struck it is none; in km it is 36,209 mi, which fits nothing."""
    read(shop, *SWAPPED)

    found = outcomes(shop)

    assert list(found) == list(How)
    corrected = found[How.CORRECTED]
    assert (corrected.value, corrected.run, corrected.distance) == ("58723", 123.0, 58_723.0)
    assert found[How.STRUCK].distance is None
    assert (found[How.OTHER_UNIT].value, found[How.OTHER_UNIT].distance) == ("km", None)
    assert found[How.ROLLED_OVER].run == 99_673.0


def test_a_replaced_dial_is_tried_from_nothing(shop: Shop) -> None:
    read(
        shop,
        ("2026-01-01", "43000"),
        ("2026-02-01", "44120"),
        ("2026-02-21", "310"),
        ("2026-04-01", "700"),
    )

    tried = outcomes(shop)[How.REPLACED]

    assert (tried.value, tried.is_estimated, tried.left_out) == ("0", True, 0)
    assert tried.distance is not None


def test_a_fault_of_an_answer_stands_in_its_outcome(shop: Shop) -> None:
    read(shop, ("2026-06-01", "58600"), ("2026-07-01", "99273"), ("2026-08-01", "58900"))

    assert outcomes(shop)[How.ROLLED_OVER].fault is not None


def test_a_new_dial_and_a_factor_are_records(shop: Shop) -> None:
    """45,120, ended at 45,300, new one from 0, now 210; then 100 at 1.04."""
    read(shop, ("2026-01-01", "45120"), ("2026-03-01", "210"))
    shop.save(draft_replaced(shop.garage, CAR, "0", last="45300", on="2026-02-01"))
    shop.save(draft_factor(shop.garage, CAR, "1.04", on="2026-03-01"))
    read(shop, ("2026-04-01", "310"))

    assert distances(shop) == pytest.approx([45_120.0, 45_510.0, 45_614.0])


def test_the_figure_read_at_a_change_of_factor_makes_it_exact(shop: Shop) -> None:
    """10.12: 10,000 at 1.00, then 5,000 shown at 1.04 make 15,200."""
    read(shop, ("2025-01-01", "30000"), ("2026-06-01", "45000"))

    shop.save(draft_factor(shop.garage, CAR, "1.04", on="2026-01-01", at="40000"))

    assert distances(shop) == [30_000.0, 40_000.0, 45_200.0]
    assert dial(shop).notes == ()


@pytest.mark.parametrize("factor", ["0.4", "2.1", "nothing"])
def test_a_factor_out_of_range_is_refused(shop: Shop, factor: str) -> None:
    with pytest.raises(BadInput):
        draft_factor(shop.garage, CAR, factor)


def test_an_old_end_that_nobody_knows_is_told(shop: Shop) -> None:
    draft = draft_replaced(shop.garage, CAR, "0", on="2026-02-01")

    assert draft.told[0].startswith("what the old dial showed at its end is not known")
