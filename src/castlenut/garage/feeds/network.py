"""Where this machine is found in its own network."""

import socket

_SOMEWHERE = ("192.0.2.1", 9)  # an address kept for documentation (RFC 5737): nothing is sent


def own_address() -> str | None:
    """Give the address of this machine in its network; None where it is in none.

    A datagram socket is connected, which only asks for the way and sends nothing.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way:
        try:
            way.connect(_SOMEWHERE)
        except OSError:
            return None
        found: str = way.getsockname()[0]
    return None if found.startswith(("127.", "0.")) else found
