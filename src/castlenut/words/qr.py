"""A QR code as rows of half blocks, with its quiet zone."""

import segno

_QUIET = 4
_HALVES = {(False, False): " ", (True, False): "\N{UPPER HALF BLOCK}"}
_HALVES |= {(False, True): "\N{LOWER HALF BLOCK}", (True, True): "\N{FULL BLOCK}"}


def qr_rows(text: str) -> tuple[str, ...]:
    """Give the code of a text, two of its rows in a row; to be shown dark on light."""
    code = segno.make(text, error="l", boost_error=False, micro=False)
    dots = [tuple(bool(dot) for dot in row) for row in code.matrix_iter(border=_QUIET)]
    light = (False,) * len(dots[0])
    pairs = zip(dots[::2], [*dots[1::2], light], strict=False)
    return tuple(
        "".join(_HALVES[upper, lower] for upper, lower in zip(top, bottom, strict=True))
        for top, bottom in pairs
    )


def qr_picture(text: str) -> str:
    """Give the code of a text as an SVG to stand in a page, black on white."""
    code = segno.make(text, error="l", boost_error=False, micro=False)
    return str(code.svg_inline(border=_QUIET, scale=3, light="#fff"))
