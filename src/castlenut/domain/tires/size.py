"""What a tire's size marking says, from numeric to metric, with the marks beside the size."""

import re
from enum import Enum

from castlenut.domain.frozen import dataclass, replace
from castlenut.domain.tires.marking import Marking
from castlenut.domain.units import MM_PER_IN

_SHORTEST_WIDTH_MM, _LONGEST_WIDTH_MM = 105, 495
_LEAST_ASPECT, _MOST_ASPECT = 20, 100
_WIDTHS = f"three digits from {_SHORTEST_WIDTH_MM} to {_LONGEST_WIDTH_MM}"
_ASPECTS = f"{_LEAST_ASPECT} to {_MOST_ASPECT}"
_ANY_SIZE = "P, LT or T, a width in mm or in inches, or a letter from A to N as in G78-15"
_ASPECT_NOT_MARKED = 82  # 3.18
_NUMERIC_ROUND, _NUMERIC_OTHER = 92, 82  # 3.13


class SizeType(Enum):
    """The ways of marking a size."""

    METRIC = "metric"
    P_METRIC = "p-metric"
    LT_METRIC = "lt-metric"
    TEMPORARY = "temporary"
    FLOTATION = "flotation"
    NUMERIC = "numeric"
    LETTER = "letter"
    WITHOUT_ASPECT = "metric without aspect"


class Construction(Enum):
    """How the cords of the carcass run."""

    RADIAL = "radial"
    BIAS = "bias"
    BIAS_BELTED = "bias belted"


