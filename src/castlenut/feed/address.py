"""The name a feed is reached by: it is the secret, and tells nothing of what it stands for."""

import hashlib
import hmac

_TOKEN_BYTES = 16  # 128 bits


def token(secret: bytes, feed: str, generation: int) -> str:
    """Give the 32 hexadecimal characters of a feed's address; a new generation ends the old one."""
    digest = hmac.new(secret, f"{feed}|{generation}".encode(), hashlib.sha256).digest()
    return digest[:_TOKEN_BYTES].hex()
