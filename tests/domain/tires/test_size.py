"""What markings say, and at which character one that cannot be read goes wrong."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.tires.size import Construction, SizeNote, SizeType, read_size


@pytest.mark.parametrize(
    ("marking", "designation", "kind", "construction"),
    [
        ("205/60R15", "205/60R15", SizeType.METRIC, Construction.RADIAL),
        (" 205 / 60 r 15 ", "205/60R15", SizeType.METRIC, Construction.RADIAL),
        ("205/60-15", "205/60-15", SizeType.METRIC, Construction.BIAS),
        ("205/60D15", "205/60D15", SizeType.METRIC, Construction.BIAS),
        ("205/60B15", "205/60B15", SizeType.METRIC, Construction.BIAS_BELTED),
        ("p205/75r15", "P205/75R15", SizeType.P_METRIC, Construction.RADIAL),
        ("235/75R15LT", "LT235/75R15", SizeType.LT_METRIC, Construction.RADIAL),
        ("LT235/75R15", "LT235/75R15", SizeType.LT_METRIC, Construction.RADIAL),
        ("T125/80D15", "T125/80D15", SizeType.TEMPORARY, Construction.BIAS),
        ("31X10.50R15LT", "31x10.50R15LT", SizeType.FLOTATION, Construction.RADIAL),
        ("LT31x10.50R15", "31x10.50R15LT", SizeType.FLOTATION, Construction.RADIAL),
        ("7.00-14", "7.00-14", SizeType.NUMERIC, Construction.BIAS),
        ("7.5-14", "7.50-14", SizeType.NUMERIC, Construction.BIAS),
        ("6.00R16", "6.00R16", SizeType.NUMERIC, Construction.RADIAL),
        ("5.60S15", "5.60S15", SizeType.NUMERIC, Construction.BIAS),
        ("7.00-15LT", "7.00-15LT", SizeType.NUMERIC, Construction.BIAS),
        ("G78-15", "G78-15", SizeType.LETTER, Construction.BIAS),
        ("GR78-15", "GR78-15", SizeType.LETTER, Construction.RADIAL),
        ("FR70-14", "FR70-14", SizeType.LETTER, Construction.RADIAL),
        ("LR78-15", "LR78-15", SizeType.LETTER, Construction.RADIAL),
        ("E70B14", "E70B14", SizeType.LETTER, Construction.BIAS_BELTED),
        ("155R13", "155R13", SizeType.WITHOUT_ASPECT, Construction.RADIAL),
        ("155SR13", "155SR13", SizeType.WITHOUT_ASPECT, Construction.RADIAL),
        ("185/70HR14", "185/70HR14", SizeType.METRIC, Construction.RADIAL),
        ("220/55R390", "220/55R390", SizeType.METRIC, Construction.RADIAL),
        ("8.00R16.5", "8.00R16.5", SizeType.NUMERIC, Construction.RADIAL),
    ],
)
def test_markings_are_read(
    marking: str, designation: str, kind: SizeType, construction: Construction
) -> None:
    size = read_size(marking)

    assert (size.designation, size.type, size.construction) == (designation, kind, construction)


@pytest.mark.parametrize(
    ("marking", "index", "dual", "symbol", "load_class"),
    [
        ("205/60R15", None, None, None, None),
        ("205/60R15 91H", 91, None, "H", None),
        ("205/60 R 15 91 h", 91, None, "H", None),
        ("205/60R15 91H XL", 91, None, "H", "XL"),
        ("205/60R15 95V EXTRA LOAD M+S", 95, None, "V", "XL"),
        ("205/60R15 reinforced 95V tubeless", 95, None, "V", "XL"),
        ("225/50ZR16 (92Y)", 92, None, "Y", None),
        ("225/50ZR16", None, None, "ZR", None),
        ("185/70HR14", None, None, "H", None),
        ("185/70HR14 88H", 88, None, "H", None),
        ("LT235/75R15 104/101R LOAD RANGE C", 104, 101, "R", "C"),
        ("LT235/75R15/C", None, None, None, "C"),
        ("195R14C 106/104R", 106, 104, "R", "C"),
        ("7.00-15LT 6PR", None, None, None, None),
        ("P215/65R15 LL", None, None, None, "LL"),
        ("G78-15", None, None, None, "G"),
        ("G78-15 load range B", None, None, None, "G"),
        ("T125/80D15 95M", 95, None, "M", None),
    ],
)
def test_service_and_load_class_are_read(
    marking: str, index: int | None, dual: int | None, symbol: str | None, load_class: str | None
) -> None:
    size = read_size(marking)

    assert (size.load_index, size.dual_load_index) == (index, dual)
    assert (size.speed_symbol, size.load_class) == (symbol, load_class)


@pytest.mark.parametrize(
    ("marking", "where", "expected"),
    [
        ("205/6OR15", "character 6, 'O'", "an aspect ratio, 20 to 100"),
        ("2O5/60R15", "character 2, 'O'", "a width in mm, three digits from 105 to 495"),
        ("205/5R15", "character 6, 'R'", "an aspect ratio, 20 to 100"),
        ("205/60X15", "character 7, 'X'", "R, B, D or -"),
        ("205", "its end", "/ and an aspect ratio, or R, B, D or -"),
        ("205/60R", "its end", "a rim diameter from 8 to 30 in"),
        ("205/60R155", "character 8, '1'", "a rim diameter from 8 to 30 in"),
        ("205/60R15 91I", "character 13, 'I'", "a speed symbol"),
        ("205/60R15 foo", "character 11, 'f'", "the end"),
        ("205/60R15 91", "character 11, '9'", "the end"),
        ("G78", "its end", "-, R or B"),
        ("Q78-15", "character 1, 'Q'", "P, LT or T, a width in mm or in inches, or a letter"),
        ("ST205/75D15", "character 1, 'S'", "P, LT or T, a width in mm or in inches, or a letter"),
        ("7.00", "its end", "-, R, B or D"),
        ("31x", "its end", "a width in inches"),
        ("P31x10.50R15", "character 1, 'P'", "a diameter in inches"),
        ("999/60R15", "character 1, '9'", "a width in mm, three digits from 105 to 495"),
        ("", "its end", "P, LT or T, a width"),
        ("  ", "its end", "P, LT or T, a width"),
        ("é", "character 1, '\\xe9'", "P, LT or T, a width"),
        ("LT", "character 1, 'L'", "P, LT or T, a width"),
        ("P205", "its end", "/ and an aspect ratio, or R, B, D or -"),
        ("205/19R15", "character 5, '1'", "an aspect ratio, 20 to 100"),
        ("205/60R15 280H", "character 11, '2'", "a load index up to 279"),
        ("205/60R15 112/300H", "character 11, '1'", "a load index up to 279"),
    ],
)
def test_fault_says_at_which_character_and_what_was_expected(
    marking: str, where: str, expected: str
) -> None:
    with pytest.raises(BadInput) as raised:
        read_size(marking)

    (fault,) = raised.value.faults
    assert f"cannot be read at {where}" in fault.what
    assert fault.remedy.startswith(f"expected there: {expected}")


def test_sizes_are_compared_without_their_speed_letter() -> None:
    assert read_size("185/70HR14").key == read_size("185/70 R14").key == "185/70R14"
    assert read_size("31x10.5R15LT").key == read_size("31x10.50R15LT").key


def test_zr_is_over_240_unless_a_service_description_says_more() -> None:
    assert SizeNote.ZR in read_size("225/50ZR16").notes
    assert SizeNote.ZR not in read_size("225/50ZR16 92W").notes


def test_two_load_indices_are_explained() -> None:
    assert SizeNote.TWO_LOADS in read_size("195R14C 106/104R").notes
