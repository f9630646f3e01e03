"""Where figures come from, and how far to trust them."""

from collections.abc import Mapping
from functools import lru_cache

from castlenut.domain.ids import OWN_NOTE
from castlenut.words.escape import LONGEST_TEXT, one_line

_BASIS: Mapping[str, str] = {
    "R": "read in the source",
    "R2": "read in a page that restates the source",
    "M": "from memory",
    "P": "common practice, no source",
    "C": "computed from published figures",
}


@lru_cache(maxsize=1024)  # the same few rules stand for all items
def sourced(source: str, basis: str) -> str:
    """Give a source with its basis; a figure without a source always says so."""
    if source == OWN_NOTE:
        return OWN_NOTE
    told, trust = one_line(source, LONGEST_TEXT), _BASIS[basis]
    return told if trust in told else f"{told}; {trust}"
