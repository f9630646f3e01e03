"""The theme chosen on a computer is kept, and nothing else in its file is lost."""

from pathlib import Path

import pytest

from castlenut.store.faults import NotSaved
from castlenut.store.preferences import Preferences, keep_theme, read_preferences


def test_without_a_file_nothing_was_chosen(tmp_path: Path) -> None:
    assert read_preferences(tmp_path / "settings.toml") == Preferences()


def test_a_theme_kept_is_read_again(tmp_path: Path) -> None:
    place = tmp_path / "castlenut" / "settings.toml"

    keep_theme(place, "daylight")

    assert read_preferences(place).theme == "daylight"


def test_what_else_stands_in_the_file_stays(tmp_path: Path) -> None:
    place = tmp_path / "settings.toml"
    place.write_text('# my keys\ntheme = "workshop"  # dark\n\n[keys]\nreading = "z"\n')

    keep_theme(place, "daylight")

    assert place.read_text() == ('# my keys\ntheme = "daylight"  # dark\n\n[keys]\nreading = "z"\n')
    assert read_preferences(place).keys == {"reading": "z"}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("theme = 3\n", 'theme is no text; write theme = "daylight"'),
        ('keys = "z"\n', 'keys is no table of texts; write [keys] and under it reading = "z"'),
        ("[keys]\nreading = 3\n", "keys is no table of texts"),
        ("theme = \n", "nothing in it is used until it is mended"),
    ],
)
def test_what_cannot_be_used_is_told(tmp_path: Path, text: str, told: str) -> None:
    place = tmp_path / "settings.toml"
    place.write_text(text)

    found = read_preferences(place)

    assert told in found.faults[0]
    assert (found.theme, found.keys) == (None, {})


def test_a_file_that_is_not_toml_is_not_written_over(tmp_path: Path) -> None:
    place = tmp_path / "settings.toml"
    place.write_text("theme = \n")

    with pytest.raises(NotSaved, match="the theme is not kept"):
        keep_theme(place, "daylight")

    assert place.read_text() == "theme = \n"
