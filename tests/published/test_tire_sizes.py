"""Tire sizes: dimensions, rims and loads as trade pages, makers and manuals print them."""

import csv
from pathlib import Path

import pytest

from castlenut.domain.tires.geometry import (
    diameter_mm,
    odometer_factor,
    revs_per_mile,
    section_height_mm,
)
from castlenut.domain.tires.rim import Trust, measuring_rim_in, rim_range, section_width_mm
from castlenut.domain.tires.service import LOAD_KG, SPEED_KMH
from castlenut.domain.tires.size import Construction, Size, SizeNote, SizeType, read_size

MM_PER_IN = 25.4
SIZES_OF_1990 = Path(__file__).parent / "data" / "tire-sizes-1990.csv"
TABLE = "computed by 3.01, 3.03 and 3.06 to 3.08 with an independent script"


def inches(size: Size) -> float:
    across = diameter_mm(size)
    assert across is not None
    return across / MM_PER_IN


@pytest.mark.published("3.01", basis="R2", source="trade pages: 31.6 in, 638.13 rev/mile")
def test_265_70r17_is_31_6_in_and_turns_638_times_a_mile() -> None:
    size = read_size("265/70R17")

    assert inches(size) == pytest.approx(31.6, abs=0.05)
    assert revs_per_mile(size) == pytest.approx(638.13, abs=0.05)


@pytest.mark.published("3.02", basis="R2", source="trade pages, diameters of five sizes")
@pytest.mark.parametrize(
    ("marking", "across", "off_by"),
    [
        ("P265/75R15", 30.649, 0.001),
        ("285/75R16", 32.8, 0.05),
        ("235/75R15", 28.9, 0.05),
        ("225/55R17", 26.74, 0.005),
        ("245/60-15", 26.6, 0.05),
        ("245/55R18", 28.61, 0.005),
    ],
)
def test_diameters_as_printed(marking: str, across: float, off_by: float) -> None:
    """One page prints 28.63 for 245/55R18, whose own 726.7 mm are 28.61 in."""
    assert inches(read_size(marking)) == pytest.approx(across, abs=off_by)


@pytest.mark.published("3.02", basis="R2", source="trade page: sidewall 134.75 mm, 726.7 mm")
def test_sidewall_of_245_55r18() -> None:
    size = read_size("245/55R18")

    assert section_height_mm(size) == pytest.approx(134.75)
    assert diameter_mm(size) == pytest.approx(726.7)


@pytest.mark.published("3.03", basis="R2", source="trade pages: 63,360 / (pi x diameter)")
def test_flotation_tire_turns_by_its_nominal_diameter() -> None:
    """3.19: 33 in nominal, 611.2 turns a mile."""
    assert revs_per_mile(read_size("33x12.50R15")) == pytest.approx(611.2, abs=0.05)


@pytest.mark.published("3.04", basis="R2", source="an enthusiasts' reference page: 3.1 % smaller")
def test_loaded_tire_turns_about_800_times_a_mile() -> None:
    """The geometric 775.6 times 1.031."""
    turns = revs_per_mile(read_size("215/65R15"))

    assert turns is not None
    assert turns == pytest.approx(775.6, abs=0.05)
    assert turns * 1.031 == pytest.approx(800, abs=0.5)


@pytest.mark.published("3.05", basis="R", source="Tire Rack, rim width range")
@pytest.mark.parametrize(
    ("rim", "width"), [(5.5, 8.03), (6.0, 8.23), (6.5, 8.43), (7.0, 8.63), (7.5, 8.83)]
)
def test_section_width_grows_a_fifth_of_an_inch_by_half_an_inch_of_rim(
    rim: float, width: float
) -> None:
    """The printed widths start from 8.23 in; by 3.07 the start is 8.21."""
    found = section_width_mm(read_size("205/60R15"), rim_width_in=rim)

    assert found is not None
    assert found / MM_PER_IN == pytest.approx(width, abs=0.03)


