"""Make the pictures of docs/paper.md from the sample fleet: run this file as a script.

Each paper is printed by a headless browser and drawn page by page: what is seen is what comes out
of a printer. With the name of a folder: all papers of all cars, in both sizes of paper, into it.
"""

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from tests.faces.in_process import ran  # noqa: E402 (the root of the checkout comes first)

FLEET = ROOT / "sample_fleet"
PICTURES = ROOT / "docs" / "pictures"
TODAY = "2026-11-25"
PAPERS = {"sheet": "due-sheet", "handover": "handover-book", "card": "job-card"}
SHOWN = {"sheet": "wendlecot", "handover": "pellworth", "card": "pellworth"}
SIZES = ("A4", "Letter")
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
DOTS_AN_INCH = 75


def main(folder: Path | None) -> str | None:
    """Make the pictures; give a sentence where a program that is needed is missing."""
    browser = next((found for each in BROWSERS if (found := shutil.which(each))), None)
    if browser is None or shutil.which("pdftoppm") is None:
        return f"install a headless browser ({', '.join(BROWSERS)}) and pdftoppm: one is missing"
    with tempfile.TemporaryDirectory() as work:
        fleet = Path(work) / "fleet"
        shutil.copytree(FLEET, fleet)
        for paper, car, size, to in _wanted(fleet, folder):
            first_only = folder is None
            _draw(browser, Path(work), _printable(fleet, paper, car, size), to, only=first_only)
    return None


def _wanted(fleet: Path, folder: Path | None) -> Iterator[tuple[str, str, str, Path]]:
    """Give paper, car, size and the beginning of the picture's name."""
    if folder is None:
        for paper, name in PAPERS.items():
            yield paper, SHOWN[paper], SIZES[0], PICTURES / name
        return
    folder.mkdir(parents=True, exist_ok=True)
    for car in sorted(path.stem for path in (fleet / "vehicles").glob("*.json")):
        for paper, name in PAPERS.items():
            for size in SIZES:
                yield paper, car, size, folder / f"{name}-{car}-{size}"


def _printable(fleet: Path, paper: str, car: str, size: str) -> str:
    """Give the page for one size of paper; as it is, the browser's own size is taken."""
    page = fleet.parent / "page.html"
    answer = ran(paper, car, "--out", str(page), garage=fleet, today=TODAY)
    assert answer.code == 0, answer.err
    return page.read_text(encoding="utf-8").replace("</style>", f"@page {{ size: {size} }}</style>")


def _draw(browser: str, work: Path, html: str, to: Path, *, only: bool) -> None:
    """Print a page and draw it in gray, its first sheet only or every one."""
    page, printed = work / "sized.html", work / "printed.pdf"
    page.write_text(html, encoding="utf-8")
    subprocess.run(
        (
            *(browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"),
            *(f"--user-data-dir={work / 'profile'}", f"--print-to-pdf={printed}", page.as_uri()),
        ),
        check=True,
        capture_output=True,
    )
    gray = ("pdftoppm", "-r", str(DOTS_AN_INCH), "-gray", "-png")
    one = ("-singlefile",) if only else ()
    subprocess.run((*gray, *one, str(printed), str(to)), check=True)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if sys.argv[1:] else None))
