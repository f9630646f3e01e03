"""When a published date moves: rarely, sooner for an earlier date than for a later one."""

from datetime import date, timedelta
from math import ceil


def published_day(natural: date, published: date | None, *, is_exact: bool, as_of: date) -> date:
    """Give the day an event is published on.

    `natural` is the day the median path of use crosses the due point. An exact side (calendar,
    age, season, event) moves at once. A reached one stays where it stands, or comes to `as_of`. Any
    other moves when it stands too late by more than 3 days and a tenth of the time left, or too
    early by more than 7 days and a fifth: a date told too late is the dearer mistake. Just at the
    margin it stays.
    """
    if published is None or is_exact:
        return natural
    if natural <= as_of:
        return min(published, as_of)
    left = max((published - as_of).days, 0)
    earliest = published - timedelta(days=max(3, ceil(left / 10)))
    latest = published + timedelta(days=max(7, ceil(left / 5)))
    return published if earliest <= natural <= latest else natural
