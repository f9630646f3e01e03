"""Due sheet, handover book and job card of one small invented car, word for word."""

from decimal import Decimal

from castlenut.domain.stay import against_rolling
from castlenut.paper.due_sheet import Money, due_sheet
from castlenut.paper.handover_book import handover_book
from castlenut.paper.head import head
from castlenut.paper.job_card import job_card
from castlenut.paper.paper import Paper
from castlenut.paper.text import lines
from castlenut.words.cautions import DEFERRING_LINE
from tests.builders import book, car, part, reading, today

READINGS = (reading("2026-10-26", 61300), reading("2026-11-25", 61600))
BELT = part("timing belt", on="2021-11-20", at=20000)
PADS = part("brake pad", "LF", on="2026-11-01", at=61400, stamped={"new": "10 mm"})
TODAY = today(car(BELT, PADS, readings=READINGS), book(), "2026-11-25")
HEAD = head(TODAY, against_rolling(TODAY, book()), ("Invented Yard", "", "555-0100"))

# 60 months from 20 November 2021 were over five days ago; the pads are bedded in at once
FIRST = """\
Invented Yard, 555-0100
date: 2026-11-25  year: 1970  dial: 61,600 mi

** not ready: 2 things stand against handing it over **
   ** point at 0: new linings, bed in, LF **
   ** overdue: timing belt, renew **

"""


def folded(paper: Paper) -> str:
    return "\n".join(lines(paper))


def before_signing(paper: Paper) -> str:
    return folded(paper).partition(f"\n{paper.signatures[0]}")[0]


def test_the_due_sheet_tells_what_is_due_its_hours_and_what_they_cost() -> None:
    """Half an hour and four hours at 60: 30 and 240; road, hood, belts, timing: 2.05 h."""
    paper = due_sheet(
        TODAY, HEAD, (), book=book(), money=Money(rate=Decimal(60), currency="thalers")
    )

    assert before_signing(paper) == (
        "DUE SHEET: invented car\n"
        + FIRST
        + """\
OVERDUE
  - new linings, bed in, LF
      due at 61,400 mi or on 2026-11-01, 200 mi and 24 days over
      0.5 h, 30.00 thalers
  - timing belt, renew
      due at 70,000 mi or on 2026-11-20, 5 days over
      4 h, 240.00 thalers

DUE NOW
  Nothing is due now.

IN ALL
  - what is or may be due: work 4.5 h, opening and closing 2.05 h, in all
    6.55 h
      393.00 thalers, parts not counted
"""
    )


def test_without_a_rate_no_money_is_shown() -> None:
    paper = due_sheet(TODAY, HEAD, (), book=book(), money=Money(rate=None, currency="thalers"))

    assert "thalers" not in folded(paper)
    assert "      4 h\n" in folded(paper)


def test_the_handover_book_tells_what_is_fitted_its_first_points_and_what_is_due_first() -> None:
    """The pads are measured 1,000 miles after they were fitted, or after six months."""
    paper = handover_book(TODAY, HEAD, book=book(), feed=None)

    assert before_signing(paper) == (
        "HANDOVER BOOK: invented car\n"
        + FIRST
        + """\
WHAT IS FITTED
  - brake pad, LF
      fitted on 2026-11-01 at 61,400 mi
      stamped new 10 mm
  - timing belt
      fitted on 2021-11-20 at 20,000 mi

FIRST POINTS AFTER THE WORK
  - new linings, bed in, LF
      !! overdue
      due at 61,400 mi or on 2026-11-01
      by the lining maker's sheet; else 10 stops 30 to 10 mph 30 s apart,
      cool, 5 stops 50 to 10 mph, cool
  - brake pads, measure, LF
      due at 62,400 mi or on 2027-05-01
      expected 2027-02-26 (2027-01-15 to 2027-05-01)

WHAT IS DUE FIRST
  - timing belt, renew
      !! overdue
      due at 70,000 mi or on 2026-11-20

BEFORE IT IS LAID UP
  - washed, dry, drains clear
  - oil and filter new
  - coolant tested
  - fuel full and stabilized, or drained
  - tires to placard or on blocks
  - battery off or on a maintainer
  - parking brake off, wheels chocked
  - intakes and tail blocked and labeled
  - brake fluid date noted
  - seals greased
  - a cover that breathes
"""
    )


def test_the_job_card_numbers_its_points_in_the_order_in_which_the_car_is_opened() -> None:
    """On the road first, then a wheel off, then the timing cover."""
    paper = job_card(TODAY, HEAD, TODAY.items, book=book())

    assert before_signing(paper) == (
        "JOB CARD: invented car\n"
        + FIRST
        + """\
OPENED FOR IT
  - road test
  - hood up, covers on
  - on lift or four stands
  - wheel off, LF
  - drive belts off
  - timing cover off

POINTS
 1  new linings, bed in, LF
      by the lining maker's sheet; else 10 stops 30 to 10 mph 30 s apart,
      cool, 5 stops 50 to 10 mph, cool; not checked yet
      LF done ____________
 2  brake pads, measure, LF
      LF: pad thickness; not measured; at least 0.125 in is allowed
      LF pad thickness (in) ____________
      LF done ____________
 3  timing belt, renew
      an engine of which it is not known counts as one that a broken belt
      wrecks; not checked yet
      done ____________

FOUND BESIDES
      what, and where ______________________________________________________
"""
    )


def test_every_paper_ends_with_its_cautions_and_the_deferring_line() -> None:
    card = job_card(TODAY, HEAD, TODAY.items, book=book())

    told = " ".join(folded(card).split())

    assert "CAUTION: Old friction material may hold asbestos" in told
    assert told.endswith(DEFERRING_LINE)


def test_a_book_with_a_public_address_has_it_and_its_code() -> None:
    address = "webcal://dates.invalid/abc.ics"

    told = lines(handover_book(TODAY, HEAD, book=book(), feed=address))

    assert address in told
    assert any("█▀▀▀▀▀█" in line for line in told)
