"""One value all round, or FRONT/REAR, though a slash may stand inside each."""

import pytest

from castlenut.domain.errors import BadInput
from castlenut.domain.tires.per_axle import per_axle, read_pair


@pytest.mark.parametrize(
    ("text", "front", "rear"),
    [
        ("205/60R15", "205/60R15", "205/60R15"),
        ("205/60R15/225/60R15", "205/60R15", "225/60R15"),
        ("205/60 r 15 91h/225/60R15 95V", "205/60R15", "225/60R15"),
        ("205/60R15, 225/60R15", "205/60R15", "225/60R15"),
        ("G78-15/H78-15", "G78-15", "H78-15"),
        ("155R13/185/60R13", "155R13", "185/60R13"),
        ("31x10.5R15LT/33x12.5R15LT", "31x10.5R15LT", "33x12.5R15LT"),
        ("235/75R15 112/109S", "235/75R15", "235/75R15"),
    ],
)
def test_a_size_that_can_be_read_whole_is_not_parted(text: str, front: str, rear: str) -> None:
    found = read_pair(text)

    assert tuple(size.designation for size in found) == (front, rear)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (
            "205/60R15/225/6R15",
            (
                "size, rear: '225/6R15' cannot be read at character 6, 'R';"
                " expected there: an aspect ratio, 20 to 100"
            ),
        ),
        (
            "20/60R15/225/60R15",
            (
                "size, front: '20/60R15' cannot be read at character 3, '/';"
                " expected there: a width in mm, three digits from 105 to 495"
            ),
        ),
        (
            "205/6R15",
            (
                "size: '205/6R15' cannot be read at character 6, 'R';"
                " expected there: an aspect ratio, 20 to 100"
            ),
        ),
    ],
)
def test_the_part_that_cannot_be_read_is_named(text: str, fault: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_pair(text)

    assert [str(each) for each in refused.value.faults] == [fault]


def test_figures_are_parted_as_well() -> None:
    def read(text: str) -> float:
        try:
            return float(text)
        except ValueError:
            raise BadInput from None

    assert per_axle("6.5", read) == (6.5, 6.5)
    assert per_axle("6/7.5", read) == (6.0, 7.5)
    assert per_axle("10/-6", read) == (10.0, -6.0)
