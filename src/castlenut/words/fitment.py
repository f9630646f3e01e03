"""Ways to shoe a car side by side: rows of a table, sentences under it, and the answer as JSON."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from castlenut.domain.frozen import dataclass
from castlenut.domain.tires.axle import Axle
from castlenut.domain.tires.comparison import USUAL_NEW_MM, Way
from castlenut.domain.tires.fitment import AxleCompared, AxleFitment, Compared
from castlenut.domain.tires.reasons import Code
from castlenut.domain.tires.rim import Trust
from castlenut.domain.tires.room import LEAST_LEFT_MM
from castlenut.domain.tires.rooms import LeftHere, tightest
from castlenut.domain.units import MM_PER_IN, Unit
from castlenut.words import figures, patterns, rooms, sizes

if TYPE_CHECKING:
    from castlenut.domain.tires.on_a_car import OnACar
    from castlenut.words.answers import Answer

SHOWN_SPEED = {Unit.MI: 60, Unit.KM: 100}
"""What the speedometer shows where its error is told, in the unit of the dial."""

BEST = "<"
UNKNOWN = "-"
_SPEED = {Unit.MI: "mph", Unit.KM: "km/h"}
_AXLES = (Axle.FRONT, Axle.REAR)
_ASSUMED = {
    Code.RIM_WIDTH: "rim width",
    Code.OFFSET: "offset",
    Code.LOAD: "load index",
    Code.SPEED: "speed symbol",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of the comparison. `best` are the columns that are better than another in it."""

    label: str
    cells: tuple[str, ...]
    best: frozenset[int] = frozenset()


def rows(ways: Sequence[Way], *, unit: Unit, with_band: bool = True) -> tuple[Row, ...]:
    """Give the rows, the first way being the one that the others are held against.

    Without a band the middle of a life is told: where no car is there to be measured.
    """
    shown = SHOWN_SPEED[unit]
    found = [
        *_by_axle("size", ways, lambda axle, _: axle.size.designation),
        *_by_axle("wheel", ways, lambda axle, _: _wheel(axle)),
        *_by_axle("diameter", ways, lambda _, to: _length(to.diameter_mm)),
        Row(
            label=f"speedometer at {shown}",
            cells=tuple(_true_speed(each.compared.factor, shown) for each in ways),
        ),
        Row(
            label="odometer factor",
            cells=tuple(
                _or_unknown(each.compared.factor, lambda factor: figures.decimals(factor, 3))
                for each in ways
            ),
        ),
        *_by_axle("width on rim", ways, lambda _, to: _width(to.section_width_mm)),
        *_by_axle("rims it goes on", ways, lambda _, to: _rims(to)),
        *_room_rows("room inside", ways, is_inner=True),
        *_room_rows("room outside", ways, is_inner=False),
        _compared(
            "patterns left",
            ways,
            lambda way: float(way.compared.patterns_left),
            lambda way: f"{way.compared.patterns_left} of {len(way.compared.patterns)}",
            is_more_better=True,
        ),
        _compared(
            f"set life, {unit.value}",
            ways,
            lambda way: way.compared.life,
            _life_band if with_band else _life,
            is_more_better=True,
        ),
        _compared(
            f"tires per 100,000 {unit.value}",
            ways,
            lambda way: way.compared.tires_bought,
            lambda way: figures.decimals(way.compared.tires_bought or 0.0, 1),
            is_more_better=False,
        ),
    ]
    if any(way.compared.money is not None for way in ways):
        found.append(
            _compared(
                f"money per 100,000 {unit.value}",
                ways,
                lambda way: None if way.compared.money is None else float(way.compared.money),
                lambda way: "" if way.compared.money is None else figures.money(way.compared.money),
                is_more_better=False,
            )
        )
    return tuple(row for row in found if any(cell != UNKNOWN for cell in row.cells))


def _by_axle(
    label: str, ways: Sequence[Way], told: Callable[[AxleFitment, AxleCompared], str]
) -> list[Row]:
    """Give a row, or one for each axle where any way is told otherwise at the rear."""
    front = tuple(told(each.compared.fitment.front, each.compared.front) for each in ways)
    rear = tuple(told(each.compared.fitment.rear, each.compared.rear) for each in ways)
    if front == rear:
        return [Row(label=label, cells=front)]
    return [
        Row(label=f"{label}, {axle.value}", cells=cells)
        for axle, cells in zip(_AXLES, (front, rear), strict=True)
    ]