@pytest.mark.published("3.06", basis="R", source="UN R30, 6.1.1.1: S = S1 + K(A - A1), K = 0.4")
def test_half_an_inch_of_rim_is_5_08_mm_of_width() -> None:
    size = read_size("195/60R15")

    on_six = section_width_mm(size, rim_width_in=6.0)
    on_six_and_a_half = section_width_mm(size, rim_width_in=6.5)

    assert on_six is not None
    assert on_six_and_a_half is not None
    assert on_six_and_a_half - on_six == pytest.approx(5.08)


@pytest.mark.published("3.07", basis="M", source="ETRTO practice, from memory")
def test_205_60r15_on_a_six_inch_rim_is_208_6_mm_wide() -> None:
    assert section_width_mm(read_size("205/60R15")) == pytest.approx(208.6, abs=0.05)


@pytest.mark.published("3.08", basis="M", source="ISO 4000-1 practice, from memory")
@pytest.mark.published(
    "3.09", basis="R", source="Tire Rack, page 199 and rim range page; a tire reference site"
)
@pytest.mark.parametrize(
    ("marking", "rim"),
    [
        ("P175/75R14", 5.0),
        ("P195/75R15", 5.5),
        ("P215/75R15", 6.0),
        ("P235/75R15", 6.5),
        ("P225/75R15", 6.0),
        ("P225/70R15", 6.5),
        ("P225/65R16", 6.5),
        ("P225/60R15", 6.5),
        ("P225/55R15", 7.0),
        ("P225/50R15", 7.0),
        ("P225/45R17", 7.5),
        ("P225/40R18", 8.0),
        ("205/60R15", 6.0),
        ("235/45R17", 8.0),
    ],
)
def test_measuring_rims_as_printed(marking: str, rim: float) -> None:
    assert measuring_rim_in(read_size(marking)) == rim


@pytest.mark.published("3.10", basis="R", source="Tire Rack; a tire reference site; America's Tire")
@pytest.mark.parametrize(
    ("marking", "least", "most"),
    [("205/60R15", 5.5, 7.5), ("195/65R15", 5.5, 7.0), ("245/45R20", 7.5, 9.0)],
)
def test_rim_ranges_as_printed(marking: str, least: float, most: float) -> None:
    found = rim_range(read_size(marking))

    assert found is not None
    assert (found.least_in, found.most_in, found.trust) == (least, most, Trust.PUBLISHED)


@pytest.mark.published("3.11", basis="M", source="trade data books, from memory")
@pytest.mark.parametrize(
    ("marking", "least", "most"),
    [
        ("195/60R15", 5.5, 7.0),
        ("215/60R15", 6.0, 8.0),
        ("225/60R15", 6.0, 8.0),
        ("245/60R15", 6.5, 8.5),
        ("185/70R14", 4.5, 6.0),
        ("215/75R15", 5.5, 7.0),
        ("295/50R15", 8.0, 10.0),
    ],
)
def test_rim_ranges_from_memory_say_so(marking: str, least: float, most: float) -> None:
    found = rim_range(read_size(marking))

    assert found is not None
    assert (found.least_in, found.most_in, found.trust) == (least, most, Trust.FROM_MEMORY)


@pytest.mark.published("3.12", basis="R2", source="a wheel-measuring reference page")
def test_rims_by_width_alone_where_the_size_is_in_no_table() -> None:
    """185 stands from 5 to 6.5 in."""
    found = rim_range(read_size("185/60R14"))

    assert found is not None
    assert (found.least_in, found.most_in, found.trust) == (5.0, 6.5, Trust.BY_WIDTH)


@pytest.mark.published("3.13", basis="R", source="a wheel retailer's tech page: 92 and 82")
@pytest.mark.parametrize(("marking", "aspect"), [("7.00-14", 92), ("7.50-14", 92), ("8.25-15", 82)])
def test_numeric_sizes_take_92_or_82(marking: str, aspect: int) -> None:
    size = read_size(marking)

    assert size.aspect == aspect
    assert SizeNote.NUMERIC_ASPECT in size.notes


