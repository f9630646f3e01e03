"""A feed's bytes looked at without any library."""

import re

# feed.md's cleaning, written out again: what may stand in no text of the file
_FORBIDDEN = re.compile(
    "[\x00-\x09\x0b\x0c\x0e-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufffd-\uffff]"
)


def assert_sound(data: bytes) -> None:
    """Check line ends, folding, encoding and forbidden characters of every physical line."""
    assert not data.startswith(b"\xef\xbb\xbf")
    assert data.endswith(b"END:VCALENDAR\r\n")
    lines = data.split(b"\r\n")[:-1]
    for line in lines:
        assert line
        assert len(line) <= 75
        assert b"\r" not in line
        assert b"\n" not in line
        assert not _FORBIDDEN.search(line.decode("utf-8"))


def unfolded(data: bytes) -> list[str]:
    return data.decode("utf-8").replace("\r\n ", "").split("\r\n")[:-1]


def events(data: bytes) -> list[dict[str, str]]:
    """Give the properties of each event by name, those of alarms left aside."""
    found: list[dict[str, str]] = []
    inside: list[str] = []
    for line in unfolded(data):
        name, _, value = line.partition(":")
        if name == "BEGIN":
            inside.append(value)
            if value == "VEVENT":
                found.append({})
        elif name == "END":
            inside.pop()
        elif inside[-1:] == ["VEVENT"]:
            key = name.partition(";")[0]
            assert key not in found[-1]
            found[-1][key] = value
    return found


def header(data: bytes) -> list[str]:
    lines = unfolded(data)
    first = next((n for n, line in enumerate(lines) if line == "BEGIN:VEVENT"), len(lines))
    return lines[1:first]


def plain(text: str) -> str:
    """Take the escapes of a text away."""
    return re.sub(
        r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], text, flags=re.DOTALL
    )
