"""The installed program on a terminal of its own: keys and clicks in, what stands on it out."""

import os
import pty
import select
import struct
import subprocess
import time
from collections.abc import Callable, Mapping, Sequence
from fcntl import ioctl
from signal import SIGKILL
from termios import TIOCSWINSZ
from types import TracebackType

import pyte

LONGEST_WAIT_S = 60.0
QUIET_S = 0.25
"""Without output for so long, all that was to be shown is shown."""
_KEYS = {
    "enter": "\r",
    "esc": "\x1b",
    "tab": "\t",
    "space": " ",
    "up": "\x1b[A",
    "down": "\x1b[B",
    "home": "\x1b[H",
    "end": "\x1b[F",
    "^p": "\x10",
    "^s": "\x13",
}


class Terminal:
    """A program on a pseudo-terminal, and what a person sees of it."""

    def __init__(
        self, command: Sequence[str], environment: Mapping[str, str], size: tuple[int, int]
    ) -> None:
        columns, rows = size
        self._screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self._screen)
        self._master, slave = pty.openpty()
        ioctl(slave, TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self._process = subprocess.Popen(
            command,
            env=environment,
            stdin=slave,
            stdout=slave,
            stderr=slave,
            start_new_session=True,
        )
        os.close(slave)
        self.written = b""
        """All that was written so far, its color codes too."""

    def __enter__(self) -> "Terminal":
        return self

    def __exit__(
        self, _: type[BaseException] | None, __: BaseException | None, ___: TracebackType | None
    ) -> None:
        if self._process.poll() is None:
            os.killpg(self._process.pid, SIGKILL)
        self._process.wait()
        os.close(self._master)

    @property
    def lines(self) -> list[str]:
        """Give what stands on the terminal, row by row."""
        return list(self._screen.display)

    @property
    def text(self) -> str:
        """Give what stands on the terminal as one text."""
        return "\n".join(self.lines)

    @property
    def words(self) -> str:
        """Give what stands on the terminal with single blanks, frames left out."""
        return " ".join(self.text.replace("│", " ").split())

    def press(self, *keys: str) -> None:
        """Press keys, each a name or a letter, and wait until the program rests."""
        for key in keys:
            os.write(self._master, _KEYS.get(key, key).encode())
            self._rest()

    def type(self, text: str) -> None:
        """Type a text as fast as a person who knows it."""
        os.write(self._master, text.encode())
        self._rest()

    def click(self, text: str, times: int = 1) -> None:
        """Click on the first place where a text stands."""
        row = next(at for at, line in enumerate(self.lines, 1) if text in line)
        column = self.lines[row - 1].index(text) + 1
        for _ in range(times):
            at = f"{column};{row}"
            os.write(self._master, f"\x1b[<0;{at}M\x1b[<0;{at}m".encode())
            self._rest()

    def settle(self, seconds: float = 0.5) -> None:
        """Let the program act on what was pressed, where the screen does not tell that it did."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            self._read(0.05)

    def until(self, *texts: str) -> None:
        """Wait until texts stand there, in any order.

        Raises:
            AssertionError: they never came; what stands there instead is told.
        """
        self._wait_for(lambda: all(text in self.words for text in texts), f"{texts}")

    def kill(self) -> None:
        """End the program at once, as when the window is torn down."""
        os.killpg(self._process.pid, SIGKILL)
        self._process.wait()

    def ended(self) -> int:
        """Wait for the end of the program, and give its exit code."""
        self._wait_for(lambda: self._process.poll() is not None, "the end")
        return self._process.wait()

    def _wait_for(self, holds: Callable[[], bool], what: str) -> None:
        end = time.monotonic() + LONGEST_WAIT_S
        while not holds():
            self._read(0.05)
            assert time.monotonic() < end, f"{what} never came:\n{self.text}"

    def _rest(self) -> None:
        while self._read(QUIET_S):
            continue

    def _read(self, wait_s: float) -> bool:
        ready, _, _ = select.select([self._master], [], [], wait_s)
        try:
            data = os.read(self._master, 65_536) if ready else b""
        except OSError:  # Linux says so where the program has ended
            data = b""
        self.written += data
        self._stream.feed(data)
        return bool(data)
