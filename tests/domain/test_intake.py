"""The intake: what is asked for of a car, and what of it has its answer."""

from dataclasses import replace
from datetime import date

from castlenut.domain.car import Car
from castlenut.domain.intake import asked_of, progress
from tests.builders import book, car, part, stated, vehicle

TODAY = date(2026, 4, 11)
BUILT = replace(vehicle(), ticks={"front brakes": "disc", "rear brakes": "drum"})


def left(this: Car) -> set[str]:
    return {each.name for each in progress(this, book(), today=TODAY).left}


def test_what_is_ticked_away_is_not_asked_for() -> None:
    kinds = {each.name for each in asked_of(BUILT, book())}

    assert {"brake pad front", "brake shoe rear"} <= kinds
    assert not {"brake shoe front", "brake pad rear"} & kinds


def test_what_is_not_ticked_leaves_every_kind_it_might_decide() -> None:
    kinds = {each.name for each in asked_of(vehicle(), book())}

    assert {"brake pad front", "brake shoe front", "brake pad rear", "brake shoe rear"} <= kinds


def test_an_intake_is_begun_by_a_tick() -> None:
    assert progress(car(of=BUILT), book(), today=TODAY).is_begun
    assert not progress(car(of=replace(BUILT, ticks={})), book(), today=TODAY).is_begun


def test_a_part_at_each_corner_of_an_end_answers_for_the_end() -> None:
    one = car(part("brake pad", "LF"), of=BUILT)
    both = car(part("brake pad", "LF"), part("brake pad", "RF"), of=BUILT)

    assert "brake pad front" in left(one)
    assert "brake pad front" not in left(both)


def test_a_statement_about_a_kind_answers_for_it() -> None:
    silent = car(of=BUILT)
    said = car(of=BUILT, statements=[stated("brake fluid", "", "2025-03-01", None)])

    before, after = (progress(each, book(), today=TODAY) for each in (silent, said))

    assert after.answered == before.answered + 1
    assert after.kinds == before.kinds
