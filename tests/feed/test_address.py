"""The secret name of a feed."""

import hashlib
import hmac

from castlenut.feed.address import token

SECRET = bytes(range(32))


def test_a_token_is_the_first_half_of_the_feeds_authentication_code() -> None:
    whole = hmac.new(SECRET, b"garage|0", hashlib.sha256).hexdigest()

    assert token(SECRET, "garage", 0) == whole[:32]


def test_a_new_generation_a_feed_or_a_secret_gives_another_token() -> None:
    one = token(SECRET, "garage", 0)

    others = {
        token(SECRET, "garage", 1),
        token(SECRET, "owner|ada", 0),
        token(bytes(32), "garage", 0),
    }

    assert len(others) == 3
    assert one not in others
