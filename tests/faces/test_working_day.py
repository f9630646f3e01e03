"""A day at the bench on a real terminal, from the first key to the last: invented cars.

The garage is the sample fleet. Each step waits for what a person would look for before going on.
"""

import json
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.faces.installed import Bench, bench, script
from tests.faces.terminal import Terminal

TODAY = "2026-11-25"
COLOR = re.compile(rb"\x1b\[(?:[0-9]+;)*(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])[;m]")
TRUE_COLOR = re.compile(rb"\x1b\[(?:[0-9]+;)*[34]8;2;")


@pytest.fixture
def fleet(tmp_path: Path) -> Bench:
    """Give the sample fleet in a folder of its own."""
    made = bench(tmp_path)
    assert made(TODAY, "demo", "--no-open", str(made.garage)).code == 0
    return made


@pytest.fixture
def day(fleet: Bench) -> Iterator[Terminal]:
    """Open the garage in the morning, on a usual terminal."""
    with opened(fleet) as screen:
        yield screen


def opened(fleet: Bench, size: tuple[int, int] = (80, 24), **environment: str) -> Terminal:
    """Open the screens on the fleet."""
    command = (script(), "--garage", str(fleet.garage), "--today", TODAY)
    usual = {"TERM": "xterm-256color", "LANG": "C.UTF-8", "COLORTERM": "truecolor"}
    return Terminal(command, {**fleet.environment(), **usual, **environment}, size)


def records(fleet: Bench, car: str, table: str) -> list[Any]:
    """Give the records of a table with their fields, as the command line tells them."""
    told = fleet(TODAY, "records", car, "--table", table)
    assert told.code == 0
    return [json.loads(line)["values"] for line in told.out.splitlines()]


def on_the_board(screen: Terminal) -> None:
    """Wait until every car is reckoned."""
    screen.until("1 in work, 7 overdue", "the others, 7")


def cursor(screen: Terminal) -> str:
    """Give the first row under a cursor."""
    return next(line for line in screen.lines if line.startswith(" > "))


def open_car(screen: Terminal, name: str, head: str) -> None:
    """Find a car on the board by typing, and open it."""
    screen.press("/")
    screen.until("find")
    screen.type(name)
    screen.until("1 of 8 shown")
    screen.press("enter")
    screen.settle()
    screen.press("enter")
    screen.until(head, "[1 due")


@pytest.mark.long
def test_a_working_day_by_keyboard_alone(fleet: Bench, day: Terminal) -> None:
    on_the_board(day)

    # the car due worst, and why
    day.press("home", "down")
    assert "Dunnard Quayside     steering wheel, lash" in cursor(day)
    day.press("enter")
    day.until("Dunnard Quayside 19", "[1 due")
    day.press("w")
    day.until("Working: steering wheel, lash", "= due at", "result")
    day.press("esc")
    day.until("[1 due")
    day.press("esc")
    day.until("the others, 7")

    # a job of two items with what was found
    open_car(day, "pellworth", "Pellworth Fallowmere 1976")
    day.press("down", "down", "down", "space", "space", "d")
    day.until("Day's work: Pellworth Fallowmere", "1 done [clutch, free play", "2 done")
    day.type("61610\t\t\tgood\t\tgood")  # typed ahead, as one does who knows the form
    day.until("next: clutch, free play due at 67,610 mi")
    day.press("^s")
    day.until("saved: ", "u takes it back", "5 jobs 10")

    # what the dial shows at the door
    day.press("r")
    day.until("Odometer reading: Pellworth Fallowmere")
    day.type("61620")
    day.press("^s")
    day.until("saved: reading 61,620 mi on 2026-11-25", "[6][1][6][2][0]")

    # tread, as one walks round the car
    day.press("t")
    day.until("Tread: Pellworth Fallowmere")
    day.press("=", "tab", *("8", "tab", "tab", "tab") * 4)
    day.press("^s")
    day.until("saved: tread measured")

    # a rotation that these tires allow
    day.press("3")
    day.until("[3 tires]", "side to side yes")
    day.press("down", "down", "down", "down", "enter")
    day.until("Rotation: Pellworth Fallowmere", "moves [side to side")
    day.press("=")
    day.until("[Save]", "lug nuts")
    day.press("^s")
    day.until("saved: ", "to LF")

    # another car comes in
    day.press("q")
    day.until("8 cars")
    day.press("esc")
    on_the_board(day)
    day.press("n")
    day.until("A car taken in")
    day.type("Ellersby Kite 1962")
    day.until("[Save]")
    day.press("^s")
    day.until("Intake: Ellersby Kite 1962", "0 of 19")
    day.press("esc")
    day.until("9 cars")

    # its ignition is converted, and that is taken back
    day.press("^p")
    day.settle()
    day.type("convert")
    day.until("convert: drums to discs")
    day.press("enter")
    day.until("Converted: Ellersby Kite")
    day.type("electronic-ignition")
    day.press("tab", "tab")
    day.type("41000")
    day.until("joins the schedule:")
    day.press("^s")
    day.until("saved: ", "electronic")
    assert records(fleet, "ellersby-kite", "job")
    day.press("u")
    day.until("taken back")
    assert not records(fleet, "ellersby-kite", "job")

    # find, and go home
    day.press("/")
    day.type("timing belt")
    day.until("Brantholm Cobblegate")
    day.press("esc")
    day.press("q")
    assert day.ended() == 0


