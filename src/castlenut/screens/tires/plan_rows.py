"""What the page of a plan shows: a row a rotation, and the tires' lanes over distance."""

from collections.abc import Callable, Iterator, Mapping

from castlenut.domain.place import Spot
from castlenut.domain.tires.outlook import Outlook
from castlenut.domain.tires.prospect import Stint
from castlenut.domain.tires.today import TiresToday
from castlenut.screens.widgets.columns import Column, Line
from castlenut.screens.widgets.timeline import Lane
from castlenut.words.depth import depth
from castlenut.words.plans import depths_after, moves_of, stint_words

_DEPTH = 5  # cells of one depth in the last column


def columns_of(outlook: Outlook) -> tuple[Column, ...]:
    """Give the columns: when, what moves, and the depths place by place."""
    heads = "".join(f"{spot.value:<{_DEPTH}}" for spot in outlook.prospect.stints[0].places)
    return (
        Column(head="at", width=8, fits=True),
        Column(head="then", width=20, grow=1),
        Column(head=heads.rstrip(), width=len(heads.rstrip()) + 2, least=78),
    )


def rows_of(
    outlook: Outlook,
    tires: TiresToday,
    *,
    dial_at: Callable[[float], str],
    depth_unit: str,
) -> Iterator[Line]:
    """Give a row a stint, and one for the end."""
    stints, unit = outlook.prospect.stints, tires.unit.value
    for number, stint in enumerate(stints):
        deep = depths_after(tires, outlook, until=stint.since)
        when = "now" if stint.since == 0 else dial_at(stint.since).removesuffix(f" {unit}")
        yield Line(
            key=str(number),
            cells=(
                when,
                stint_words(stint, stood_before(outlook, number)),
                _depths(deep, stint, depth_unit),
            ),
            color="text" if stint.moves else "quiet",
            name=when,
        )
    deep = depths_after(tires, outlook, until=stints[-1].until)
    worn = " and ".join(outlook.prospect.ends_with)
    yield Line(
        key="end",
        cells=(
            dial_at(stints[-1].until).removesuffix(f" {unit}"),
            f"{worn} at the limit: a new set",
            _depths(deep, stints[-1], depth_unit),
        ),
        color="overdue",
        name="end",
    )


def stood_before(outlook: Outlook, number: int) -> Mapping[Spot, str]:
    """Give who stood where before a stint began; before the first, each at its own place."""
    stints = outlook.prospect.stints
    if number:
        return stints[number - 1].places
    return {spot: spot.value for spot in stints[0].places}


def moves_at(outlook: Outlook, number: int) -> Mapping[Spot, Spot]:
    """Give where the wheel of each place goes at the beginning of a stint."""
    moves = moves_of(stood_before(outlook, number), outlook.prospect.stints[number].places)
    return {spot: moves[spot] for spot in Spot if spot in moves}


def lanes_of(outlook: Outlook, tires: TiresToday, *, depth_unit: str) -> tuple[Lane, ...]:
    """Give a lane a tire, named by the place where it stands now, with its depth at the end."""
    stints = outlook.prospect.stints
    deep = depths_after(tires, outlook, until=stints[-1].until)
    return tuple(
        Lane(
            label=tire,
            places=tuple(_where(stint, tire) for stint in stints),
            end=depth(deep[tire], depth_unit),
        )
        for tire in stood_before(outlook, 0).values()
    )


def _where(stint: Stint, tire: str) -> str:
    return next(spot.value for spot, each in stint.places.items() if each == tire)


def _depths(deep: Mapping[str, float], stint: Stint, depth_unit: str) -> str:
    told = (f"{depth(deep[tire], depth_unit):<{_DEPTH}}" for tire in stint.places.values())
    return "".join(told).rstrip()
