import pytest

from castlenut.domain.errors import BadInput
from castlenut.store.slug import check_slug, is_slug, slug_from


@pytest.mark.parametrize(
    ("description", "slug"),
    [
        ("Tollgate wagon", "tollgate-wagon"),
        ("  Königsfähre, blau! ", "konigsfahre-blau"),
        ("№ 7", "no-7"),
        ("日本", "car"),
        ("CON", "con-car"),
        ("garage", "garage-car"),
        ("wagon deadbeef", "wagon-deadbeef-car"),
        ("x" * 60, "x" * 48),
        ("x" * 47 + " yy", "x" * 47),
    ],
)
def test_a_short_name_is_made_of_the_description(description: str, slug: str) -> None:
    assert slug_from(description) == slug
    assert check_slug(slug) == slug


@pytest.mark.parametrize(
    "text",
    [
        *("", "Wagon", "-wagon", "wa gon", "wägen", "../x", "x" * 49),
        *("con", "lpt1", "garage", "car-5f2c61d0"),
    ],
)
def test_a_name_that_is_not_safe_everywhere_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        check_slug(text)


def test_a_name_that_parts_two_cars_is_read_but_not_given() -> None:
    assert is_slug("car-5f2c61d0")


def test_a_refusal_offers_a_name() -> None:
    with pytest.raises(BadInput) as refused:
        check_slug("Blue Wagon")

    assert refused.value.faults[0].remedy.endswith(": blue-wagon")
