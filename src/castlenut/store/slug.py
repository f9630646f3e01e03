"""A car's short name: its file's name, so safe on every platform."""

import re
import unicodedata

from castlenut.domain.errors import BadInput, Fault

LONGEST = 48
_FORM = re.compile(r"[a-z0-9][a-z0-9-]{0,47}")
_OTHER = re.compile(r"[^a-z0-9]+")
_LIKE_A_SECOND = re.compile(r".*-[0-9a-f]{8}")
# Names of devices on one platform, and the names of our own files beside the cars'.
_RESERVED = frozenset(
    {"con", "prn", "aux", "nul", "garage", "feed", "rules"}
    | {f"{port}{number}" for port in ("com", "lpt") for number in range(1, 10)}
)


def is_slug(text: str) -> bool:
    """Tell whether a file's name may be a car's, one that parts two of one name among them."""
    return _FORM.fullmatch(text) is not None


def check_slug(text: str) -> str:
    """Give the short name back if a new car may have it.

    Raises:
        BadInput: it may not; a name near it is offered.
    """
    if not is_slug(text):
        what = f"{text!a} may not be a car's short name"
    elif text in _RESERVED:
        what = f"{text!a} is a reserved name"
    elif _LIKE_A_SECOND.fullmatch(text):
        what = f"{text!a} ends like a name that parts two cars (- and 8 digits)"
    else:
        return text
    near = slug_from(text)
    raise BadInput(
        Fault(
            what,
            "short name",
            f"use a-z, 0-9 and -, at most {LONGEST}, beginning with a letter or digit: {near}",
        )
    )


def slug_from(description: str) -> str:
    """Make a short name from a car's description: accents dropped, hyphens between words."""
    plain = unicodedata.normalize("NFKD", description).encode("ascii", "ignore").decode().lower()
    slug = _OTHER.sub("-", plain).strip("-")[:LONGEST].rstrip("-") or "car"
    if slug in _RESERVED or _LIKE_A_SECOND.fullmatch(slug):
        slug = f"{slug[: LONGEST - 4].rstrip('-')}-car"
    return slug
