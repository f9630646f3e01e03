"""What the rows of the feed screen say: every feed, and where feeds are published."""

from collections.abc import Iterator

from castlenut.feed.feeds import FeedKind
from castlenut.garage.feeds.overview import FeedRow
from castlenut.garage.feeds.targets import Target
from castlenut.screens.widgets.columns import Column, Line
from castlenut.words.feeds import feed_words, target_words

FEED_COLUMNS = (
    Column(head="feed", width=8),
    Column(head="of", width=20, grow=3),
    Column(head="events", width=6, is_right=True),
    Column(head="until", width=10, narrow=5),
    Column(head="last changed", width=16, least=70),
)
TARGET_COLUMNS = (
    Column(head="published in", width=24, grow=3),
    Column(head="feed", width=16, grow=1),
    Column(head="how it stands", width=24, grow=2),
)
NO_TARGET = "Nothing is published: f adds a folder on the web, to be kept current"


def feed_key(row: FeedRow) -> str:
    """Give the key of a feed's row."""
    return row.subject.feed.id


def feed_lines(rows: tuple[FeedRow, ...]) -> Iterator[Line]:
    """Give a row for each feed; what was never made has no figures yet."""
    for row in rows:
        of = row.description or row.subject.name or "all cars"
        last = row.last
        yield Line(
            key=feed_key(row),
            cells=(
                row.subject.feed.kind.value,
                of,
                "-" if last is None else f"{last.events:,}",
                "-" if last is None else last.until.isoformat(),
                "not made yet" if last is None else f"{last.changed:%Y-%m-%d %H:%M}",
            ),
            color="quiet" if last is None else "text",
            name=of,
            sought=row.subject.name or "",
        )


def target_lines(targets: tuple[Target, ...]) -> Iterator[Line]:
    """Give a row for each place where a feed is published; one with a fault is marked."""
    for each in targets:
        is_wrong = each.fault is not None and not each.is_elsewhere
        stands = target_words(
            written=each.written, fault=each.fault, is_elsewhere=each.is_elsewhere
        )
        yield Line(
            key=each.path,
            cells=(
                f"!! {each.path}" if is_wrong else each.path,
                feed_words(each.subject.feed.kind.value, each.subject.name),
                stands,
            ),
            color="overdue" if is_wrong else "text",
            name=each.path,
        )


def kind_words(row: FeedRow) -> str:
    """Say which feed it is, in a sentence."""
    if row.subject.feed.kind is FeedKind.GARAGE:
        return "the garage's feed"
    return f"the feed of {row.description or row.subject.name}"
