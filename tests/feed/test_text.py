"""Text made fit for a calendar file."""

import pytest

from castlenut.feed.text import cut, cut_lines, lines_of, listed, one_line


@pytest.mark.parametrize(
    ("given", "clean"),
    [
        ("Bearing\r\nrepack", "Bearing repack"),
        ("Bearing\rrepack", "Bearing repack"),
        ("Bearing\x85repack\u2028now\u2029then", "Bearing repack now then"),
        ("tab\tand\x00null", "tab andnull"),
        ("half \ud83d character", "half character"),
        ("right\u202eto\u2066left\u200f", "righttoleft"),
        ("\ufeffmark\ufffd\uffff\ufffe", "mark"),
        ("   many    blanks  ", "many blanks"),
        ("e\u0301", "\u00e9"),
        ("e\x00\u0301", "\u00e9"),
        ('a;b,c\\d & "q"', 'a;b,c\\d & "q"'),
        ("\u65e5\u672c\u8a9e", "\u65e5\u672c\u8a9e"),
        (" \t ", ""),
    ],
)
def test_one_line_holds_nothing_a_reader_chokes_on(given: str, clean: str) -> None:
    assert one_line(given) == clean


def test_lines_keep_their_breaks_and_lose_empty_ones() -> None:
    assert lines_of("first  line\r\n\r\n second\x0bthird\x1c") == ("first line", "second", "third")


def test_a_title_is_cut_at_a_words_end() -> None:
    assert cut("Blue wagon of the harbor", 20) == "Blue wagon of the…"
    assert len(cut("Blue wagon of the harbor", 20)) == 18


def test_a_title_that_fits_is_left_alone() -> None:
    assert cut("exactly twenty chars", 20) == "exactly twenty chars"


def test_a_word_too_long_is_cut_inside() -> None:
    assert cut("A" * 30, 20) == "A" * 19 + "…"


def test_a_text_is_cut_at_a_lines_end() -> None:
    lines = ("Due 12 Jun 2027.", "Every 24 months.", "Last done 12 Jun 2025.")

    assert cut_lines(lines, 40) == "Due 12 Jun 2027.\nEvery 24 months. …"


def test_a_first_line_too_long_is_cut_at_a_word() -> None:
    assert cut_lines(("one two three four", "five"), 10) == "one two…"


def test_a_text_without_limit_is_whole() -> None:
    assert cut_lines(("a" * 500, "b" * 500), None) == "a" * 500 + "\n" + "b" * 500


def test_a_list_names_how_many_more_there_are() -> None:
    assert listed(["one", "two", "three"], most=2) == ("one", "two", "and 1 more")
    assert listed(["one", "two"], most=2) == ("one", "two")