class SizeNote(Enum):
    """What must be said beside a size."""

    ASPECT_ASSUMED = "No aspect ratio is marked: the usual 82 is taken."
    NUMERIC_ASPECT = (
        "The marking holds no aspect ratio: 92 is taken for a width that ends in 0, else 82, so the"
        " diameter may be off by 0.3 in either way; a maker's table is better."
    )
    LETTER = (
        "The letter is a load class and holds no width: without a published table there is no"
        " diameter."
    )
    FROM_TABLE = "Diameter and section width are those printed for this size (Tire Rack, page 45)."
    NOMINAL = "Diameter and width are nominal; a maker's tire may be about 1 in smaller."
    TEMPORARY = "A temporary spare may not join a rotation."
    OLD_V = "V inside the size is the old mark for above 210 km/h; how far above is not marked."
    ZR = "ZR is for above 240 km/h; how far above is not marked."
    TWO_LOADS = (
        "The first load index is for a tire alone on its side, the second for each of two side by"
        " side."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A size as it is marked. None where the marking does not tell it.

    `width_mm` is the nominal section width. `aspect` holds also what is taken where none is
    marked; `notes` then says so. `nominal_diameter_in` is the diameter that the marking itself or
    a published table gives; `table_width_in` the section width of that table. `speed_symbol` is of
    the service description, or the letter inside an old size.
    """

    designation: str
    type: SizeType
    construction: Construction
    rim_in: float
    width_mm: float | None = None
    aspect: int | None = None
    nominal_diameter_in: float | None = None
    table_width_in: float | None = None
    load_class: str | None = None
    load_index: int | None = None
    dual_load_index: int | None = None
    speed_symbol: str | None = None
    notes: tuple[SizeNote, ...] = ()
    key: str = ""
    """The designation in one spelling, without a speed letter: what sizes are compared by."""

    @property
    def is_temporary(self) -> bool:
        """Tell whether the size itself is marked as that of a temporary spare (3.20)."""
        return self.type is SizeType.TEMPORARY


def read_size(text: str, *, where: str = "size") -> Size:
    """Read a size as marked on the sidewall, with the marks that may follow it.

    Case and blanks do not matter. Speed letters inside old sizes (185/70HR14) are read, a service
    description after the size wins over them.

    Raises:
        BadInput: it cannot be read; the fault says at which character and what was expected.
    """
    marking = Marking(text, where)
    prefix = marking.take(r"LT(?=\s*\d)|[PTS](?=\s*\d)").upper()
    if not prefix and marking.sees(r"[A-HJ-N](?![A-QS-Z])"):
        size = _letter(marking)
    elif marking.sees(r"\d{1,2}(\.\d+)?\s*X"):
        size = _flotation(marking, prefix)
    elif marking.sees(r"\d{1,2}\.\d"):
        size = _numeric(marking)
    elif prefix or marking.sees(r"\d"):
        size = _metric(marking, prefix)
    else:
        marking.fail_at_start(_ANY_SIZE)
    return _with_service(size, marking)


_BUILDS = {
    "R": Construction.RADIAL,
    "-": Construction.BIAS,
    "D": Construction.BIAS,
    "B": Construction.BIAS_BELTED,
}
_BUILD_FORM = r"[SHVZTUQ]?\s*[RBD\-]"
_PREFIXES = {
    "": SizeType.METRIC,
    "P": SizeType.P_METRIC,
    "LT": SizeType.LT_METRIC,
    "T": SizeType.TEMPORARY,
    "S": SizeType.TEMPORARY,
}


def _metric(marking: Marking, prefix: str) -> Size:
    width = marking.whole((3,), _SHORTEST_WIDTH_MM, _LONGEST_WIDTH_MM, f"a width in mm, {_WIDTHS}")
    has_aspect = bool(marking.take("/"))
    aspect = _ASPECT_NOT_MARKED
    if has_aspect:
        aspect = marking.whole((2, 3), _LEAST_ASPECT, _MOST_ASPECT, f"an aspect ratio, {_ASPECTS}")
    expected = "R, B, D or -" if has_aspect else "/ and an aspect ratio, or R, B, D or -"
    letter, build = _build(marking.need(_BUILD_FORM, expected))
    rim_in, rim = marking.rim_in()
    after = "LT" if not prefix and marking.take(r"LT(?![A-Z])") else ""
    prefix = prefix or after
    middle = f"/{aspect}" if has_aspect else ""
    kind = _PREFIXES[prefix]
    if not has_aspect and kind is SizeType.METRIC:
        kind = SizeType.WITHOUT_ASPECT
    notes = () if has_aspect else (SizeNote.ASPECT_ASSUMED,)
    return Size(
        designation=f"{prefix}{width}{middle}{letter}{build}{rim}",
        key=f"{prefix}{width}{middle}{build}{rim}",
        type=kind,
        construction=_BUILDS[build],
        rim_in=rim_in,
        width_mm=float(width),
        aspect=aspect,
        speed_symbol="ZR" if letter == "Z" else letter or None,
        notes=notes + ((SizeNote.TEMPORARY,) if kind is SizeType.TEMPORARY else ()),
    )


def _flotation(marking: Marking, prefix: str) -> Size:
    if prefix not in {"", "LT"}:
        marking.fail_at_start("a diameter in inches, as in 31x10.5R15LT")
    diameter = marking.need(r"\d{2}(\.\d+)?", "a diameter of two digits in inches")
    marking.need("X", "x")
    width = marking.need(r"\d{1,2}(\.\d{1,2})?", "a width in inches")
    letter, build = _build(marking.need(_BUILD_FORM, "R, B, D or -"))
    rim_in, rim = marking.rim_in()
    light_truck = "LT" if prefix or marking.take(r"LT(?![A-Z])") else ""
    return Size(
        designation=f"{diameter}x{width}{letter}{build}{rim}{light_truck}",
        key=f"{float(diameter):g}x{float(width):.2f}{build}{rim}{light_truck}",
        type=SizeType.FLOTATION,
        construction=_BUILDS[build],
        rim_in=rim_in,
        width_mm=float(width) * MM_PER_IN,
        nominal_diameter_in=float(diameter),
        speed_symbol="ZR" if letter == "Z" else letter or None,
        notes=(SizeNote.NOMINAL,),
    )


def _numeric(marking: Marking) -> Size:
    width = float(marking.need(r"\d{1,2}\.\d{1,2}", "a width in inches"))
    letter, build = _build(marking.need(r"[SHV]?\s*[RBD\-]|[SHV]", "-, R, B or D"))
    rim_in, rim = marking.rim_in()
    light_truck = marking.take(r"LT(?![A-Z])").upper()
    key = f"{width:.2f}{build}{rim}{light_truck}"
    table = _TABLE.get(key)
    ends_in_zero = f"{width:.2f}".endswith("0")
    return Size(
        # 5.60S15: on old bias sizes the letter stands for the dash.
        designation=key.replace("-", letter or "-").replace("R", f"{letter}R"),
        key=key,
        type=SizeType.NUMERIC,
        construction=_BUILDS[build],
        rim_in=rim_in,
        width_mm=width * MM_PER_IN,
        aspect=None if table else _NUMERIC_ROUND if ends_in_zero else _NUMERIC_OTHER,
        nominal_diameter_in=table[0] if table else None,
        table_width_in=table[1] if table else None,
        speed_symbol=letter or None,
        notes=(SizeNote.FROM_TABLE if table else SizeNote.NUMERIC_ASPECT,),
    )


def _letter(marking: Marking) -> Size:
    load_class = marking.need("[A-HJ-N]", "a letter from A to N").upper()
    is_radial = bool(marking.take("R"))
    aspect = marking.whole((2,), _LEAST_ASPECT, _MOST_ASPECT, f"an aspect ratio, {_ASPECTS}")
    build = marking.need(r"[RBD\-]", "-, R or B").upper()
    rim_in, rim = marking.rim_in()
    radial = "R" if is_radial or build == "R" else ""
    build = "-" if build == "R" else build
    key = f"{load_class}{radial}{aspect}{build}{rim}"
    table = _TABLE.get(key)
    return Size(
        designation=key,
        key=key,
        type=SizeType.LETTER,
        construction=Construction.RADIAL if radial else _BUILDS[build],
        rim_in=rim_in,
        aspect=aspect,
        nominal_diameter_in=table[0] if table else None,
        table_width_in=table[1] if table else None,
        load_class=load_class,
        notes=(SizeNote.LETTER, SizeNote.FROM_TABLE) if table else (SizeNote.LETTER,),
    )


def _build(text: str) -> tuple[str, str]:
    """Part a speed letter from the mark of construction; old bias sizes may lack the dash."""
    marks = re.sub(r"\s", "", text.upper())
    return ("", marks) if marks in _BUILDS else (marks[0], marks[1:] or "-")


# Printed overall diameter and section width in inches of old sizes, 3.14 and 3.15. A letter or
# numeric size that is not here has no such figures.
_TABLE = {"6.95-14": (25.3, 7.0), "G78-15": (28.0, 8.4)}

_SERVICE = r"\(?\s*\d{2,3}\s*(?:/\s*\d{2,3})?\s*[A-Z][1-8]?(?![A-Z0-9])"
_EXTRA = r"(XL|EXTRA\s*LOAD|REINFORCED|REINF|RF)(?![A-Z])"
_RANGE = r"(?:LOAD\s*RANGE|LR)?\s*/?\s*([B-HJ-N])(?![A-Z0-9])"
_SILENT = r"(M\s*[+&/]\s*S|TUBELESS|TUBE\s*TYPE|TL|TT|SL|\d{1,2}\s*PR)(?![A-Z])"


def _with_service(size: Size, marking: Marking) -> Size:
    """Read what follows a size: service description, load class, and marks that change nothing."""
    load_class, symbol, notes = size.load_class, size.speed_symbol, size.notes
    load_index: int | None = None
    dual: int | None = None
    while True:
        if marking.sees(_SILENT):
            marking.take(_SILENT)
        elif marking.sees(_EXTRA):
            marking.take(_EXTRA)
            load_class = "XL"
        elif marking.take(r"LL(?![A-Z])"):
            load_class = "LL"
        elif marking.sees(_SERVICE):
            load_index, dual, symbol = marking.service()
        elif marking.sees(_RANGE):
            letter = marking.take(_RANGE).strip()[-1].upper()
            # 3.15: in a letter size the class is the letter of the size itself.
            load_class = size.load_class or letter
        else:
            break
    marking.end()
    if load_index is None and symbol == "V":
        notes += (SizeNote.OLD_V,)
    if symbol == "ZR":
        notes += (SizeNote.ZR,)
    if dual is not None:
        notes += (SizeNote.TWO_LOADS,)
    return replace(
        size,
        load_class=load_class,
        load_index=load_index,
        dual_load_index=dual,
        speed_symbol=symbol,
        notes=notes,
    )