@pytest.mark.published("3.14", basis="R", source="Tire Rack, page 45")
def test_6_95_14_has_its_printed_dimensions() -> None:
    size = read_size("6.95-14")

    assert inches(size) == pytest.approx(25.3)
    assert section_width_mm(size) == pytest.approx(7.0 * MM_PER_IN)
    assert inches(read_size("P185/75R14")) == pytest.approx(24.93, abs=0.005)


@pytest.mark.published("3.15", basis="R", source="Tire Rack, page 45")
def test_letter_size_has_a_diameter_only_where_a_table_prints_one() -> None:
    printed, other = read_size("G78-15"), read_size("ER70-14")

    assert inches(printed) == pytest.approx(28.0)
    assert section_width_mm(printed) == pytest.approx(8.4 * MM_PER_IN)
    assert (diameter_mm(other), other.width_mm, section_width_mm(other)) == (None, None, None)
    assert (other.load_class, other.construction) == ("E", Construction.RADIAL)


@pytest.mark.published("3.17", basis="R", source="GM 1998 service text")
def test_metric_size_is_not_equal_to_the_letter_size_it_replaces() -> None:
    assert read_size("P205/75R15").key != read_size("FR78-15").key


@pytest.mark.published("3.18", basis="R", source="a tire maker's sizing page")
def test_82_is_taken_where_no_aspect_is_marked() -> None:
    size = read_size("155R13")

    assert (size.type, size.aspect) == (SizeType.WITHOUT_ASPECT, 82)
    assert inches(size) == pytest.approx(23.01, abs=0.005)


@pytest.mark.published("3.19", basis="R", source="owner's manuals of two light trucks")
def test_flotation_marking_is_diameter_width_and_rim() -> None:
    size = read_size("31x10.5R15LT")

    assert (size.type, size.rim_in) == (SizeType.FLOTATION, 15)
    assert inches(size) == pytest.approx(31.0)
    assert size.width_mm == pytest.approx(10.5 * MM_PER_IN)


@pytest.mark.published("3.20", basis="R", source="a light truck's owner's manual")
@pytest.mark.parametrize(
    ("marking", "kind"),
    [
        ("P205/75R15", SizeType.P_METRIC),
        ("205/75R15", SizeType.METRIC),
        ("LT235/75R15", SizeType.LT_METRIC),
        ("T145/80D18", SizeType.TEMPORARY),
        ("S145/80D18", SizeType.TEMPORARY),
    ],
)
def test_prefix_tells_the_kind(marking: str, kind: SizeType) -> None:
    assert read_size(marking).type is kind


@pytest.mark.published("3.21", basis="R2", source="published tables of load indices to 123")
@pytest.mark.parametrize(("index", "kg"), [(62, 265), (91, 615), (100, 800), (110, 1060)])
def test_load_index_in_kg(index: int, kg: int) -> None:
    assert LOAD_KG[index] == kg


@pytest.mark.published("3.21", basis="C", source="45 x 10^(index/80), within 1.8 % everywhere")
def test_load_table_follows_its_formula() -> None:
    for index, kg in LOAD_KG.items():
        assert kg == pytest.approx(45 * 10 ** (index / 80), rel=0.018)


@pytest.mark.published("3.22", basis="R2", source="misprints in trade pages: 62 as 165 and others")
def test_load_table_only_grows() -> None:
    values = list(LOAD_KG.values())

    assert len(values) == 67
    assert values == sorted(set(values))


@pytest.mark.published("3.23", basis="R2", source="a reference table of speed symbols")
def test_h_stands_between_u_and_v() -> None:
    assert SPEED_KMH["U"] == 200
    assert SPEED_KMH["H"] == 210
    assert SPEED_KMH["V"] == 240
    assert [SPEED_KMH[each] for each in ("A1", "A8", "B", "G", "L", "S", "W", "Y")] == [
        *(5, 40, 50, 90, 120, 180, 270, 300)
    ]


@pytest.mark.published("3.24", basis="R2", source="the same table: VR is 210 km/h and over")
def test_old_letter_inside_a_size_is_a_speed_and_no_load() -> None:
    size = read_size("185/70VR14")

    assert (size.speed_symbol, size.load_index) == ("V", None)
    assert SizeNote.OLD_V in size.notes