def _room_rows(label: str, ways: Sequence[Way], *, is_inner: bool) -> list[Row]:
    """Give what is left of measured room, or where none was measured how it changes."""
    front = tuple(_room(each.compared.front, each.front_left, is_inner) for each in ways)
    rear = tuple(_room(each.compared.rear, each.rear_left, is_inner) for each in ways)
    if front == rear:
        return [Row(label=label, cells=front)]
    return [Row(label=f"{label}, front", cells=front), Row(label=f"{label}, rear", cells=rear)]


def _room(to: AxleCompared, left: Sequence[LeftHere], is_inner: bool) -> str:  # noqa: FBT001
    least = tightest(left)
    if least is None:
        return _nearer(to, is_inner=is_inner)
    room = least[0] if is_inner else least[1]
    if room is None:
        return _nearer(to, is_inner=is_inner)
    tight = " !" if room < LEAST_LEFT_MM else ""
    return f"{figures.decimals(room, 1)} mm left{tight}"


def _compared(
    label: str,
    ways: Sequence[Way],
    figure: Callable[[Way], float | None],
    told: Callable[[Way], str],
    *,
    is_more_better: bool,
) -> Row:
    known = [value for way in ways if (value := figure(way)) is not None]
    best = max(known, default=0.0) if is_more_better else min(known, default=0.0)
    differs = bool(known) and max(known) > min(known) * (1 + 1e-9)
    return Row(
        label=label,
        cells=tuple(UNKNOWN if figure(way) is None else told(way) for way in ways),
        best=frozenset(
            number for number, way in enumerate(ways) if differs and figure(way) == best
        ),
    )


def _or_unknown(value: float | None, told: Callable[[float], str]) -> str:
    return UNKNOWN if value is None else told(value)


def _wheel(axle: AxleFitment) -> str:
    rim = None if axle.rim_width_in is None else f"{axle.rim_width_in:g} in"
    offset = None if axle.offset_mm is None else f"offset {axle.offset_mm:g}"
    spacer = f"spacer {axle.spacer_mm:g}" if axle.spacer_mm else None
    return ", ".join(part for part in (rim, offset, spacer) if part) or UNKNOWN


def _length(length_mm: float | None) -> str:
    return _or_unknown(length_mm, figures.length)


def _width(width_mm: float | None) -> str:
    return _or_unknown(width_mm, lambda width: f"{figures.decimals(width)} mm")


def _true_speed(factor: float | None, shown: int) -> str:
    if factor is None:
        return UNKNOWN
    percent = figures.decimals(100 * (factor - 1), 1)
    sign = "+" if factor > 1 and percent != "0.0" else ""
    return f"{figures.decimals(factor * shown, 1)} ({sign}{percent} %)"


def _rims(to: AxleCompared) -> str:
    if to.rims is None:
        return UNKNOWN
    outside = " !" if to.is_in_range is False else ""
    return f"{to.rims.least_in:g} to {to.rims.most_in:g} in{outside}"


def _nearer(to: AxleCompared, *, is_inner: bool) -> str:
    if to.change is None:
        return UNKNOWN
    change = to.change.inner_mm if is_inner else to.change.outer_mm
    told = figures.decimals(abs(change), 1)
    if told == "0.0":
        return "as it is"
    return f"{told} mm {'less' if change > 0 else 'more'}"


def _life(way: Way) -> str:
    return f"about {figures.to_nearest(way.compared.life or 0.0, 1000)}"


def _life_band(way: Way) -> str:
    if way.life_band is None:
        return _life(way)
    first, last = way.life_band
    return f"{figures.to_nearest(first, 1000)}-{figures.to_nearest(last, 1000)}"


def sentences(ways: Sequence[Way]) -> Iterator[str]:
    """Say of each way which patterns are left and why the others are not, and what to mind."""
    for way in ways:
        lead = f"{way.name}: "
        against = patterns.one_a_code(
            reason for each in way.compared.patterns for reason in each.reasons
        )
        yield f"{lead}patterns left {patterns.count_left(way.compared.patterns)}"
        for sentence in against if not _all_roads_open(way.compared) else ():
            yield f"{lead}{sentence}"
        yield from (f"{lead}{note}" for note in (*way_notes(way), *rooms.tight(way)))


def _all_roads_open(compared: Compared) -> bool:
    """Tell whether nothing but the missing spare stands against any pattern."""
    return all(reason.code is Code.PLACE for each in compared.patterns for reason in each.reasons)


def way_notes(way: Way) -> Iterator[str]:
    """Say of a way what its sizes leave open, and how far their rim range is known."""
    fitment = way.compared.fitment
    told: dict[str, None] = {}
    for axle, to in ((fitment.front, way.compared.front), (fitment.rear, way.compared.rear)):
        name = axle.size.designation
        for note in sizes.notes(axle.size, rim_width_in=axle.rim_width_in):
            told.setdefault(f"{name}: {note}")
        if to.rims is not None and to.rims.trust is not Trust.PUBLISHED and to.is_in_range:
            told.setdefault(f"{name}: rims {to.rims.trust.value}.")
    yield from told
    if fitment.front.spacer_mm or fitment.rear.spacer_mm:
        yield f"{rooms.SPACER_ON_STUDS[0].upper()}{rooms.SPACER_ON_STUDS[1:]}."


