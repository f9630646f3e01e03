"""The program in a process of its own, forked from one that has loaded it.

Loading and reading the rules is most of what a short command costs. Here a process does that once a
run of the tests; each command is a fork of it, with arguments, environment, folder and files of its
own, from `__main__` on. What the script itself loads and how it ends is tested through the script
(`installed.script`).
"""

import atexit
import contextlib
import gc
import importlib
import io
import json
import os
import pkgutil
import select
import socket
import subprocess
import sys
import tempfile
import traceback
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import NoReturn

LOADED = ("domain", "words", "store", "feed", "paper", "garage", "command")
"""Not the screens: a command loads them only to open them, and then from a script."""

_AS_A_COMMAND = """\
#!{python} -IS
import json, os, socket, sys
link = socket.socket(socket.AF_UNIX)
link.connect({address!r})
socket.send_fds(link, [b"!"], [0, 1, 2])
link.sendall(json.dumps([sys.argv[1:], dict(os.environ), os.getcwd()]).encode())
link.shutdown(socket.SHUT_WR)
sys.exit(int(link.recv(8)))
"""


def forked(
    arguments: Sequence[str], environment: Mapping[str, str], given: str = ""
) -> tuple[int, str, str]:
    """Run a command; give its exit code, standard output and standard error."""
    with (
        tempfile.TemporaryFile("w+", encoding="utf-8") as typed,
        tempfile.TemporaryFile("w+", encoding="utf-8") as out,
        tempfile.TemporaryFile("w+", encoding="utf-8") as err,
        socket.socket(socket.AF_UNIX) as link,
    ):
        typed.write(given)
        typed.seek(0)
        link.connect(_address())
        socket.send_fds(link, [b"!"], [typed.fileno(), out.fileno(), err.fileno()])
        link.sendall(json.dumps([[*arguments], dict(environment), str(Path.cwd())]).encode())
        link.shutdown(socket.SHUT_WR)
        code = link.recv(8)
        out.seek(0)
        err.seek(0)
        assert code, "the command ended without an exit code"
        return int(code), out.read(), err.read()


def as_a_command(folder: Path) -> Path:
    """Put a `castlenut` into a folder that a shell can find, which asks for a fork."""
    command = folder / "castlenut"
    command.write_text(_AS_A_COMMAND.format(python=sys.executable, address=_address()))
    command.chmod(0o755)
    return command


@cache
def _address() -> str:
    """Begin the process that is forked from; it ends when this one does."""
    folder = tempfile.TemporaryDirectory(prefix="forked-")
    address = str(Path(folder.name) / "ask")
    process = subprocess.Popen(
        [sys.executable, __file__, address],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env={**os.environ, "HOME": folder.name, "PYTHONHASHSEED": "0"},
    )

    def end() -> None:
        process.communicate()
        folder.cleanup()

    atexit.register(end)
    assert process.stdout is not None
    assert process.stdout.readline() == b"ready\n"
    return address


def _serve(address: str) -> None:
    _load()
    gc.freeze()  # what is loaded is shared with the forks, and not looked through in each
    with socket.socket(socket.AF_UNIX) as door:
        door.bind(address)
        door.listen()
        print("ready", flush=True)
        while True:
            asked, _, _ = select.select([door.fileno(), 0], [], [])
            with contextlib.suppress(ChildProcessError):
                while os.waitpid(-1, os.WNOHANG)[0]:
                    pass  # it has ended and told so itself
            if 0 in asked:
                return
            link, _ = door.accept()
            if os.fork() == 0:
                door.close()
                _answer(link)
            link.close()


def _load() -> None:
    """Load the program, and let it read the rules that come with it."""
    import castlenut.__main__

    for name in LOADED:
        package = importlib.import_module(f"castlenut.{name}")
        for each in pkgutil.walk_packages(package.__path__, f"castlenut.{name}."):
            importlib.import_module(each.name)
    with tempfile.TemporaryDirectory() as folder, contextlib.redirect_stdout(io.StringIO()):
        for words in (("add", "pim"), ("fit", "pim", "coolant"), ("due",), ("rules",)):
            sys.argv[1:] = ["--garage", str(Path(folder) / "garage"), *words]
            assert castlenut.__main__.main() == 0


def _answer(link: socket.socket) -> NoReturn:
    """Be the command that was asked for, and tell how it ended."""
    from castlenut.__main__ import main

    with _Ending(link):
        _, files, _, _ = socket.recv_fds(link, 1, 3)
        for standard, file in enumerate(files):
            os.dup2(file, standard)
            os.close(file)
        asked = b""
        while more := link.recv(65_536):
            asked += more
        words, environment, folder = json.loads(asked)
        os.chdir(folder)
        os.environ.clear()
        os.environ.update(environment)
        sys.argv = ["castlenut", *words]
        sys.stdin = os.fdopen(0, encoding="utf-8")
        sys.stdout = os.fdopen(1, "w", encoding="utf-8")
        sys.stderr = os.fdopen(2, "w", encoding="utf-8", buffering=1)
        sys.exit(main())


class _Ending:
    """Ends the process as the interpreter would, but at once; its exit code is told before."""

    def __init__(self, link: socket.socket) -> None:
        self._link = link

    def __enter__(self) -> None:
        pass

    def __exit__(
        self, kind: type[BaseException] | None, ended: BaseException | None, _: object
    ) -> NoReturn:
        code = ended.code if isinstance(ended, SystemExit) else 1
        if not isinstance(ended, SystemExit):
            traceback.print_exception(ended)
        sys.stdout.flush()
        sys.stderr.flush()
        code = 0 if code is None else code if isinstance(code, int) else 1
        self._link.sendall(str(code).encode())
        os._exit(code)


if __name__ == "__main__":
    _serve(sys.argv[1])
