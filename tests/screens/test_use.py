"""Page 4 of a car: its odometer and use, and the odd reading settled there. All is invented."""

from datetime import date
from decimal import Decimal

from castlenut.garage.changes.exposures import draft_exposure, draft_layup
from castlenut.garage.drafts import save
from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.forms.settle import SettleForm
from castlenut.screens.use.picture import picture_of, spans
from tests.screens.conftest import USUAL, begun, pressed, shown, typed

CAR = "harrowmead-tanager"
ODD = ("r", "6", "1", "0", "6", "0", "ctrl+s")  # two digits of 61,600 swapped


def rows(app: CastlenutApp) -> list[str]:
    return [line.rstrip() for line in shown(app).splitlines()]


def row_of(app: CastlenutApp, word: str) -> str:
    return next(line for line in rows(app) if word in line)


async def test_the_page_has_the_chart_above_and_the_readings_below(shop: Garage) -> None:
    app = CastlenutApp(shop, ascii_only=True)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "4")

        told = rows(app)
        assert "[4 use]" in told[2]
        assert any(line.endswith("P90") for line in told[3:13])
        assert "|today" in "".join(told)
        head = next(number for number, line in enumerate(told) if "dial shows" in line)
        assert "2026-11-24" in told[head + 1]
        assert "61,600 mi     61,600      190 -" in told[head + 1]
        assert "2026-10-18" in told[head + 3]


async def test_the_table_has_the_distance_on_days_ahead(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "4", "a")

        assert "2026-12-25 about 61," in shown(app)
        assert "Known from 3 readings over 37 days" in shown(app)
        await pressed(pilot, "a")
        assert "Known from 3 readings" not in shown(app)


async def test_with_one_reading_a_sentence_stands_for_the_fan(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "home", "down", "enter", "4")

        assert "Only one reading: this rests on how cars of this age" in shown(app)
        assert "P50" not in shown(app)


async def test_an_odd_reading_is_flagged_with_what_would_fit(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, *ODD, "enter", "4")

        assert "[4 use ?? 1]" in rows(app)[2]
        row = row_of(app, "?? 2026-11-25")
        assert "left out" in row
        assert "digits swapped" in row
        assert "With two digits swapped it" in shown(app)


async def test_settling_shows_six_answers_with_the_distance_each_gives(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, *ODD, "enter", "4", "enter")

        assert isinstance(app.screen, SettleForm)
        assert "1 it rolled over" in row_of(app, "99,460 mi more, 161,060 true")
        assert "> 4 correct to 61600" in row_of(app, "0 mi more, 61,600 true")
        assert "5 strike it out" in row_of(app, "left out for good")


async def test_a_digit_takes_an_answer_and_it_is_not_asked_again(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, *ODD, "enter", "4", "enter", "5")

        assert not isinstance(app.screen, SettleForm)
        assert "[4 use]" in rows(app)[2]
        assert "saved: reading " in shown(app)
        assert len(shop.car(CAR).car.readings) == 3


async def test_a_correction_asks_for_the_figure_first(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, *ODD, "enter", "4", "enter", "4")
        await pressed(pilot, *["backspace"] * 5)
        await typed(pilot, "61606")
        await pressed(pilot, "ctrl+s")

        last = shop.car(CAR).car.readings[-1]
        assert (last.figure, last.judged_right) == (Decimal(61606), True)


async def test_another_dial_asks_for_its_first_figure_and_the_old_one_s_last(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, *ODD, "enter", "4", "enter", "2")
        await pressed(pilot, "enter")
        await typed(pilot, "61604")
        await pressed(pilot, "ctrl+s")

        (event,) = shop.car(CAR).car.dial_events
        assert f"{event.on}" == "2026-11-25"
        assert shop.today(CAR).odometer.placed[-1].distance == 61_604.0


async def test_an_answer_that_cannot_be_says_so_and_nothing_is_saved(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, *ODD, "enter", "4", "enter", "4")
        await pressed(pilot, *["backspace"] * 5)
        await pressed(pilot, "ctrl+s")

        assert "no figure is given" in shown(app)
        await pressed(pilot, "escape", "escape")
        assert not shop.car(CAR).car.readings[-1].judged_right


async def test_nothing_is_asked_about_a_reading_that_fits(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "4", "enter")

        assert "nothing is asked about this reading" in shown(app)


def test_the_due_distance_of_the_item_chosen_is_a_level(shop: Garage) -> None:
    today = shop.today(CAR)
    oil = next(item for item in today.items if item.rule.id == "oil")

    picture = picture_of(today, oil)

    assert picture is not None
    assert picture.level == (61_100.0, f"{oil.rule.title} due")
    assert picture.fan is not None
    assert picture.fan.middle[0] == (date(2026, 11, 24), 61_600.0)


def test_lay_ups_and_exposures_in_force_say_what_they_move(shop: Garage) -> None:
    saved = save(shop, draft_layup(shop, CAR, since="2026-12-01", until="2027-03-01"))
    save(shop, draft_exposure(shop, CAR, "dust", since="2026-11-01"))

    told = spans(shop.today(saved.slug))

    assert told.startswith("laid up 2026-12-01 to 2027-03-01: no distance runs in it; dust 2026-11")
    assert told.endswith(" items")
