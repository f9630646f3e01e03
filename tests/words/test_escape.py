"""Hostile text made harmless for a terminal."""

from hypothesis import given
from hypothesis import strategies as st

from castlenut.words.escape import lines_of, one_line


def test_control_characters_are_shown_and_not_sent() -> None:
    assert one_line("red\x1b[31m") == "red\\x1b[31m"
    assert one_line("bell\x07, \x9b csi") == "bell\\x07, \\x9b csi"


def test_what_turns_the_reading_direction_is_shown() -> None:
    assert one_line("abc\u202edef\u2066") == "abc\\u202edef\\u2066"


def test_half_a_character_is_shown() -> None:
    assert one_line("a\ud800b") == "a\\ud800b"


def test_line_feeds_and_tabs_of_a_note_become_blanks() -> None:
    assert one_line("first\nsecond\tthird") == "first second third"
    assert lines_of("first\nsecond\x1b") == ("first", "second\\x1b")


def test_a_name_is_cut_at_200_with_dots() -> None:
    shown = one_line("x" * 201)

    assert len(shown) == 200
    assert shown.endswith("x...")


def test_words_in_any_script_stay() -> None:
    assert one_line("Škoda 東京 [/b]") == "Škoda 東京 [/b]"


@given(st.text())
def test_nothing_hostile_is_left(text: str) -> None:
    shown = one_line(text)

    assert not any(character < " " or "\x7f" <= character <= "\x9f" for character in shown)
    assert not any("\u202a" <= character <= "\u202e" for character in shown)
    assert len(shown) <= 200
