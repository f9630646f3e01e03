"""Vehicle numbers: check digit and model year of a VIN, and serials that are none."""

from enum import Enum

from castlenut.domain.errors import BadInput, Fault
from castlenut.domain.frozen import dataclass

LENGTH = 17

# 8.01, 8.02
_VALUES = {
    **{str(digit): digit for digit in range(10)},
    **dict(zip("ABCDEFGH", range(1, 9), strict=True)),
    **dict(zip("JKLMN", range(1, 6), strict=True)),
    "P": 7,
    "R": 9,
    **dict(zip("STUVWXYZ", range(2, 10), strict=True)),
}
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)

_YEAR_CODES = "ABCDEFGHJKLMNPRSTVWXY123456789"  # 8.07: 1980 to 2009, then again
_FIRST_YEAR = 1980
_CYCLE = 30  # 8.08
_SMALL_MAKER = "9"  # 8.13
_NOT_READ = "?"
_LONGEST_SERIAL = 40


class Form(Enum):
    """What a number is: a VIN of 17 characters, or any other serial."""

    VIN = "vin"
    SERIAL = "serial"


class Check(Enum):
    """Whether the character at position 9 is the check digit of the rest."""

    HOLDS = "holds"
    FAILS = "fails"


class VehicleClass(Enum):
    """What the position 7 rule of the model year depends on (8.09)."""

    CAR = "car"
    """Cars, and multipurpose vehicles and trucks up to 4536 kg (10,000 lb)."""
    HEAVY_TRUCK = "truck over 4536 kg"
    MOTORCYCLE = "motorcycle"
    TRAILER = "trailer"


class Market(Enum):
    """Where the vehicle was built to be sold: only North America requires the check digit."""

    NORTH_AMERICA = "north america"
    OTHER = "other"


class VinNote(Enum):
    """What must be said beside the answer."""

    SERIAL = (
        "Not 17 characters, so taken as a serial as it stands: before model year 1981"
        " there was no common form."
    )
    SPACES_LEFT_OUT = "Spaces and hyphens were left out."
    LETTERS = "I, O and Q never stand in a VIN: 1 or 0 was probably meant."
    FAILS = (
        "The check digit does not hold: a character was probably misread,"
        " or the vehicle was built for a market that requires none."
    )
    NOT_REQUIRED = (
        "Outside North America no check digit is required (from memory),"
        " so position 9 says nothing here."
    )
    NO_YEAR = "Position 10 holds no code of a model year."
    SMALL_MAKER = (
        "9 at position 3: a maker of few vehicles, told by positions 12 to 14 as well, so the"
        " serial is 15 to 17."
    )
    TWO_CYCLES = "The model year codes come round every 30 years, and nothing tells which holds."


@dataclass(frozen=True, slots=True, kw_only=True)
class VehicleNumber:
    """What a vehicle's number says.

    `check` is None where there is nothing to check: a serial, a position 9 that was not read, a
    market that requires no check digit. `expected` is None where it cannot be reckoned.
    """

    number: str
    form: Form
    check: Check | None
    expected: str | None
    found: str | None
    model_years: tuple[int, ...]
    notes: tuple[VinNote, ...]


def read_vin(
    text: str,
    *,
    vehicle: VehicleClass = VehicleClass.CAR,
    market: Market = Market.NORTH_AMERICA,
) -> VehicleNumber:
    """Read a vehicle's number. A failure is told and never refuses the number.

    Seventeen letters and digits are a VIN, once spaces and hyphens are left out; a question mark
    may stand at position 9. Anything else is a serial, kept as it stands (8.11).

    Raises:
        BadInput: nothing is there, or far too much.
    """
    given = text.strip().upper()
    if not given or len(given) > _LONGEST_SERIAL:
        raise BadInput(
            Fault("holds no vehicle number", "vin", f"give 1 to {_LONGEST_SERIAL} characters")
        )
    number = given.replace(" ", "").replace("-", "")
    if not _has_form(number):
        return VehicleNumber(
            number=given,
            form=Form.SERIAL,
            check=None,
            expected=None,
            found=None,
            model_years=(),
            notes=(VinNote.SERIAL,),
        )
    notes = [VinNote.SPACES_LEFT_OUT] if number != given else []
    expected = check_digit(number)
    if expected is None:
        notes.append(VinNote.LETTERS)
    found = None if number[8] == _NOT_READ else number[8]
    check = _check(expected, found)
    if check is Check.FAILS and market is Market.OTHER:
        check = None
        notes.append(VinNote.NOT_REQUIRED)
    elif check is Check.FAILS and expected is not None:
        notes.append(VinNote.FAILS)
    if number[2] == _SMALL_MAKER and market is Market.NORTH_AMERICA:
        notes.append(VinNote.SMALL_MAKER)
    years = model_years(number, vehicle=vehicle, market=market)
    if not years:
        notes.append(VinNote.NO_YEAR)
    elif len(years) > 1:
        notes.append(VinNote.TWO_CYCLES)
    return VehicleNumber(
        number=number,
        form=Form.VIN,
        check=check,
        expected=expected,
        found=found,
        model_years=years,
        notes=tuple(notes),
    )


def check_digit(vin: str) -> str | None:
    """Give the digit that belongs at position 9: the weighted sum modulo 11, with X for 10 (8.03).

    None when a character stands in it that no VIN has, I, O or Q. Position 9 itself has no weight.
    """
    total = 0
    for position, (character, weight) in enumerate(zip(vin, _WEIGHTS, strict=True)):
        value = _VALUES.get(character)
        if value is None and position != 8:
            return None
        total += (value or 0) * weight
    remainder = total % 11
    return "X" if remainder == 10 else str(remainder)


def model_years(
    vin: str,
    *,
    vehicle: VehicleClass = VehicleClass.CAR,
    market: Market = Market.NORTH_AMERICA,
) -> tuple[int, ...]:
    """Give the model years that position 10 may mean.

    For cars and light trucks position 7 tells the cycle: a digit is 1980 to 2009, a letter 2010
    to 2039. For others, and outside North America, it proves nothing and both are given (8.09).
    """
    place = _YEAR_CODES.find(vin[9])
    if place < 0:
        return ()
    early = _FIRST_YEAR + place
    if vehicle is not VehicleClass.CAR or market is not Market.NORTH_AMERICA:
        return early, early + _CYCLE
    return (early,) if vin[6].isdigit() else (early + _CYCLE,)


def _has_form(number: str) -> bool:
    read = number[:8] + number[9:] if number[8:9] == _NOT_READ else number
    return len(number) == LENGTH and read.isascii() and read.isalnum()


def _check(expected: str | None, found: str | None) -> Check | None:
    if found is None:
        return None
    return Check.HOLDS if found == expected else Check.FAILS
