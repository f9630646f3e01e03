"""The car's own figures that a check is held against: those entered, and those that are missing."""

from collections.abc import Iterator

from castlenut.domain.car import OwnFigure
from castlenut.domain.figures import names_spec
from castlenut.domain.place import touches
from castlenut.domain.rules.rule import Act
from castlenut.domain.sides import Subject
from castlenut.domain.working import Specified


def specified(this: Subject) -> tuple[tuple[Specified, ...], tuple[str, ...]]:
    """Give the figures entered for an item's check, and the names of those it lacks.

    A figure serves a spec if its name holds all its words (intake valve clearance). What is renewed
    is told with the figures that name its kind, too: the grade and amount of an oil.
    """
    if not this.rule.specs and not _is_renewed(this):
        return (), ()
    here = [figure for figure in this.ground.car.figures if touches(figure.place, this.at)]
    found: dict[str, OwnFigure] = {}
    missing: list[str] = []
    for spec in this.rule.specs:
        serving = [figure for figure in here if names_spec(figure.name, spec)]
        found.update({figure.record: figure for figure in serving})
        if not serving:
            missing.append(spec)
    found.update({figure.record: figure for figure in _of_the_kind(here, this)})
    return tuple(_specified(each) for each in found.values()), tuple(missing)


def _is_renewed(this: Subject) -> bool:
    intake = this.rule.intake
    return intake is not None and intake.act is Act.RENEW


def _of_the_kind(here: list[OwnFigure], this: Subject) -> Iterator[OwnFigure]:
    if _is_renewed(this):
        yield from (figure for figure in here if names_spec(figure.name, this.component.kind))


def _specified(figure: OwnFigure) -> Specified:
    return Specified(
        name=figure.name,
        value=figure.value,
        unit=figure.unit,
        record=figure.record,
        place=figure.place,
        source=figure.source,
    )
