"""The forms: what is typed, what is refused and where, what follows, what is saved."""

from decimal import Decimal

from textual import events

from castlenut.domain.happenings import Grade
from castlenut.garage.garage import Garage
from castlenut.screens.app import CastlenutApp
from castlenut.screens.board import Board
from castlenut.screens.forms.convert import ConvertForm
from castlenut.screens.forms.day import DayForm
from castlenut.screens.forms.form import Form
from castlenut.screens.forms.part import PartForm
from castlenut.screens.forms.reading import ReadingForm
from castlenut.screens.forms.vehicle import VehicleForm
from tests.screens.conftest import USUAL, begun, pressed, settled, shown, typed

CAR = "harrowmead-tanager"


def form(app: CastlenutApp) -> Form:
    assert isinstance(app.screen, Form)
    return app.screen


def words(app: CastlenutApp) -> str:
    """Give what stands on the terminal with the lines of a frame put together."""
    return " ".join(shown(app).replace("│", " ").split())


async def test_a_reading_is_saved_and_said(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r")
        await typed(pilot, "61,900")
        await pressed(pilot, "ctrl+s")

        readings = shop.car(CAR).car.readings
        assert max(each.figure for each in readings) == Decimal(61900)
        assert "saved: reading 61,900 mi on 2026-11-25" in shown(app)


async def test_a_reading_goes_on_by_enter_to_save(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r")
        await typed(pilot, "61900")
        await pressed(pilot, "enter", "enter", "enter", "enter")

        assert isinstance(app.screen, Board)
        assert len(shop.car(CAR).car.readings) == 4


async def test_a_figure_is_said_back_in_the_other_unit(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r")
        await typed(pilot, "61700")

        assert "61,700 mi = 99,297 km" in shown(app)


async def test_a_lower_figure_is_told_before_it_is_saved(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r")
        await typed(pilot, "60000")

        assert "is lower than 61,600 on 24 November" in words(app)
        await pressed(pilot, "ctrl+s")
        assert len(shop.car(CAR).car.readings) == 4


async def test_a_day_with_slashes_is_refused_under_its_field_and_nothing_is_cleared(
    shop: Garage,
) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r")
        await typed(pilot, "61900")
        await pressed(pilot, "tab")
        await typed(pilot, "3/4/26")
        await pressed(pilot, "ctrl+s")

        assert isinstance(app.screen, ReadingForm)
        assert "x '3/4/26': which is the month? write 2026-03-04 or 2026-04-03" in words(app)
        assert form(app).text("figure") == "61900"
        assert form(app).field("on").box.has_focus


async def test_up_and_down_move_the_day_and_the_weekday_stands_behind(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r", "tab", "down", "down", "down")

        assert form(app).text("on") == "2026-11-22"
        assert "Sun, 3 days ago" in shown(app)


async def test_a_past_day_does_not_move_beyond_today(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r", "tab", "up")

        assert form(app).text("on") == "2026-11-25"


async def test_a_short_day_is_said_back_in_full(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r", "tab")
        await typed(pilot, "12-24")

        assert "2025-12-24, Wed, about 11 months ago" in shown(app)


async def test_escape_in_a_changed_form_asks_once(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r")
        await typed(pilot, "6")
        await pressed(pilot, "escape")
        asked = shown(app)
        await pressed(pilot, "escape")

        assert "esc again leaves, and what is typed is lost" in asked
        assert isinstance(app.screen, Board)
        assert len(shop.car(CAR).car.readings) == 3


async def test_escape_in_an_untouched_form_leaves_at_once(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r", "escape")

        assert isinstance(app.screen, Board)


async def test_letters_in_a_form_are_text_and_no_keys(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "n")
        await typed(pilot, "Dq fx")

        assert isinstance(app.screen, VehicleForm)
        assert form(app).text("description") == "Dq fx"


async def test_a_car_is_taken_in_and_stands_under_the_cursor(empty_shop: Garage) -> None:
    app = CastlenutApp(empty_shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "n")
        await typed(pilot, "Brackley Hollow")
        await pressed(pilot, "tab", "tab")
        await typed(pilot, "1966")
        await pressed(pilot, "ctrl+s", "escape")

        assert empty_shop.slugs() == ("brackley-hollow",)
        assert empty_shop.car("brackley-hollow").car.vehicle.year == 1966
        assert isinstance(app.screen, Board)
        assert app.screen.cars.cursor_key == "brackley-hollow"
        assert "saved: brackley-hollow added" in shown(app)


async def test_a_wrong_year_is_told_under_its_field(empty_shop: Garage) -> None:
    app = CastlenutApp(empty_shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "n")
        await typed(pilot, "Brackley Hollow")
        await pressed(pilot, "tab", "tab")
        await typed(pilot, "66")
        await pressed(pilot, "ctrl+s")

        assert form(app).field("year").has_fault
        assert empty_shop.slugs() == ()


async def test_a_choice_is_narrowed_by_typing_and_taken_by_enter(empty_shop: Garage) -> None:
    app = CastlenutApp(empty_shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "n", "tab", "tab", "tab", "r")
        names = shown(app)
        await pressed(pilot, "enter")

        assert "rear  front" in names
        assert form(app).text("drive") == "rear"


async def test_a_job_needs_a_dial_figure_or_the_estimate(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "d")
        wanting = shown(app)
        await pressed(pilot, "ctrl+s")
        refused = shown(app)

        assert "to look at: dial shows" in wanting
        assert "x what did the dial show? = takes the estimate" in refused
        assert shop.car(CAR).car.jobs == ()


async def test_a_job_is_saved_with_the_estimate_marked(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "d")
        await typed(pilot, "=")
        taken = shown(app)
        await pressed(pilot, "ctrl+s")

        (job,) = shop.car(CAR).car.jobs
        assert "about 61,604, estimated" in taken
        assert job.estimated
        assert [each.rule for each in job.items] == ["brake-fluid"]
        assert "brake fluid, renew" not in shown(app)


async def test_when_it_falls_due_next_is_told_before_saving(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "d")
        await typed(pilot, "61610")

        assert "next: brake fluid, renew  due at 76,610 mi or on 2028-05-25" in shown(app)


async def test_what_a_job_includes_can_be_unticked(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "d")
        await typed(pilot, "=")
        await pressed(pilot, "enter", "enter", "enter", "tab", "tab", "space")
        unticked = shown(app)
        await pressed(pilot, "ctrl+s")

        (job,) = shop.car(CAR).car.jobs
        assert "[ ] includes brake fluid, level" in unticked
        assert job.includes == ()


async def test_several_items_are_one_job(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "space", "down", "down", "down", "space", "d")
        await typed(pilot, "=")
        await pressed(pilot, "ctrl+s")

        (job,) = shop.car(CAR).car.jobs
        assert [each.rule for each in job.items] == ["brake-fluid", "oil"]


async def test_a_measurement_is_asked_for_at_each_place(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "m")
        await typed(pilot, "=")
        await pressed(pilot, "enter", "enter", "enter")
        await typed(pilot, "8mm")
        await pressed(pilot, "enter")
        await typed(pilot, "7.5mm")
        await pressed(pilot, "ctrl+s")

        measured = shop.car(CAR).car.measurements
        assert {str(each.place): each.values for each in measured} == {
            "LF": (Decimal(8),),
            "RF": (Decimal("7.5"),),
        }


async def test_a_bad_value_is_told_under_it(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "m")
        await typed(pilot, "=")
        await pressed(pilot, "enter", "enter", "enter")
        await typed(pilot, "thick")
        await pressed(pilot, "ctrl+s")

        assert form(app).field("1-value").has_fault
        assert shop.car(CAR).car.measurements == ()


async def test_a_refusal_keeps_the_item_counted(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "x")
        await typed(pilot, "=")
        await pressed(pilot, "ctrl+s")

        (refused,) = shop.car(CAR).car.declines
        assert refused.item.rule == "brake-fluid"
        assert refused.who == "Isolde Quarrington"
        assert "/  declined" in shown(app)
        assert "1 due 9" in shown(app)


async def test_a_happening_tells_what_becomes_due_before_saving(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "h")
        await typed(pilot, "brake bleed")
        await pressed(pilot, "enter", "shift+tab", "shift+tab", "shift+tab")
        await typed(pilot, "=")
        told = shown(app)
        await pressed(pilot, "ctrl+s")

        (event,) = shop.car(CAR).car.happenings
        assert event.event == "hydraulics-open"
        assert "becomes due:" in told


async def test_a_row_is_added_by_its_word(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "down", "d")
        assert isinstance(app.screen, DayForm)
        app.screen.field("add").enter()
        await typed(pilot, "hap")
        await pressed(pilot, "enter")

        assert "2 happened" in shown(app)
        assert form(app).field("2-event").box.has_focus


async def test_a_part_is_fitted_in_three_steps_with_what_follows_told(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "end", "enter", "f", "enter")
        await typed(pilot, "battery")
        await pressed(pilot, "enter", "ctrl+s")
        second = shown(app)
        await pressed(pilot, "ctrl+s")
        third = shown(app)
        await pressed(pilot, "ctrl+s")

        kinds = [part.kind for part in shop.car("quenby-marsh").car.components]
        assert "step 2 of 3" in second
        assert "joins the schedule:" in third
        assert "battery" in kinds


async def test_a_place_where_no_such_part_stands_is_refused_in_the_first_step(
    shop: Garage,
) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "end", "enter", "f", "enter")
        await typed(pilot, "brake pad")
        await pressed(pilot, "enter")
        await typed(pilot, "trunk")
        await pressed(pilot, "ctrl+s")

        assert isinstance(app.screen, PartForm)
        assert app.screen.step == 1
        assert "x 'trunk' is no place for" in words(app)


async def test_escape_goes_one_step_back_in_the_part_form(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "end", "enter", "f", "enter")
        await typed(pilot, "battery")
        await pressed(pilot, "enter", "ctrl+s", "escape")

        assert isinstance(app.screen, PartForm)
        assert app.screen.step == 1
        assert form(app).text("kind") == "battery"


async def test_a_part_is_taken_off(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "2", "f")
        await typed(pilot, "take")
        await pressed(pilot, "enter", "ctrl+s", "ctrl+s", "ctrl+s")

        filters = [each for each in shop.car(CAR).car.components if each.kind == "air filter"]
        assert filters[0].removed_on is not None
        assert "[2 fitted 6]" in shown(app)


async def test_a_check_is_found_good(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "down", "m")
        await typed(pilot, "=")
        await pressed(pilot, "enter", "enter", "enter")
        await typed(pilot, "good")
        await pressed(pilot, "ctrl+s")

        (found,) = shop.car(CAR).car.measurements
        assert found.grade is Grade.GOOD


async def test_what_cannot_be_saved_is_told_and_the_form_keeps_its_text(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        await pressed(pilot, "r")
        await typed(pilot, "61900")
        (shop.path / "vehicles" / f"{CAR}.json").unlink()
        (shop.path / "vehicles" / f"{CAR}.json").mkdir()
        await pressed(pilot, "ctrl+s")

        assert isinstance(app.screen, ReadingForm)
        assert form(app).text("figure") == "61900"


async def test_a_form_may_be_left_while_it_is_still_looked_through(shop: Garage) -> None:
    """The answer came to a form that was gone, and ended the program."""
    app = CastlenutApp(shop)

    async with app.run_test(size=USUAL) as pilot:
        await begun(pilot)
        for _ in range(5):
            await pilot.press("r", "escape")
        await settled(pilot)

        assert app.is_running
        assert isinstance(app.screen, Board)


async def test_what_is_typed_ahead_goes_where_it_belongs(shop: Garage) -> None:
    """A person who knows the form does not wait for it: the row is added while he types on."""
    app = CastlenutApp(shop)

    async with app.run_test(size=(120, 36)) as pilot:
        await begun(pilot)
        await pressed(pilot, "enter", "end", "d")
        form = app.screen
        assert isinstance(form, DayForm)
        for letter in "61650\t\tdone\rengine oil\r":
            key = {"\t": "tab", "\r": "enter", " ": "space"}.get(letter, letter)
            app.post_message(events.Key(key, letter))
        await settled(pilot)

        assert form.text("at") == "61650"
        assert form.text("by") == "this garage"
        assert "1 done [engine oil, renew" in " ".join(shown(app).split())


async def test_a_conversion_tells_what_leaves_and_joins_and_is_saved(shop: Garage) -> None:
    app = CastlenutApp(shop)

    async with app.run_test(size=(120, 36)) as pilot:
        await begun(pilot)
        await pressed(pilot, "ctrl+p")
        await typed(pilot, "convert")
        await pressed(pilot, "enter")
        form = app.screen
        assert isinstance(form, ConvertForm)
        form.field("conversion").text = "alternator"
        form.field("at").text = "="
        form.field("fields").text = "nonsense=3"
        await settled(pilot)
        await pressed(pilot, "ctrl+s")
        assert form.field("fields").has_fault

        form.field("fields").text = ""
        await settled(pilot)
        assert "leaves the schedule:" in shown(app)
        assert "joins the schedule:" in shown(app)
        await pressed(pilot, "ctrl+s")

        assert "saved: " in shown(app)
    (job,) = shop.file("harrowmead-tanager").table("job")
    assert "alternator" in str(job.values["events"])