def _axles_of(way: Way) -> tuple[AxleFitment, AxleFitment]:
    return way.compared.fitment.front, way.compared.fitment.rear


def car_notes(found: OnACar) -> Iterator[str]:
    """Say what of a comparison on a car is assumed, and where the present set stands otherwise."""
    tires = found.tires
    if not tires.wear.learned_from:
        yield "Wear by place is the usual one of its drive (from memory): not measured on this car."
    if found.is_new_depth_assumed:
        yield (
            "The new depth of the tires now on is not recorded:"
            f" {USUAL_NEW_MM:g} mm is taken where none is given."
        )
    now_rims = {axle.size.rim_in for axle in _axles_of(found.ways[0])}
    for way in found.ways[1:]:
        for axle in _axles_of(way):
            if axle.size.rim_in not in now_rims and axle.rim_width_in is None:
                yield (
                    f"{way.name}: {axle.size.designation} takes other wheels than are on now: give"
                    " --rim and --offset."
                )
                break
    if tires.exchanges:
        yield (
            "The rear wheels are dual: patterns, life and tires bought are told as for single"
            f" ones; castlenut rotation {tires.car.vehicle.slug} tells which may change places."
        )
        return
    now = found.ways[0].compared.patterns_left
    if now != len(tires.left):
        left = figures.count(len(tires.left), "pattern")
        yield (
            f"The tires now on may do {left} as they are: castlenut rotation"
            f" {tires.car.vehicle.slug} tells why."
        )


def assumed(codes: Sequence[Code]) -> str:
    """Say what is known of neither axle and taken to be alike."""
    names = [_ASSUMED[code] for code in codes]
    listed = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    return f"{listed[0].upper()}{listed[1:]} not given: taken to be alike in front and at the rear."


def way_answer(way: Way, *, unit: Unit) -> dict[str, Answer]:
    """Give one way to shoe a car as JSON."""
    compared, shown = way.compared, SHOWN_SPEED[unit]
    factor = compared.factor
    return {
        "name": way.name,
        "front": _axle_answer(compared.fitment.front, compared.front, way.front_left),
        "rear": _axle_answer(compared.fitment.rear, compared.rear, way.rear_left),
        "directional": compared.fitment.is_directional,
        "factor": figures.to_places(factor, 6),
        "percent": figures.to_places(None if factor is None else 100 * (factor - 1), 4),
        "shown_speed": shown,
        "true_speed": figures.to_places(None if factor is None else factor * shown, 2),
        "speed_unit": _SPEED[unit],
        "patterns": [patterns.pattern_answer(each) for each in compared.patterns],
        "patterns_left": compared.patterns_left,
        "assumed": [_ASSUMED[code] for code in compared.assumed],
        "life": figures.to_places(compared.life, 1),
        "life_band": None
        if way.life_band is None
        else {
            "p10": figures.to_places(way.life_band[0], 1),
            "p90": figures.to_places(way.life_band[1], 1),
        },
        "tires_per_100000": figures.to_places(compared.tires_bought, 2),
        "money_per_100000": None
        if compared.money is None
        else figures.money(compared.money).replace(",", ""),
        "notes": [*way_notes(way), *rooms.tight(way)],
    }


def _axle_answer(
    axle: AxleFitment, to: AxleCompared, left: Sequence[LeftHere]
) -> dict[str, Answer]:
    across = to.diameter_mm
    return {
        "size": axle.size.designation,
        "rim_width_in": axle.rim_width_in,
        "offset_mm": axle.offset_mm,
        "new_depth_mm": figures.to_places(axle.new_depth_mm, 2),
        "spacer_mm": axle.spacer_mm,
        "diameter_mm": figures.to_places(across, 2),
        "diameter_in": figures.to_places(None if across is None else across / MM_PER_IN, 2),
        "section_width_mm": figures.to_places(to.section_width_mm, 2),
        "rims": None if to.rims is None else sizes.rims_answer(to.rims),
        "rim_in_range": to.is_in_range,
        "change": None
        if to.change is None
        else {
            "inner_mm": figures.to_places(to.change.inner_mm, 2),
            "outer_mm": figures.to_places(to.change.outer_mm, 2),
        },
        "left": [rooms.left_answer(each) for each in left],
    }
