"""A feed before and after it is put into bytes."""

import hashlib
from collections.abc import Mapping
from datetime import date

from castlenut.domain.frozen import dataclass
from castlenut.feed.ledger import Entry

_FORM = "1"  # another number makes every feed anew


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """All that one feed shows, by UID; `until` is the last day it looks ahead to."""

    feed: str
    name: str
    color: str
    until: date
    entries: Mapping[str, Entry]

    @property
    def source(self) -> str:
        """Give a digest of all this: while it is the same, so are the bytes made from it."""
        digest = hashlib.sha256(
            repr((_FORM, self.feed, self.name, self.color, self.until)).encode()
        )
        for uid in sorted(self.entries):
            digest.update(repr((uid, self.entries[uid])).encode())
        return digest.hexdigest()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rendered:
    """The bytes of a feed, how many events are in it, and to which day it shows."""

    data: bytes
    events: int
    until: date
