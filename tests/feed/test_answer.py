"""What the feed server answers, by the rules of RFC 9110; feeds and addresses are invented."""

from collections.abc import Mapping
from datetime import UTC, datetime
from hashlib import sha256
from hmac import compare_digest
from unittest.mock import patch

import pytest

from castlenut.domain.ids import VehicleId
from castlenut.feed.answer import Address, Answer, Held, answer
from castlenut.feed.feeds import GARAGE_FEED, Feed, vehicle_feed

TOKEN = "7f257c9f203ca4cdf103ff725562879a"
OTHER = "3d4fe0b63c7f257c9f203ca4cdf103ff"
TARGET = f"/{TOKEN}/garage.ics"
ADDRESSES = (
    Address(feed=GARAGE_FEED, target=TARGET),
    Address(
        feed=vehicle_feed(VehicleId("11111111-1111-7111-8111-111111111111")),
        target=f"/{OTHER}/vehicle.ics",
    ),
)
BYTES = b"BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n"
ETAG = '"' + sha256(BYTES).hexdigest()[:32] + '"'
CHANGED = datetime(2026, 11, 24, 8, 0, 5, tzinfo=UTC)
NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)


def held(_feed: Feed) -> Held | None:
    return Held(data=BYTES, changed=CHANGED)


def ask(
    method: str = "GET", target: str = TARGET, headers: Mapping[str, str] | None = None
) -> Answer:
    return answer(method, target, headers or {}, addresses=ADDRESSES, held=held, now=NOW)


def test_get_gives_the_calendar_with_its_validators() -> None:
    found = ask()

    assert found.status == 200
    assert found.body == BYTES
    assert dict(found.headers) == {
        "Content-Type": "text/calendar; charset=utf-8",
        "ETag": ETAG,
        "Last-Modified": "Tue, 24 Nov 2026 08:00:05 GMT",
        "Cache-Control": "private, no-cache",
        "X-Content-Type-Options": "nosniff",
        "Content-Length": "32",
    }


def test_head_gives_the_same_headers_and_no_body() -> None:
    found = ask("HEAD")

    assert (found.status, found.body) == (200, b"")
    assert found.headers == ask("GET").headers


def test_last_modified_is_never_in_the_future() -> None:
    ahead = Held(data=BYTES, changed=datetime(2027, 1, 1, tzinfo=UTC))

    found = answer("GET", TARGET, {}, addresses=ADDRESSES, held=lambda _: ahead, now=NOW)

    assert dict(found.headers)["Last-Modified"] == "Wed, 25 Nov 2026 09:30:00 GMT"


@pytest.mark.parametrize(
    "tags", [ETAG, f'"x", {ETAG}', f"W/{ETAG}", "*", f' {ETAG} , "y"'], ids=str
)
def test_a_client_that_holds_the_bytes_is_told_so_without_them(tags: str) -> None:
    found = ask(headers={"if-none-match": tags})

    assert (found.status, found.body) == (304, b"")
    assert [name for name, _ in found.headers] == ["ETag", "Last-Modified", "Cache-Control"]


@pytest.mark.parametrize("tags", ['"x"', ETAG.strip('"'), ETAG[:-2] + '"', ""])
def test_another_tag_gets_the_bytes(tags: str) -> None:
    assert ask(headers={"if-none-match": tags}).status == 200


def test_if_none_match_wins_over_if_modified_since() -> None:
    later = "Wed, 25 Nov 2026 00:00:00 GMT"

    found = ask(headers={"if-none-match": '"x"', "if-modified-since": later})

    assert found.status == 200


@pytest.mark.parametrize(
    ("since", "status"),
    [
        ("Tue, 24 Nov 2026 08:00:05 GMT", 304),
        ("Wed, 25 Nov 2026 00:00:00 GMT", 304),
        ("Tue, 24 Nov 2026 08:00:04 GMT", 200),
        ("Tuesday, 24-Nov-26 08:00:05 GMT", 304),
        ("yesterday", 200),
        ("", 200),
        ("Tue, 99 Nov 2026 08:00:05 GMT", 200),
        ("Tue, 24 Nov 99999999999 08:00:05 GMT", 200),
    ],
)
def test_if_modified_since_is_read_and_nonsense_ignored(since: str, status: int) -> None:
    assert ask(headers={"if-modified-since": since}).status == status


@pytest.mark.parametrize(
    "method", ["PUT", "POST", "DELETE", "OPTIONS", "TRACE", "PROPFIND", "BREW", "get"]
)
def test_any_other_method_on_a_feed_is_refused_whatever_stands_with_it(method: str) -> None:
    found = ask(method, headers={"if-match": '"x"', "if-none-match": ETAG})

    assert found.status == 405
    assert dict(found.headers)["Allow"] == "GET, HEAD"


WRONG = [
    "/",
    "",
    "*",
    f"/{TOKEN}",
    f"/{TOKEN}/",
    f"/{TOKEN}/garage",
    f"/{TOKEN}/vehicle.ics",
    f"/{TOKEN}/GARAGE.ics",
    f"/{TOKEN.upper()}/garage.ics",
    f"/{TOKEN[:-1]}/garage.ics",
    f"/{TOKEN}0/garage.ics",
    f"/{OTHER}/garage.ics",
    f"/{'0' * 32}/garage.ics",
    f"//{TOKEN}/garage.ics",
    f"/{TOKEN}//garage.ics",
    f"/{TOKEN}/../{TOKEN}/garage.ics",
    f"/./{TOKEN}/garage.ics",
    f"/%37{TOKEN[1:]}/garage.ics",
    f"/{TOKEN}/garage%2eics",
    f"{TARGET}?",
    f"{TARGET}?a=b",
    f"{TARGET}#top",
    f"{TARGET} ",
    f"http://192.0.2.7:8737{TARGET}",
    "/../../etc/passwd",
    "//etc/passwd",
    "/%2e%2e/%2e%2e/etc/passwd",
    "/feed.json",
    "/garage.json",
    f"/{TOKEN}/\x00",
    "/\udce4",
]


@pytest.mark.parametrize("method", ["GET", "HEAD", "PUT", "OPTIONS"])
def test_every_wrong_target_gets_the_same_answer(method: str) -> None:
    answers = {ask(method, target) for target in WRONG}

    (only,) = answers
    assert only.status == 404
    assert only.body == (b"" if method == "HEAD" else b"Not found.")
    assert dict(only.headers) == {
        "Content-Type": "text/plain; charset=utf-8",
        "Cache-Control": "no-store",
        "Content-Length": "10",
    }
    assert only.asked == "unknown"


@pytest.mark.parametrize("target", [TARGET, *WRONG[:6]])
def test_every_target_is_compared_with_every_feed_in_constant_time(target: str) -> None:
    with patch("castlenut.feed.answer.hmac.compare_digest", wraps=compare_digest) as spy:
        ask(target=target)

    assert spy.call_count == len(ADDRESSES)
    assert {len(each) for call in spy.call_args_list for each in call.args} == {32}


def test_a_wrong_target_asks_for_no_feed() -> None:
    asked: list[Feed] = []

    def spied(feed: Feed) -> None:
        asked.append(feed)

    answer("GET", "/x", {}, addresses=ADDRESSES, held=spied, now=NOW)

    assert asked == []


def test_a_feed_that_cannot_be_made_is_asked_for_again_later() -> None:
    found = answer("GET", TARGET, {}, addresses=ADDRESSES, held=lambda _: None, now=NOW)

    assert found.status == 503
    assert dict(found.headers)["Retry-After"] == "60"
