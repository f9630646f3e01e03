"""A paper as one printable page of HTML: nothing is fetched, it stands alone."""

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from castlenut.paper.paper import Paper
from castlenut.words.cautions import DEFERRING_LINE
from castlenut.words.escape import LONGEST_TEXT, one_line
from castlenut.words.qr import qr_picture


def page(paper: Paper) -> bytes:
    """Give the page, UTF-8; what a record holds is escaped and has no control characters."""
    environment = Environment(
        loader=PackageLoader("castlenut.paper"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["plain"] = _plain
    # drawn by the QR library from the address: it holds paths and figures alone
    code = None if paper.feed is None else Markup(qr_picture(paper.feed))  # noqa: S704
    told = environment.get_template("page.html").render(
        paper=paper, code=code, deferring=DEFERRING_LINE, name_of=_name_of
    )
    return told.encode()


def _name_of(paper: Paper) -> str:
    """Give what stands below each page, as a text in CSS: only letters and figures are bare."""
    name = f"{paper.kind.value.capitalize()}: {_plain(paper.head.car)}"
    return "".join(each if each.isalnum() else f"\\{ord(each):x} " for each in name)


def _plain(text: str) -> str:
    return one_line(text, LONGEST_TEXT)