def morning(screen: Terminal) -> None:
    """Find the car due worst, read why, take down what its dial shows, and end."""
    screen.until("in work, 1", "the others, 7", "overdue")
    screen.press("home", "down", "enter")
    screen.until("Dunnard Quayside", "steering wheel")
    screen.press("w")
    screen.until("Working: steering wheel", "due at")
    screen.press("esc")
    screen.until("[1 due")
    screen.press("r")
    screen.until("Odometer reading")
    screen.type("1850")
    screen.press("^s")
    screen.until("saved: reading 1,850 mi")
    screen.press("q")
    screen.until("the others, 7")
    screen.press("q")
    assert screen.ended() == 0


def test_the_morning_by_keyboard_alone(fleet: Bench, day: Terminal) -> None:
    """What of the working day is gone through each time; the whole of it is `long`."""
    morning(day)

    assert records(fleet, "dunnard", "reading")[-1]["figure"] == 1850


@pytest.mark.long
@pytest.mark.parametrize(
    ("environment", "colors"),
    [
        ({}, "all"),
        ({"NO_COLOR": "1"}, "none"),
        ({"TERM": "xterm-16color", "COLORTERM": ""}, "few"),
        ({"TERM": "vt100", "COLORTERM": ""}, "none"),
    ],
    ids=["true color", "NO_COLOR", "16 colors", "vt100"],
)
def test_the_morning_with_few_colors_or_none(
    fleet: Bench, environment: Mapping[str, str], colors: str
) -> None:
    with opened(fleet, (80, 24), **environment) as screen:
        morning(screen)

        assert bool(COLOR.search(screen.written)) is (colors != "none")
        assert bool(TRUE_COLOR.search(screen.written)) is (colors == "all")


@pytest.mark.long
def test_the_morning_on_the_least_terminal(fleet: Bench) -> None:
    with opened(fleet, size=(60, 20)) as screen:
        morning(screen)


@pytest.mark.long
def test_the_morning_by_mouse_alone(fleet: Bench, day: Terminal) -> None:
    on_the_board(day)
    day.click("Dunnard Quayside")
    day.settle()
    day.click("Dunnard Quayside")
    day.until("Dunnard Quayside 1959", "[1 due")
    day.click("w working")
    day.until("Working: steering wheel, lash")
    day.click("^p more")
    day.until("what to do, or which car")
    day.click(" back ")
    day.until("[1 due")
    day.click("3 tires")
    day.until("[3 tires]")
    day.click("1 due")
    day.until("[1 due")
    day.click("r reading")
    day.until("Odometer reading")
    day.type("1850")
    day.click("[Save]")
    day.until("saved: reading 1,850 mi")
    assert records(fleet, "dunnard", "reading")[-1]["figure"] == 1850


@pytest.mark.long
def test_the_rules_are_edited_in_an_editor_and_read_anew(fleet: Bench, tmp_path: Path) -> None:
    editor = tmp_path / "editor.sh"
    editor.write_text('#!/bin/sh\nprintf \'[[rule]]\\nid = "oil"\\ntolerance = "ten"\\n\' > "$1"\n')
    editor.chmod(0o755)
    with opened(fleet, (120, 36), EDITOR=str(editor)) as screen:
        on_the_board(screen)
        screen.press("^p")
        screen.until("what to do, or which car")
        screen.type("rules")
        screen.settle()
        screen.press("enter")
        screen.until("Rules 14")
        screen.press("e")

        screen.until("the shipped rules alone are used", 'tolerance: "ten" is not a number')


@pytest.mark.long
def test_a_terminal_killed_in_a_half_filled_form_leaves_the_garage_as_it_was(
    fleet: Bench, day: Terminal
) -> None:
    files = sorted(each for each in fleet.garage.rglob("*.json"))
    on_the_board(day)
    before = [each.read_bytes() for each in files]
    day.press("r")
    day.until("Odometer reading")
    day.type("61650")

    day.kill()

    assert [each.read_bytes() for each in files] == before
    assert fleet(TODAY, "check").code == 0
