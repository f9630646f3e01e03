"""docs/screens.md and docs/paper.md show every picture that is made, and no other."""

import re

from tests.paper.pictures import PAPERS
from tests.screens.pictures import ADDRESS, FOLDER, PICTURES, ROOT

EXAMPLE = f"http://{ADDRESS}:"


def test_every_picture_made_is_shown_and_every_one_shown_is_made() -> None:
    told = (ROOT / "docs" / "screens.md").read_text(encoding="utf-8")
    shown = re.findall(r"!\[[^\]]+\]\(pictures/([a-z-]+)\.svg\)", told)

    assert sorted(shown) == sorted(PICTURES)
    assert sorted(path.stem for path in FOLDER.glob("*.svg")) == sorted(PICTURES)


def test_every_printed_page_drawn_is_shown_and_every_one_shown_is_drawn() -> None:
    told = (ROOT / "docs" / "paper.md").read_text(encoding="utf-8")
    shown = re.findall(r"!\[[^\]]+\]\(pictures/([a-z-]+)\.png\)", told)

    assert sorted(shown) == sorted(path.stem for path in FOLDER.glob("*.png"))
    assert sorted(shown) == sorted(PAPERS.values())


def test_no_picture_fetches_a_font_or_anything_else() -> None:
    for path in FOLDER.glob("*.svg"):
        links = re.findall(r"https?://[^\"' )<]+", path.read_text(encoding="utf-8"))
        shown = [each for each in links if each.startswith(EXAMPLE)]  # as text, not fetched

        assert set(links) - set(shown) <= {
            "http://www.w3.org/2000/svg",
            "https://www.textualize.io",
        }, path


def test_no_picture_of_the_pages_is_heavier_than_200_kilobytes() -> None:
    heavy = [path.name for path in FOLDER.iterdir() if path.stat().st_size > 200_000]

    assert heavy == []
