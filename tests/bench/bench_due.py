"""What is due, as the installed command answers it, and the forecast of one car."""

import time
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from castlenut.domain.dial import Dial, Reading
from castlenut.domain.ids import RecordId
from castlenut.domain.odometer import odometer
from castlenut.domain.units import Distance, Unit
from castlenut.domain.use.forecast import Owner, forecast
from tests.bench import big_garage, garages
from tests.bench.measuring import (
    PASS,
    Bench,
    Measure,
    cases,
    castlenut,
    cpu_of,
    judge,
    main,
    peak_of,
    python,
)

TODAY = date(2026, 11, 25)


def _sample(folder: Path) -> tuple[Measure, Measure]:
    made = garages.sample(folder)
    return cpu_of(castlenut(made.path, "due", "--json"), folder), cpu_of(PASS, folder)


def _usual(folder: Path) -> tuple[Measure, Measure]:
    made = garages.usual(folder)
    return cpu_of(castlenut(made, "due", "--json"), folder), cpu_of(PASS, folder)


def _why(folder: Path) -> tuple[Measure, Measure]:
    made = garages.sample(folder)
    return cpu_of(castlenut(made.path, "why", made.car, made.item), folder), cpu_of(PASS, folder)


def _big(folder: Path) -> tuple[Measure, Measure]:
    made = garages.big(folder)
    return cpu_of(castlenut(made, "due", "--json"), folder), cpu_of(PASS, folder)


def _one_of_many(folder: Path) -> tuple[Measure, Measure]:
    """The same car alone in its garage and among 300: nothing of another car may be read."""
    many = folder / "many"
    slugs = big_garage.write_garage(many, cars=big_garage.BIG)
    alone = folder / "alone"
    big_garage.write_garage(alone, cars=1)
    return (
        cpu_of(castlenut(many, "due", slugs[0], "--json"), folder),
        cpu_of(castlenut(alone, "due", slugs[0], "--json"), folder),
    )


def _reading(folder: Path) -> tuple[Measure, Measure]:
    """One that fits: what the dial showed last. An odd one costs the search for its cause too."""
    made = garages.sample(folder)
    command = castlenut(made.path, "reading", made.car, made.figure)
    return cpu_of(command, folder), cpu_of(PASS, folder)


def _forecast(folder: Path) -> tuple[Measure, Measure]:
    """Thirty readings of one car, and when each of 40 distances is reached."""
    dial = Dial(unit=Unit.MI, digits=6, tenths=False)
    readings = [
        Reading(
            record=RecordId(f"reading-{number:02}"),
            on=TODAY - timedelta(days=30 * (30 - number)),
            figure=Decimal(40_000 + 310 * number + 37 * (number % 4)),
            unit=Unit.MI,
        )
        for number in range(30)
    ]
    history = odometer(dial, readings, ())

    def asked() -> float:
        begun = time.process_time()
        use = forecast(history, today=TODAY, owner=Owner())
        for item in range(40):
            use.reached(Distance(49_500.0 + 400 * item))
        return time.process_time() - begun

    return asked, cpu_of(PASS, folder)


def _cars(number: int) -> Callable[[Path], Measure]:
    def sides(folder: Path) -> Measure:
        made = folder / f"cars-{number}"
        big_garage.write_garage(made, cars=number)
        return cpu_of(castlenut(made, "due", "--json"), folder)

    return sides


def _records(number: int) -> Callable[[Path], Measure]:
    def sides(folder: Path) -> Measure:
        made = folder / f"records-{number}"
        big_garage.write_garage(made, cars=10, records=number)
        return cpu_of(castlenut(made, "due", "--json"), folder)

    return sides


def _both(
    one: Callable[[Path], Measure], other: Callable[[Path], Measure]
) -> Callable[[Path], tuple[Measure, Measure]]:
    return lambda folder: (one(folder), other(folder))


def _against_pass(
    what: str,
    goal: float,
    fail: float,
    sides: Callable[[Path], tuple[Measure, Measure]],
    *,
    is_long: bool = False,
    raised: str = "",
) -> Bench:
    return Bench(
        what=what,
        against="pass",
        clock="cpu",
        goal=goal,
        fail=fail,
        sides=sides,
        is_long=is_long,
        raised=raised,
    )


def _growth(what: str, half: str, sides: Callable[[Path], tuple[Measure, Measure]]) -> Bench:
    return Bench(
        what=f"`due --json`, {what}",
        against=f"the same, {half}",
        clock="cpu",
        goal=2.1,
        fail=2.3,
        sides=sides,
        is_long=True,
    )


BENCHES = (
    _against_pass(
        "`due --json`, sample", 14, 54, _sample,
        raised="from 20, drawn for 320 items; the fleet has 870, and 137 rules are read for them;"
        " measured 38 to 43, to 48 with seven others at work on the two cores",
    ),
    _against_pass(
        "`due --json`, usual", 40, 100, _usual, is_long=True,
        raised="from 70; 80 held until the forecast came in, three tenths of it now; measured 64"
        " since at rest, 92 to 100 with others at work",
    ),
    _against_pass("`why CAR ITEM`, sample", 8, 11.5, _why),
    _against_pass(
        "`due --json`, big", 200, 500, _big, is_long=True,
        raised="from 350; measured 300 to 485, the same half millisecond for each of 12,600 items",
    ),
    Bench(
        what="`due CAR --json` among 300 cars", against="the same car alone", clock="cpu",
        goal=1.05, fail=1.3, sides=_one_of_many,
    ),
    _against_pass("forecast of one car, 30 readings, 40 items", 0.8, 1.3, _forecast),
    _against_pass("`reading CAR N`, sample", 12, 13.5, _reading),
    _growth("150 cars", "75 cars", _both(_cars(150), _cars(75))),
    _growth("300 cars", "150 cars", _both(_cars(300), _cars(150))),
    _growth("600 records a car", "300 records a car", _both(_records(600), _records(300))),
    _growth("1,200 records a car", "600 records a car", _both(_records(1200), _records(600))),
)  # fmt: skip


@pytest.mark.parametrize("bench", cases(BENCHES))
def test_due(bench: Bench, tmp_path: Path) -> None:
    judge(bench, tmp_path)


@pytest.mark.bench
@pytest.mark.long
def test_due_of_the_big_garage_holds_little_memory(tmp_path: Path) -> None:
    """At most three times what the screens need before they show anything."""
    made = garages.big(tmp_path)

    peak = peak_of(castlenut(made, "due", "--json"), tmp_path)
    screens = peak_of(python("from textual.app import App"), tmp_path)

    print(f"\n`due --json`, big: peak {peak / screens:.2f} of an import of textual.app")
    assert peak <= 3 * screens


if __name__ == "__main__":
    main(BENCHES)
