"""Makes damaged files of a sound one: cut anywhere, bytes of each class flipped, faults built in.

Run as a script it writes all that is made of a garage into a folder:

    python -m tests.damage.corpus GARAGE FOLDER
"""

import re
import sys
from collections.abc import Iterator
from pathlib import Path

CUTS = 200
CLASSES = {
    "quote": rb'"',
    "brace": rb"[{}]",
    "bracket": rb"[\[\]]",
    "comma": rb",",
    "colon": rb":",
    "digit": rb"[0-9]",
    "letter": rb"[a-z]",
    "dash": rb"-",
    "line": rb"\n",
}
"""Classes of bytes in a file, each flipped at places spread over it."""
FLIPS = (b"\x00", b"\xff", b"}", b'"', b"9", b"\x1b", b"\n")


def cuts(data: bytes, count: int = CUTS) -> Iterator[tuple[str, bytes]]:
    """Cut the file after each of so many places, spread evenly, the first and last among them."""
    for number in range(count):
        at = number * len(data) // count if number < count - 1 else len(data) - 1
        yield f"cut after {at}", data[:at]


def flips(data: bytes, places: int) -> Iterator[tuple[str, bytes]]:
    """Put another byte in the place of one of each class, at so many places of the file."""
    for name, pattern in CLASSES.items():
        found = [each.start() for each in re.finditer(pattern, data)]
        for number in range(places):
            at = found[number * len(found) // places]
            for flip in FLIPS:
                if data[at : at + 1] != flip:
                    yield f"{name} at {at} made {flip!r}", data[:at] + flip + data[at + 1 :]


def holes(data: bytes) -> Iterator[tuple[str, bytes]]:
    """Blocks lost or doubled, as a disk or a copy that was broken off leaves them."""
    third = len(data) // 3
    yield "empty", b""
    yield "a block of zeros", data[:third] + b"\x00" * 4096 + data[third + 4096 :]
    yield "nothing but zeros", b"\x00" * len(data)
    yield "a block gone", data[:third] + data[third + 512 :]
    yield "the tail of an older file", data + data[-300:]
    yield "twice", data + data
    yield "UTF-16", data.decode().encode("utf-16")
    yield "merge marks", data.replace(b"\n", b"\n<<<<<<< mine\n", 2)


def built_in(data: bytes) -> Iterator[tuple[str, bytes]]:
    """What is JSON and cannot be all the same."""
    yield "NaN", data.replace(b'"n":1,', b'"n":NaN,', 1)
    yield "too large a number", data.replace(b'"n":1,', b'"n":1e999,', 1)
    yield "too many digits", data.replace(b'"n":1,', b'"n":' + b"1" * 4400 + b",", 1)
    yield "nested deeply", data.replace(b'"n":1,', b'"n":' + b"[" * 100_000 + b",", 1)
    yield "a key twice", data.replace(b'"n":1,', b'"n":1,"n":1,', 1)
    yield "a table that is a list", data.replace(b'"vehicle": {', b'"vehicles": [],"vehicle": {', 1)
    yield "no header", data.replace(b'"castlenut"', b'"other"', 1)
    yield "schema 0", data.replace(b'"schema":1', b'"schema":0', 1)
    yield "schema as text", data.replace(b'"schema":1', b'"schema":"1"', 1)
    yield "a list", b"[]\n"
    yield "a word", b"null\n"


def every(data: bytes, *, count: int = CUTS, places: int = 3) -> Iterator[tuple[str, bytes]]:
    """Give every damaged form of a file, each with what was done to it."""
    for made in (cuts(data, count), flips(data, places), holes(data), built_in(data)):
        yield from (each for each in made if each[1] != data)


def main(garage: Path, target: Path) -> None:
    """Write all damaged forms of a garage's files into a folder."""
    target.mkdir(parents=True)
    for path in (garage / "garage.json", *sorted((garage / "vehicles").iterdir())):
        for number, (_, data) in enumerate(every(path.read_bytes())):
            (target / f"{path.stem}-{number:05}.json").write_bytes(data)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