@pytest.mark.published("3.B", basis="C", source=TABLE)
@pytest.mark.parametrize(
    ("marking", "height", "mm", "across", "turns", "rim", "width"),
    [
        ("195/60R15", 117.00, 615.0, 24.21, 833.0, 6.0, 201.4),
        ("205/60R15", 123.00, 627.0, 24.69, 817.0, 6.0, 208.6),
        ("215/60R15", 129.00, 639.0, 25.16, 801.7, 6.5, 220.8),
        ("215/65R15", 139.75, 660.5, 26.00, 775.6, 6.5, 220.8),
        ("225/60R15", 135.00, 651.0, 25.63, 786.9, 6.5, 228.0),
        ("235/60R15", 141.00, 663.0, 26.10, 772.7, 7.0, 240.3),
        ("245/60R15", 147.00, 675.0, 26.57, 758.9, 7.0, 247.5),
        ("255/60R15", 153.00, 687.0, 27.05, 745.7, 7.5, 259.8),
        ("275/60R15", 165.00, 711.0, 27.99, 720.5, 8.0, 279.3),
        ("185/70R14", 129.50, 614.6, 24.20, 833.5, 5.5, 189.1),
        ("195/70R14", 136.50, 628.6, 24.75, 814.9, 6.0, 201.4),
        ("205/70R14", 143.50, 642.6, 25.30, 797.2, 6.0, 208.6),
        ("225/70R15", 157.50, 696.0, 27.40, 736.0, 6.5, 228.0),
        ("215/75R15", 161.25, 703.5, 27.70, 728.2, 6.0, 215.8),
        ("185/75R14", 138.75, 633.1, 24.93, 809.1, 5.0, 184.0),
        ("195/75R15", 146.25, 673.5, 26.52, 760.6, 5.5, 196.3),
        ("235/75R15", 176.25, 733.5, 28.88, 698.4, 6.5, 235.2),
        ("195/50R15", 97.50, 576.0, 22.68, 889.4, 6.0, 201.4),
        ("265/75R15", 198.75, 778.5, 30.65, 658.0, 7.5, 267.0),
        ("265/70R17", 185.50, 802.8, 31.61, 638.1, 8.0, 272.1),
        ("285/75R16", 213.75, 833.9, 32.83, 614.3, 8.0, 286.5),
        ("235/45R17", 105.75, 643.3, 25.33, 796.3, 8.0, 236.4),
    ],
)
def test_dimensions_of_22_sizes(
    marking: str, height: float, mm: float, across: float, turns: float, rim: float, width: float
) -> None:
    size = read_size(marking)

    assert section_height_mm(size) == pytest.approx(height, abs=0.005)
    assert diameter_mm(size) == pytest.approx(mm, abs=0.051)
    assert inches(size) == pytest.approx(across, abs=0.0051)
    assert revs_per_mile(size) == pytest.approx(turns, abs=0.051)
    assert measuring_rim_in(size) == rim
    assert section_width_mm(size) == pytest.approx(width, abs=0.051)


@pytest.mark.published("10.11", basis="R2", source="encyclopedia text: reads 6.7 % high")
def test_smaller_wheels_make_the_dial_read_6_7_percent_high() -> None:
    """100 shown are 93.7 true."""
    factor = odometer_factor(read_size("185/70R14"), read_size("195/50R15"))

    assert 100 * factor == pytest.approx(93.7, abs=0.05)
    assert 100 * (1 / factor - 1) == pytest.approx(6.7, abs=0.05)


@pytest.mark.published(
    "1990 sizes", basis="R", source="Consumer Reports, April 1990, pp. 235-288 (data set car90)"
)
def test_sizes_of_108_cars_of_1990_are_read() -> None:
    """Every diameter lies from 19 to 28 in, rounded: 225/75R15 is 28.29."""
    with SIZES_OF_1990.open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))

    sizes = [read_size(row["tire"] + row["rim"]) for row in rows]

    assert len(sizes) == 108
    assert all(19 <= round(inches(size)) <= 28 for size in sizes)
