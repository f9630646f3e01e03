"""The odometer in words: legs of a distance, events, answers. All cars are invented."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from castlenut.domain.dial import Dial, DialEvent, FactorFrom, Replaced, RolledOver
from castlenut.domain.ids import RecordId
from castlenut.domain.legs import Leg
from castlenut.domain.pieces import Begins
from castlenut.domain.settling import How, Outcome
from castlenut.domain.units import Distance, Shown, Unit
from castlenut.words import settling
from castlenut.words.odometer import dial_words, event_words, leg_words

DIAL = Dial(unit=Unit.MI, digits=5, tenths=True)
ON = date(2026, 2, 1)


def leg(
    begin: str | None,
    end: str | None,
    distance: float,
    *,
    factor: str = "1",
    begins: Begins | None = None,
) -> Leg:
    return Leg(
        begin=None if begin is None else Shown(Decimal(begin)),
        end=None if end is None else Shown(Decimal(end)),
        factor=Fraction(factor),
        distance=Distance(distance),
        begins=begins,
        since=None if begins is None else ON,
    )


@pytest.mark.parametrize(
    ("way", "words"),
    [
        (leg("41000", "41430.5", 430.5), "430.5 (41,000.0 to 41,430.5)"),
        (
            leg("0", "430", 430, begins=Begins.ROLLED_OVER),
            "430.0 (0.0 to 430.0, past the end of the dial)",
        ),
        (
            leg("12", "480", 468, begins=Begins.REPLACED),
            "468.0 (12.0 to 480.0, on the new dial of 2026-02-01)",
        ),
        (
            leg("930", "1030", 104, factor="1.04", begins=Begins.FACTOR),
            "104.0 (930.0 to 1,030.0, x 1.04, from 2026-02-01 on)",
        ),
        (leg(None, None, 266), "266.0 (an estimate: the old dial's end is not known)"),
    ],
)
def test_a_leg_says_its_figures_and_why_it_begins(way: Leg, words: str) -> None:
    assert leg_words(way, DIAL) == words


@pytest.mark.parametrize(
    ("event", "words"),
    [
        (RolledOver(record=RecordId("r"), on=ON), "rolled over"),
        (
            Replaced(record=RecordId("r"), on=ON, start=Decimal(12), last=Decimal(99310)),
            "new dial from 12.0, the old one ended at 99,310.0",
        ),
        (
            Replaced(record=RecordId("r"), on=ON, start=Decimal(0), last=None),
            "new dial from 0.0, the old one's end not known",
        ),
        (
            FactorFrom(record=RecordId("r"), on=ON, factor=Fraction("1.041")),
            "each mi shown stands for 1.041 true",
        ),
    ],
)
def test_what_happened_to_a_dial(event: DialEvent, words: str) -> None:
    assert event_words(event, DIAL) == words


def test_a_dial_says_its_digits_and_tenths() -> None:
    assert dial_words(DIAL) == "five-digit dial, mi, with tenths"


@pytest.mark.parametrize(
    ("tried", "words"),
    [
        (
            Outcome(
                how=How.CORRECTED,
                value="58723",
                distance=Distance(58_723.0),
                run=Distance(123.0),
            ),
            "correct to 58723: 123.0 mi more, 58,723.0 true",
        ),
        (
            Outcome(how=How.CORRECTED, fault="no figure is given"),
            "correct to ...: no figure is given",
        ),
        (
            Outcome(how=How.CORRECTED, value="58273", on=ON, distance=Distance(58_273.0)),
            "correct to 58273 on 2026-02-01: 58,273.0 mi true",
        ),
        (Outcome(how=How.STRUCK), "strike it out: left out for good"),
        (
            Outcome(how=How.OTHER_UNIT, value="km"),
            "read in km: left out all the same: it does not fit so either",
        ),
        (
            Outcome(
                how=How.REPLACED,
                value="0",
                distance=Distance(44_610.0),
                run=Distance(490.0),
                is_estimated=True,
            ),
            "dial replaced, new one from 0: about 490.0 mi more, 44,610.0 true",
        ),
        (
            Outcome(how=How.RIGHT, distance=Distance(61_960.0), left_out=2),
            "it is right: 61,960.0 mi true; 2 others left out",
        ),
        (
            Outcome(how=How.ROLLED_OVER, fault="it is not lower"),
            "it rolled over: it is not lower",
        ),
    ],
)
def test_an_answer_says_what_it_would_give(tried: Outcome, words: str) -> None:
    assert f"{settling.name(tried)}: {settling.outcome(tried, DIAL)}" == words


def test_an_answer_stands_with_the_command_that_says_it() -> None:
    corrected = Outcome(how=How.CORRECTED, value="58273", on=ON)

    assert settling.command(corrected, "millrace", "5f2c61d0") == (
        "castlenut settle millrace 5f2c61d0 correct 58273 --on 2026-02-01"
    )
    assert settling.command(Outcome(how=How.CORRECTED), "millrace", "5f2c61d0").endswith(
        " correct FIGURE"
    )
