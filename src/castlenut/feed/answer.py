"""What the feed server answers: HTTP as far as a calendar that is fetched needs it (RFC 9110)."""

import hashlib
import hmac
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from email.utils import format_datetime, parsedate_to_datetime

from castlenut.domain.frozen import dataclass
from castlenut.feed.feeds import Feed

UNKNOWN = "unknown"
_ETAG_DIGITS = 32
_RETRY_SECONDS = 60
_PLAIN = ("Content-Type", "text/plain; charset=utf-8")
_NOT_FOUND = b"Not found."
_NOT_ALLOWED = b"Only GET and HEAD are answered here."
_NOT_READY = b"The feed cannot be made at the moment."


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """A feed and the target of a request for it: `/<token>/garage.ics`."""

    feed: Feed
    target: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A feed ready to be sent: its bytes, and when they last changed."""

    data: bytes
    changed: datetime

    @property
    def etag(self) -> str:
        """Give its strong validator, in quotes."""
        return f'"{hashlib.sha256(self.data).hexdigest()[:_ETAG_DIGITS]}"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One answer. `asked` is the kind of feed for the log, "unknown" where there is none."""

    status: int
    headers: tuple[tuple[str, str], ...]
    body: bytes
    asked: str


def answer(
    method: str,
    target: str,
    headers: Mapping[str, str],
    *,
    addresses: Sequence[Address],
    held: Callable[[Feed], Held | None],
    now: datetime,
) -> Answer:
    """Answer one request.

    An unknown target gets the same bytes and headers whatever is wrong with it, and costs the same
    work: every address is compared, in constant time, and nothing is asked of `held`.

    Args:
        method: as it was sent.
        target: as it was sent, compared whole and raw.
        headers: by lower-case name.
        addresses: all feeds that are served.
        held: gives a feed as it is now; None where it cannot be made and never was.
        now: the instant, which Last-Modified never passes.
    """
    known = _known(target, addresses)
    if known is None:
        return _with_body(404, _NOT_FOUND, UNKNOWN, (_PLAIN, ("Cache-Control", "no-store")), method)
    asked = known.kind.value
    if method not in {"GET", "HEAD"}:
        allow = (_PLAIN, ("Allow", "GET, HEAD"), ("Cache-Control", "no-store"))
        return _with_body(405, _NOT_ALLOWED, asked, allow, method)
    found = held(known)
    if found is None:
        later = (_PLAIN, ("Retry-After", str(_RETRY_SECONDS)), ("Cache-Control", "no-store"))
        return _with_body(503, _NOT_READY, asked, later, method)
    changed = min(found.changed, now).astimezone(UTC).replace(microsecond=0)
    kept = (
        ("ETag", found.etag),
        ("Last-Modified", format_datetime(changed, usegmt=True)),
        ("Cache-Control", "private, no-cache"),
    )
    if _is_unchanged(headers, found.etag, changed):
        return Answer(status=304, headers=kept, body=b"", asked=asked)
    calendar = (
        ("Content-Type", "text/calendar; charset=utf-8"),
        *kept,
        ("X-Content-Type-Options", "nosniff"),
    )
    return _with_body(200, found.data, asked, calendar, method)


def _known(target: str, addresses: Sequence[Address]) -> Feed | None:
    wanted = _digest(target)
    found: Feed | None = None
    for address in addresses:
        if hmac.compare_digest(wanted, _digest(address.target)):
            found = address.feed
    return found


def _digest(target: str) -> bytes:
    return hashlib.sha256(target.encode("utf-8", "surrogatepass")).digest()


def _with_body(
    status: int, body: bytes, asked: str, headers: tuple[tuple[str, str], ...], method: str
) -> Answer:
    return Answer(
        status=status,
        headers=(*headers, ("Content-Length", str(len(body)))),
        body=b"" if method == "HEAD" else body,
        asked=asked,
    )


def _is_unchanged(headers: Mapping[str, str], etag: str, changed: datetime) -> bool:
    """Tell whether the client holds these bytes; If-None-Match wins over If-Modified-Since."""
    if (tags := headers.get("if-none-match")) is not None:
        held = {each.strip().removeprefix("W/") for each in tags.split(",")}
        return tags.strip() == "*" or etag in held
    since = _instant(headers.get("if-modified-since"))
    return since is not None and changed <= since


def _instant(text: str | None) -> datetime | None:
    """Read a date of HTTP; nonsense is none."""
    if text is None:
        return None
    try:
        read = parsedate_to_datetime(text)
    except (ValueError, TypeError, OverflowError):
        return None
    return read if read.tzinfo is not None else read.replace(tzinfo=UTC)
