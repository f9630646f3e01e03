"""Tread over distance: what the chart and its table hold."""

from collections.abc import Iterator, Mapping, Sequence

from castlenut.domain.due import CarToday
from castlenut.domain.ids import RecordId
from castlenut.domain.tires.outlook import Outlook
from castlenut.domain.tires.rotation.tread import Look
from castlenut.domain.tires.today import TiresToday
from castlenut.domain.units import Distance
from castlenut.screens.car_words import shown_after
from castlenut.screens.widgets.canvas import Point
from castlenut.screens.widgets.tread_chart import Axis, Curve, tread_chart
from castlenut.words.depth import depth, unit_words
from castlenut.words.plans import depths_after

NOTHING = "No tread is measured yet: t records it"
_CELL = 7


def chart_lines(
    today: CarToday,
    tires: TiresToday,
    outlook: Outlook | None,
    *,
    depth_unit: str,
    width: int,
    height: int,
    ascii_only: bool,
) -> tuple[str, ...]:
    """Give the chart of the tires now on the car; a sentence where nothing is measured."""
    now = _now(today)
    curves = tuple(_curves(tires, outlook, now))
    if not curves:
        return (NOTHING,)
    ends = [across for curve in curves for across, _ in curve.points]
    depths = [deep for curve in curves for _, deep in curve.points]
    limit = tires.rules.limit_mm
    top = max(depths)
    middle = [] if now is None else [(now, "now")]
    far = [(each, shown_after(today, Distance(each))) for each in (min(ends), max(ends))]
    return tread_chart(
        curves,
        limit=limit,
        depths=Axis(
            words=(
                (limit, f"limit {depth(limit, depth_unit)}"),
                (top, depth(top, depth_unit)),
                ((top + limit) / 2, depth((top + limit) / 2, depth_unit)),
            )
        ),
        distances=Axis(words=tuple(sorted((*far, *middle)))),
        rotations=tuple(rotations(tires.looks)),
        width=width,
        height=height,
        ascii_only=ascii_only,
    )


def table_lines(today: CarToday, tires: TiresToday, *, depth_unit: str) -> tuple[str, ...]:
    """Give the same as a table, the newest measurement first; rotations are named."""
    names = _names(tires)
    if not any(look.depths_mm for look in tires.looks):
        return (NOTHING,)
    turned = set(rotations(tires.looks))
    head = f"{'at':>9}  " + "".join(f"{name:<{_CELL}}" for name in names.values())
    rows = [
        f"{shown_after(today, Distance(look.at)):>9}  "
        + "".join(f"{_cell(look, record, depth_unit):<{_CELL}}" for record in names)
        + ("rotated" if look.at in turned else "")
        for look in reversed(tires.looks)
        if look.depths_mm or look.at in turned
    ]
    limit = depth(tires.rules.limit_mm, depth_unit)
    remark = f"thinnest groove in {unit_words(depth_unit)}, by where the tire stands now"
    return (
        head.rstrip(),
        *(row.rstrip() for row in rows),
        f"{remark}; limit {limit}",
    )


def rotations(looks: Sequence[Look]) -> Iterator[float]:
    """Give the distances at which a tire came to another place."""
    before: Mapping[str, object] = {}
    for look in looks:
        if any(before.get(tire, spot) is not spot for tire, spot in look.places.items()):
            yield look.at
        before = look.places


def _names(tires: TiresToday) -> Mapping[RecordId, str]:
    return {each.tire.record: each.spot.value for each in tires.standing if each.tire is not None}


def _cell(look: Look, record: RecordId, depth_unit: str) -> str:
    found = look.depths_mm.get(record)
    return "-" if not found else depth(min(found), depth_unit)


def _curves(tires: TiresToday, outlook: Outlook | None, now: float | None) -> Iterator[Curve]:
    worn = "" if outlook is None else outlook.prospect.ends_with[0]
    for record, name in _names(tires).items():
        measured = tuple(
            (look.at, min(found)) for look in tires.looks if (found := look.depths_mm.get(record))
        )
        if not measured:
            continue
        if outlook is None or now is None:
            yield Curve(label=name, measured=measured)
            continue
        last = measured[-1]
        band = name == worn
        limit = tires.rules.limit_mm
        yield Curve(
            label=name,
            measured=measured,
            expected=(last, *_expected(name, tires, outlook, now)),
            low=(last, (now + outlook.life_p10, limit)) if band else (),
            high=(last, (now + outlook.life_p90, limit)) if band else (),
        )


def _expected(name: str, tires: TiresToday, outlook: Outlook, now: float) -> Iterator[Point]:
    for stint in outlook.prospect.stints:
        deep = depths_after(tires, outlook, until=stint.until)
        if name in deep:
            yield now + stint.until, deep[name]


def _now(today: CarToday) -> float | None:
    band = today.use.distance_on(today.today)
    return None if band is None else band.p50
