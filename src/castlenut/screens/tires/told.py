"""Pages of sentences about tires: every reason of a pattern, and how good a plan is."""

from collections.abc import Callable, Iterator, Sequence
from typing import ClassVar

from castlenut.domain.tires.outlook import Outlook
from castlenut.domain.tires.today import TiresToday
from castlenut.garage.garage import Garage
from castlenut.screens.text_page import TextPage
from castlenut.screens.tires.choices import Choice
from castlenut.screens.tires.reason_lines import paragraphs
from castlenut.words import amiss, plans, reasons
from castlenut.words.cautions import DEFERRING_LINE


class ReasonsPage(TextPage):
    """Everything against a pattern with what lifts it, and what else there is to these tires."""

    TITLE_WORDS: ClassVar[str] = "reasons"
    ANSWERS: ClassVar[str] = "What stands against this pattern, and what would lift it?"


class BoundPage(TextPage):
    """The whole plan, the bound that none can pass, and what it is held against."""

    TITLE_WORDS: ClassVar[str] = "how good the plan is"
    ANSWERS: ClassVar[str] = "How long does the set last, and how near is that to the best?"


def reasons_page(
    garage: Garage, tires: TiresToday, choice: Choice, *, depth_unit: str
) -> ReasonsPage:
    """Give the page with all that is to be said of a pattern on this car."""
    return ReasonsPage(
        garage,
        head=f"{choice.name}: {tires.car.vehicle.description}",
        right=choice.answer.value,
        told=tuple(_reasons(tires, choice, depth_unit)),
    )


def _reasons(tires: TiresToday, choice: Choice, depth_unit: str) -> Iterator[str]:
    yield from paragraphs(choice, tires, depth_unit=depth_unit)
    yield from _part(amiss.look_at(each, depth_unit=depth_unit) for each in tires.look_at)
    if tires.factor_offered is not None:
        yield from _part([amiss.factor(tires.factor_offered)])
    yield from _part(reasons.set_aside(each) for each in tires.wear.set_aside)
    yield ""
    yield DEFERRING_LINE


def _part(sentences: Iterator[str] | Sequence[str]) -> Iterator[str]:
    told = list(sentences)
    if told:
        yield ""
        yield from told


def bound_page(
    garage: Garage,
    tires: TiresToday,
    outlook: Outlook,
    *,
    dial_at: Callable[[float], str],
    depth_unit: str,
) -> BoundPage:
    """Give the page with the whole plan and its proof."""
    told = (
        *plans.plan_lines(outlook, tires, dial_at=dial_at, depth_unit=depth_unit),
        "",
        plans.rate_words(outlook.rates, tires),
        *plans.wear_notes(tires.wear),
        *(reasons.set_aside(each) for each in tires.wear.set_aside),
    )
    proof = "proved" if outlook.prospect.plan.is_proved else "not proved"
    return BoundPage(
        garage, head=f"The plan: {tires.car.vehicle.description}", right=proof, told=told
    )
