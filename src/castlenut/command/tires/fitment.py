"""fitment: ways to shoe a car side by side, against what it carries or without a car."""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

from castlenut.command import output
from castlenut.command.tires.typed import Typed
from castlenut.command.tires.ways import (
    fitment_of,
    looks_like_size,
    read_options,
    read_sizes,
    reads_as_size,
)
from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import replace
from castlenut.domain.measures import THIRTY_SECOND
from castlenut.domain.tires.comparison import USUAL_NEW_MM, Way, side_by_side
from castlenut.domain.tires.on_a_car import like_now, present
from castlenut.domain.tires.rotation.tread import learned, usual_rates
from castlenut.domain.units import Unit
from castlenut.domain.vehicle import Drive
from castlenut.words import fitment as words
from castlenut.words import rooms
from castlenut.words.cautions import DEFERRING_LINE
from castlenut.words.table import table_lines

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from castlenut.command.call import Call
    from castlenut.domain.tires.fitment import Fitment
    from castlenut.words.answers import Answer

USUAL_WEAR = (
    "Wear by place is the usual one of that drive (from memory), not measured: lives compare, they"
    " do not promise."
)


def answer_fitment(call: Call) -> int:
    """Answer what each way to shoe a car gives, loses and costs.

    Raises:
        BadInput: with every fault of what was typed.
    """
    if _names_a_car(call):
        return _of_car(call)
    return _without_car(call)


def _names_a_car(call: Call) -> bool:
    """Tell whether the first word is a car: it is no size, and none was meant."""
    first = call.texts("words")[0]
    if reads_as_size(first):
        return False
    if not looks_like_size(first):
        return True
    try:
        call.quiet_garage().find(first)
    except BadInput:
        return False
    return True


def _of_car(call: Call) -> int:
    from castlenut.garage.fitments import compare_on_car
    from castlenut.garage.tires import tires_of

    garage = call.garage()
    slug = garage.find(call.texts("words")[0])
    texts = call.texts("words")[1:]
    if call.maybe("drive") is not None:
        raise BadInput(
            Fault("is for a car that is not recorded", "--drive", "correct the vehicle's drive")
        )
    typed = Typed()
    sizes = read_sizes(typed, texts)
    options = read_options(call, typed, len(texts), depth_unit=garage.settings.depth_unit)
    typed.check()
    tires = tires_of(garage, slug)
    now = present(tires)
    ways: list[tuple[str, Fitment]] = []
    for number, (pair, given) in enumerate(zip(sizes, options, strict=True)):
        asked = fitment_of(pair, given, is_directional=call.flag("directional"))
        front, rear = (
            like_now(axle, here, is_depth_given=typed_axle.new_depth_mm is not None)
            for axle, here, typed_axle in zip(
                (asked.front, asked.rear), (now.front, now.rear), given, strict=True
            )
        )
        ways.append((name_of(number), replace(asked, front=front, rear=rear)))
    found = compare_on_car(garage, slug, ways)
    notes = list(rooms.to_mind(found.rooms, found.ways[0].front_left))
    notes.extend(words.car_notes(found))
    widest = rooms.widest_words(found.widest, found.rooms)
    _write(
        call,
        found.ways,
        unit=tires.unit,
        head={"vehicle": slug, "drive": None if tires.drive is None else tires.drive.value},
        notes=notes,
        tail={
            "room": [rooms.room_answer(each) for each in found.rooms],
            "widest": (
                None if found.widest is None else [size.designation for size in found.widest]
            ),
        },
        last=[widest],
    )
    return output.FINE


def _without_car(call: Call) -> int:
    typed = Typed()
    texts = call.texts("words")
    sizes = read_sizes(typed, texts)
    options = read_options(call, typed, len(texts), depth_unit=THIRTY_SECOND)
    drive = typed.read(lambda: read_drive(call))
    typed.check()
    ways = [
        fitment_of(pair, given, is_directional=call.flag("directional"))
        for pair, given in zip(sizes, options, strict=True)
    ]
    taken = drive or Drive.REAR
    found = side_by_side(
        [(name_of(number), way) for number, way in enumerate(ways)],
        now=ways[0],
        drive=taken,
        wear=learned(usual_rates(taken, Unit.MI), ()),
        chance=Random(" ".join(texts)),  # noqa: S311 - draws of wear, no secret
    )
    notes = [USUAL_WEAR]
    if drive is None:
        notes.append("The drive is not given: rear drive is taken (--drive front, all).")
    if all(axle.new_depth_mm is None for given in options for axle in given):
        notes.append(f"New depth is not given: {USUAL_NEW_MM:g} mm is taken (--new-depth).")
    _write(
        call,
        found,
        unit=Unit.MI,
        head={"vehicle": None, "drive": taken.value},
        notes=notes,
        tail={},
        last=[],
    )
    return output.FINE


def read_drive(call: Call) -> Drive | None:
    """Read the drive; None where it is not given.

    Raises:
        BadInput: it is none.
    """
    text = call.maybe("drive")
    if text is None:
        return None
    try:
        return Drive(text.strip().lower())
    except ValueError:
        raise BadInput(
            Fault(f"{text!r} is no drive", "--drive", "give front, rear or all")
        ) from None


def name_of(number: int) -> str:
    """Name the ways in their order: A, B, C."""
    return chr(ord("A") + number % 26)


def _write(
    call: Call,
    ways: Sequence[Way],
    *,
    unit: Unit,
    head: Mapping[str, Answer],
    notes: Sequence[str],
    tail: Mapping[str, Answer],
    last: Sequence[str],
) -> None:
    """Write a comparison: the table, the reasons, what to mind."""
    assumed = _assumed(ways)
    if call.as_json:
        output.write_json(
            {
                **head,
                "unit": unit.value,
                "against": ways[0].name,
                "ways": [words.way_answer(way, unit=unit) for way in ways],
                **tail,
                "notes": [*notes, *assumed],
            }
        )
        return
    rows = [
        (
            row.label,
            [
                f"{cell} {words.BEST}" if number in row.best else cell
                for number, cell in enumerate(row.cells)
            ],
        )
        for row in words.rows(ways, unit=unit, with_band=head["vehicle"] is not None)
    ]
    output.write(*table_lines([way.name for way in ways], rows))
    output.write(*last, "", *words.sentences(ways))
    output.write("", *notes, *assumed, DEFERRING_LINE)


def _assumed(ways: Sequence[Way]) -> list[str]:
    codes = list(dict.fromkeys(code for way in ways for code in way.compared.assumed))
    return [words.assumed(codes)] if codes else []
