"""What every paper begins with: garage, car, and what stands against handing it over."""

from collections.abc import Iterator, Sequence

from castlenut.domain.due import CarToday
from castlenut.domain.item import Item
from castlenut.domain.naming import unique_name
from castlenut.domain.order import Row, rows
from castlenut.domain.stay import Against, is_ready
from castlenut.paper.paper import Head, Line, Section
from castlenut.words import figures, ready
from castlenut.words.cautions import sentences
from castlenut.words.in_short import no_rotation
from castlenut.words.listing import titled

_FEW = 8


def head(today: CarToday, standing: Sequence[Against], garage: Sequence[str]) -> Head:
    """Give the head of a car's paper; things that stand alike are one line by their cause."""
    vehicle = today.car.vehicle
    return Head(
        garage=tuple(part for part in garage if part),
        slug=vehicle.slug,
        car=vehicle.description,
        facts=tuple(_facts(today)),
        is_ready=is_ready(standing),
        ready=ready.head_line(standing),
        standing=tuple(_by_cause(standing)),
    )


def _facts(today: CarToday) -> Iterator[tuple[str, str]]:
    vehicle = today.car.vehicle
    yield "date", today.today.isoformat()
    if vehicle.year is not None:
        yield "year", str(vehicle.year)
    for name, told in (
        ("owner", vehicle.owner),
        ("telephone", vehicle.phone),
        ("plate", vehicle.plate),
        ("VIN", vehicle.vin),
    ):
        if told:
            yield name, told
    band = today.use.distance_on(today.today)
    if band is not None:
        about = "" if band.p10 == band.p90 else "about "
        shown = today.odometer.shown_of(band.p50)
        yield "dial", f"{about}{figures.with_unit(shown, today.odometer.dial)}"
    if (stay := today.car.stay_on(today.today)) is not None:
        yield "in work since", stay.since.isoformat()


def _by_cause(standing: Sequence[Against]) -> Iterator[str]:
    by_cause: dict[str, list[str]] = {}
    for each in standing:
        by_cause.setdefault(each.cause.value, []).append(ready.title(each))
    for cause, titles in by_cause.items():
        more = len(titles) - _FEW
        told = "; ".join(titles[:_FEW] if more > 1 else titles)
        yield f"{cause}: {told}{f'; and {more} more' if more > 1 else ''}"


def row_title(row: Row) -> str:
    """Give what a row of items is about, with its places, each once."""
    places = dict.fromkeys(str(each.place) for each in row.items if each.place is not None)
    return titled(row.first.rule.title, " ".join(places))


def cautions_of(items: Sequence[Item]) -> tuple[str, ...]:
    """Give the cautions of some items, each once, what kills at once first."""
    return sentences(tuple(dict.fromkeys(key for each in items for key in each.rule.cautions)))


def cannot_be_done(today: CarToday) -> Section:
    """Give what no pattern allows, and why: it does not vanish because it cannot be done."""
    found = rows([item for item in today.items if item.against])
    return Section(
        title="Cannot be done as it stands",
        lines=tuple(
            Line(
                what=row_title(row),
                told=(no_rotation(row.first.against),),
                items=tuple(unique_name(each) for each in row.items),
            )
            for row in found
        ),
    )
