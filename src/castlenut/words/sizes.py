"""What a tire's size marking says: for other programs, and in lines as a mechanic reads them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from castlenut.domain.tires.geometry import diameter_mm, revs_per_mile, section_height_mm
from castlenut.domain.tires.rim import RimRange, measuring_rim_in, rim_range, section_width_mm
from castlenut.domain.tires.service import LOAD_KG, SPEED_KMH
from castlenut.domain.tires.size import Size, SizeNote
from castlenut.domain.units import KM_PER_MI, MM_PER_IN
from castlenut.words import figures

if TYPE_CHECKING:
    from castlenut.words.answers import Answer

_LABEL = 12
_LB_PER_KG = 2.20462262


def size_answer(size: Size, *, rim_width_in: float | None = None) -> dict[str, Answer]:
    """Give a size and its geometry, millimeters and inches to the hundredth, turns to the tenth."""
    across = diameter_mm(size)
    return {
        "size": size.designation,
        "type": size.type.value,
        "width_mm": figures.to_places(size.width_mm, 2),
        "aspect": size.aspect,
        "construction": size.construction.value,
        "rim_in": figures.to_places(size.rim_in, 2),
        "section_height_mm": figures.to_places(section_height_mm(size), 2),
        "diameter_mm": figures.to_places(across, 2),
        "diameter_in": figures.to_places(None if across is None else across / MM_PER_IN, 2),
        "revs_per_mile": figures.to_places(revs_per_mile(size), 1),
        "load_class": size.load_class,
        "load_index": size.load_index,
        "speed_symbol": size.speed_symbol,
        "temporary": size.is_temporary,
        "measuring_rim_in": measuring_rim_in(size),
        "section_width_mm": figures.to_places(section_width_mm(size, rim_width_in=rim_width_in), 2),
        "notes": [*notes(size, rim_width_in=rim_width_in)],
    }


def service_answer(size: Size) -> dict[str, Answer]:
    """Give what a size carries, how fast, and the rims it goes on; null is not known."""
    takes = rim_range(size)
    return {
        "load_kg": LOAD_KG.get(size.load_index or 0),
        "speed_kmh": SPEED_KMH.get(size.speed_symbol or ""),
        "rims": None if takes is None else rims_answer(takes),
    }


def rims_answer(takes: RimRange) -> dict[str, Answer]:
    """Give a rim range with how far it is known."""
    return {"least_in": takes.least_in, "most_in": takes.most_in, "trust": takes.trust.value}


def notes(size: Size, *, rim_width_in: float | None = None) -> Iterator[str]:
    """Say what was assumed, and where the rim is outside what the size goes on."""
    yield from (note.value for note in size.notes)
    takes = rim_range(size)
    if rim_width_in is not None and takes is not None and not takes.holds(rim_width_in):
        yield (
            f"A rim of {rim_width_in:g} in is outside the {takes.least_in:g} to {takes.most_in:g}"
            f" in for this size ({takes.trust.value})."
        )


def size_lines(size: Size, *, rim_width_in: float | None = None) -> Iterator[str]:
    """Give a size as lines: its name, then what is known of it, then what must be said."""
    marked = f", {size.load_class}" if size.load_class and SizeNote.LETTER not in size.notes else ""
    if SizeNote.LETTER in size.notes:
        marked = f", load class {size.load_class}"
    spare = ", a temporary spare" if size.is_temporary else ""
    yield f"{size.designation}  {size.type.value}, {size.construction.value}{marked}{spare}"
    yield _line("diameter", _diameter(size))
    yield _line("width", _width(size, rim_width_in))
    takes = rim_range(size)
    yield _line("rims", "not known for this size" if takes is None else rims(takes))
    yield _line("carries", _carries(size))
    yield from (_line("note", note) for note in notes(size, rim_width_in=rim_width_in))


def rims(takes: RimRange) -> str:
    """Give a rim range in words: `5.5 to 7.5 in (published)`."""
    return f"{takes.least_in:g} to {takes.most_in:g} in ({takes.trust.value})"


def _line(label: str, told: str) -> str:
    return f"  {label:<{_LABEL}}{told}"


def _diameter(size: Size) -> str:
    across, turns = diameter_mm(size), revs_per_mile(size)
    if across is None or turns is None:
        return "not known"
    told = f"{figures.length(across)}, {figures.decimals(turns)} turns a mile"
    return f"{told}; rolling about 3 % more"


def _width(size: Size, rim_width_in: float | None) -> str:
    width = section_width_mm(size, rim_width_in=rim_width_in)
    if width is None:
        on = "" if rim_width_in is None else f" on a {rim_width_in:g} in rim"
        return f"not known{on}"
    rim = measuring_rim_in(size) if rim_width_in is None else rim_width_in
    if rim is None:
        return figures.length(width)
    measured = " it is measured on" if rim_width_in is None else ""
    return f"{figures.length(width)} on the {rim:g} in rim{measured}"


def _carries(size: Size) -> str:
    told = []
    if size.load_index is not None:
        load = LOAD_KG.get(size.load_index)
        told.append(
            f"load index {size.load_index}, no figure for it"
            if load is None
            else f"{load} kg, {figures.decimals(load * _LB_PER_KG)} lb ({size.load_index})"
        )
    fastest = SPEED_KMH.get(size.speed_symbol or "")
    if fastest is not None:
        mph = figures.decimals(fastest / KM_PER_MI)
        told.append(f"to {fastest} km/h, {mph} mph ({size.speed_symbol})")
    return ", ".join(told) or "not marked: no service description was given"


def against(first: Size, other: Size) -> Iterator[str]:
    """Say what another size does to diameter, speedometer and odometer; nothing if not known."""
    before, after = diameter_mm(first), diameter_mm(other)
    if before is None or after is None:
        return
    percent = figures.decimals(100 * abs(after / before - 1), 1)
    if percent == "0.0":
        told = "the same diameter"
    else:
        larger = "larger" if after > before else "smaller"
        too = "too little" if after > before else "too much"
        true = figures.decimals(60 * after / before, 1)
        told = f"{percent} % {larger}: at 60 shown you do {true}, the odometer counts {too}"
    yield _line("against", f"{first.designation}: {told}")
