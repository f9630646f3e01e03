"""The feed server as installed, in a process of its own, asked over real sockets."""

import contextlib
import http.client
import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.faces.installed import Bench, script


@dataclass(frozen=True, slots=True)
class Reply:
    """One answer of the server."""

    status: int
    headers: Mapping[str, str]
    body: bytes


@dataclass(frozen=True, slots=True)
class Served:
    """A running server: where it listens, its process, the file its log goes to."""

    port: int
    process: subprocess.Popen[bytes]
    log: Path

    def ask(
        self,
        target: str,
        method: str = "GET",
        headers: Mapping[str, str] | None = None,
        body: bytes | None = None,
    ) -> Reply:
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            link.request(method, target, body=body, headers=dict(headers or {}))
            answer = link.getresponse()
            data = answer.read()
        finally:
            link.close()
        return Reply(
            answer.status, {name.lower(): text for name, text in answer.getheaders()}, data
        )

    def raw(self, request: bytes) -> bytes:
        """Send bytes as they are, and give all that comes back."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=30) as link:
            link.sendall(request)
            data = b""
            # what it did not read it answers by a reset, after its answer
            with contextlib.suppress(ConnectionResetError):
                while more := link.recv(65_536):
                    data += more
        return data

    def end(self, how: signal.Signals) -> int:
        self.process.send_signal(how)
        return self.process.wait(timeout=20)


def free_port() -> int:
    with socket.socket() as link:
        link.bind(("127.0.0.1", 0))
        return int(link.getsockname()[1])


_AS_FROM_A_TERMINAL = (
    "import os, signal, sys; signal.signal(signal.SIGINT, signal.SIG_DFL); os.execv(sys.argv[1],"
    " sys.argv[1:])"
)


def begin(bench: Bench, on: str, port: int, *words: str) -> subprocess.Popen[bytes]:
    """Begin `feed serve`; SIGINT has its usual meaning, which a shell's background job lacks."""
    with (bench.home / "serve.log").open("wb") as log:
        return subprocess.Popen(
            (
                *(sys.executable, "-c", _AS_FROM_A_TERMINAL),
                *(script(), "--garage", str(bench.garage), "--today", on),
                *("feed", "serve", "--port", str(port), *words),
            ),
            stdout=subprocess.PIPE,
            stderr=log,
            env=dict(bench.environment()),
        )


@contextmanager
def serving(bench: Bench, on: str, *words: str) -> Iterator[Served]:
    """Give a server that answers; it is ended afterwards if it still runs."""
    port = free_port()
    process = begin(bench, on, port, *words)
    assert process.stdout is not None
    first = process.stdout.readline().decode()
    assert first.startswith("serving on "), (first, (bench.home / "serve.log").read_text())
    try:
        yield Served(port, process, bench.home / "serve.log")
    finally:
        if process.poll() is None:
            process.kill()
        process.wait()
        process.stdout.close()


def target_of(bench: Bench, on: str, *whose: str) -> str:
    """Give what a request for a feed names, from the address that the program tells."""
    told = bench(on, "feed", "address", *whose, "--json").json()["feeds"][0]["address"]
    found = re.search(r"//[^/]+(/.*)$", told) if told else None
    assert found is not None, "this machine is in no network"
    return found[1]


def memory_kb(process: int) -> int:
    """Give the resident memory of a process, as Linux tells it."""
    status = Path(f"/proc/{process}/status").read_text(encoding="ascii")
    found = re.search(r"VmRSS:\s+(\d+) kB", status)
    assert found is not None
    return int(found[1])


HAS_PROC = Path("/proc/self/status").exists()
