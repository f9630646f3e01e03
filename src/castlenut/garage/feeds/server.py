"""The feeds over HTTP, on the local network: waitress around the answers of `feed.answer`."""

import errno
import logging
import os
import re
import socket
from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from threading import Thread
from typing import Any

from waitress.server import create_server

from castlenut.domain.frozen import dataclass
from castlenut.feed.answer import Answer, answer
from castlenut.garage.feeds.shelf import Shelf

LOOPBACK = "127.0.0.1"
EVERYWHERE = "0.0.0.0"  # noqa: S104 (asked for with --lan: the phones in the house)
_JOIN_SECONDS = 5
_REASONS = {
    200: "OK",
    304: "Not Modified",
    404: "Not Found",
    405: "Method Not Allowed",
    503: "Service Unavailable",
}
_StartResponse = Callable[[str, list[tuple[str, str]]], object]


class NotServed(Exception):
    """The server could not begin, for a cause outside the input. The text says what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where the server listens."""

    host: str
    port: int

    @property
    def is_loopback(self) -> bool:
        """Tell whether only this machine reaches it."""
        return self.host.startswith("127.") or self.host in {"localhost", "::1"}


class Server:
    """A server that listens from the moment it is made, and answers once it runs."""

    def __init__(
        self,
        shelf: Shelf,
        place: Place,
        *,
        now: Callable[[], datetime],
        log: Callable[[str], None],
    ) -> None:
        """Listen.

        Args:
            shelf: gives the feeds.
            place: where to listen.
            now: gives the instant.
            log: takes a line for each request; never a target, token or user agent.

        Raises:
            NotServed: the port is in use, may not be used, or the address is none of this machine.
        """
        self.place = place
        self._shelf = shelf
        self._now = now
        self._log = log
        self._thread: Thread | None = None
        _route_faults(log)
        # Bound here: where that fails, the library would leave its threads and files open.
        listening = _listening(place)
        try:
            self._server = create_server(
                self._answered,
                sockets=[listening],
                ident=None,
                threads=4,
                connection_limit=200,
                channel_timeout=20,
                cleanup_interval=5,
                max_request_header_size=16_384,
                max_request_body_size=65_536,
                asyncore_use_poll=True,
                log_socket_errors=False,
            )
        except OSError as error:
            listening.close()
            raise NotServed(_why_not(error, place)) from error

    def run(self) -> None:
        """Answer until interrupted."""
        self._server.run()

    def start(self) -> None:
        """Answer in a thread of its own, until `close`."""
        self._thread = Thread(target=self._server.run, name="feed server", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """Stop listening, and end the threads."""
        self._server.close()
        self._server.task_dispatcher.shutdown()
        if self._thread is not None:
            self._thread.join(timeout=_JOIN_SECONDS)

    def _answered(
        self, environ: Mapping[str, Any], start_response: _StartResponse
    ) -> Iterable[bytes]:
        method = environ["REQUEST_METHOD"]
        found = answer(
            method,
            # PATH_INFO is decoded: `/%37f...` would pass for the real one
            environ["REQUEST_URI"],
            _headers(environ),
            addresses=self._shelf.addresses(),
            held=self._shelf.held,
            now=self._now(),
        )
        self._log(self._line(environ.get("REMOTE_ADDR", "-"), method, found))
        start_response(f"{found.status} {_REASONS[found.status]}", list(found.headers))
        return [found.body] if found.body else []

    def _line(self, client: str, method: str, found: Answer) -> str:
        at = self._now().isoformat(timespec="seconds")
        known = method if method in _METHODS else "other"
        return f"{at} {client} {known} {found.status} {found.asked} {len(found.body)}"


_ARGUMENT = re.compile(r"%\w")
_METHODS = frozenset({"GET", "HEAD", "OPTIONS", "POST", "PUT", "DELETE", "PROPFIND", "TRACE"})
_HEADERS = {
    "HTTP_IF_NONE_MATCH": "if-none-match",
    "HTTP_IF_MODIFIED_SINCE": "if-modified-since",
}


def _headers(environ: Mapping[str, Any]) -> Mapping[str, str]:
    return {name: environ[key] for key, name in _HEADERS.items() if key in environ}


def _listening(place: Place) -> socket.socket:
    """Give a socket bound to a place.

    Raises:
        NotServed: the port is in use, may not be used, or the address is none of this machine.
    """
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(
            place.host, place.port, type=socket.SOCK_STREAM
        )[0]
        listening = socket.socket(family, kind, protocol)
    except (OSError, UnicodeError) as error:
        raise NotServed(_no_such_place(place)) from error
    try:
        if os.name == "posix":  # elsewhere it would let two programs share the port
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind(address)
    except OSError as error:
        listening.close()
        raise NotServed(_why_not(error, place)) from error
    return listening


def _why_not(error: OSError, place: Place) -> str:
    if error.errno == errno.EADDRINUSE:
        return (
            f"Port {place.port} is in use. Stop the other program, or choose --port;"
            " subscribers then need the new address."
        )
    if error.errno in {errno.EACCES, errno.EPERM}:
        return f"Port {place.port} may not be used by this user. Choose --port above 1023."
    return _no_such_place(place)


def _no_such_place(place: Place) -> str:
    return f"{place.host} is no address of this machine. Give one that is, or --lan."


class _Told(logging.Handler):
    """Passes on what the library has to say, without traceback and without any target in it."""

    def __init__(self, log: Callable[[str], None]) -> None:
        super().__init__(level=logging.WARNING)
        self._log = log

    def emit(self, record: logging.LogRecord) -> None:
        self._log(_ARGUMENT.sub("...", str(record.msg)))


def _route_faults(log: Callable[[str], None]) -> None:
    library = logging.getLogger("waitress")
    library.handlers[:] = [_Told(log)]
    library.propagate = False
