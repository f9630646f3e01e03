"""Lines of the kinds of tires and vehicle numbers with something wrong anywhere in them."""

import io
import json
from collections.abc import Iterator, Mapping, Sequence
from copy import deepcopy
from typing import TypeAlias

import pytest

from castlenut.command.reckon.kinds import run

Json: TypeAlias = "bool | int | float | str | list[Json] | dict[str, Json] | None"
Path: TypeAlias = tuple[str | int, ...]


def tire(name: str, at: str, *depths: float) -> dict[str, Json]:
    """Give a tire on its wheel with every field given. All figures invented."""
    return {
        "id": name,
        "at": at,
        "size": "205/60R15",
        "construction": "radial",
        "rim_width_in": 6.0,
        "rim_diameter_in": 15.0,
        "offset_mm": 10,
        "tread": "symmetric",
        "turns": None,
        "load_index": 91,
        "speed_symbol": "H",
        "temporary": False,
        "studded": False,
        "age_years": 3,
        "depth_mm": list(depths),
    }


TIRES: list[Json] = [tire("A", "LF", 5.0), tire("B", "RF", 5.0), tire("C", "LR", 4.0)]
TIRES += [tire("D", "RR", 4.0), tire("S", "SP", 8.0)]
STANDS: dict[str, Json] = {"LF": "A", "RF": "B", "LR": "C", "RR": "D", "SP": "S"}
ROTATION: dict[str, Json] = {
    "unit": "mi",
    "drive": "rear",
    "limit_mm": 1.6,
    "interval": 20_000,
    "moves": "any",
    "use_spare": True,
    "max_age_years": 7,
    "max_difference_mm": 2.4,
    "fitment": {
        "front": {
            "size": "205/60R15",
            "construction": "radial",
            "rim_width_in": 6.0,
            "rim_diameter_in": 15,
            "offset_mm": 10,
            "need_kg": 400,
            "need_kmh": 180,
        },
        "rear": {"need_kg": 400},
    },
    "assemblies": TIRES,
    "staggered": {
        "new_depth_front_mm": 8,
        "new_depth_rear_mm": 8,
        "new_depth_one_size_mm": 8,
        "directional": False,
    },
}
MEASURED: list[Json] = [
    {"at": 0, "places": dict(STANDS), "depth_mm": {"A": [8], "C": [8]}, "resolution_mm": 0.1},
    {"at": 5000, "places": dict(STANDS), "depth_mm": {"A": [7], "C": [6]}, "resolution_mm": 0.1},
]
LINES: list[tuple[str, dict[str, Json]]] = [
    ("size", {"size": "205/60R15", "rim_width_in": 6}),
    ("change", {"from": "185/70R14", "to": "195/50R15", "shown": 100, "shown_speed": 60}),
    ("load", {"tires": ["88H", "112/109S"], "need_kg": 500}),
    ("tin", {"tin": "2317", "looked_at": "2026-11-25", "vehicle_years": [1970, 2020]}),
    ("vin", {"vin": "1M8GDM9AXKP042788", "vehicle": "car", "market": "north america"}),
    ("rotate", {"positions": STANDS, "pattern": "X", "times": 2}),
    ("rotation", ROTATION | {"rates_mm_per_1000": {"LF": 0.2, "RF": 0.2, "LR": 0.3, "RR": 0.3}}),
    ("rotation", ROTATION | {"history": MEASURED}),
]
# Each as it stands in the line: NaN, infinity and endless digits are read by some writers of JSON.
HOSTILE = [
    *("true", "-1", "-0.0", "NaN", "-Infinity", "1e400", "1e-320", "9" * 5000, "1.5"),
    *('""', '" \\n"', '"\\u0000"', '"\\ud800"', '"٣/60R15"', f'"{"x" * 500}"', "[]", "[[]]"),
    *("{}", '{"a": null}', "[1, 2, 3, 4]"),
]
JSON_FAULT = "line: is not JSON; write one object a line, in braces"
NO_TEXT = ["true", "17", "NaN", "[]", "{}"]


def paths(value: Json, above: Path = ()) -> Iterator[Path]:
    """Give where every value of a line stands."""
    members: Sequence[tuple[str | int, Json]] = ()
    if isinstance(value, dict):
        members = tuple(value.items())
    elif isinstance(value, list):
        members = tuple(enumerate(value))
    for name, inside in members:
        yield (*above, name)
        yield from paths(inside, (*above, name))


def tried(line: Mapping[str, Json]) -> Iterator[Path]:
    """Give the paths worth trying: tires are read alike, and history alone in the line of it."""
    for path in paths(dict(line)):
        is_read_alike = path[0] == "assemblies" and len(path) > 2 and path[1] in {1, 2, 3}
        if not is_read_alike and ("history" not in line or path[0] == "history"):
            yield path


def at(line: Json, path: Path) -> Json:
    for name in path:
        line = line[name]  # type: ignore[index] # the path leads there
    return line


def put(line: Mapping[str, Json], path: Path, raw: str) -> str:
    """Write the line with something else at a path, as it stands."""
    changed: dict[str, Json] = deepcopy(dict(line))
    at(changed, path[:-1])[path[-1]] = "MARK"  # type: ignore[index]
    return json.dumps({"id": 7, **changed}).replace('"MARK"', raw)


def answered(kind: str, line: str) -> dict[str, Json]:
    out = io.StringIO()
    run(kind, [line], out)
    (text,) = out.getvalue().splitlines()
    found: dict[str, Json] = json.loads(text)
    return found


def named(path: Path) -> str:
    """Give a path as a fault names it, counted from 1."""
    parts = [f"[{each + 1}]" if isinstance(each, int) else f".{each}" for each in path]
    return "".join(parts).removeprefix(".")


@pytest.mark.parametrize(("kind", "line"), LINES)
def test_line_with_anything_anywhere_is_answered_or_gets_sentences(
    kind: str, line: dict[str, Json]
) -> None:
    """A line that cannot be answered gives its id and an error, and the rest goes on."""
    assert "error" not in answered(kind, json.dumps({"id": 7, **line}))

    for path in tried(line):
        for raw in HOSTILE:
            found = answered(kind, put(line, path, raw))

            error = found.get("error")
            assert found["id"] == (None if error == JSON_FAULT else 7), (path, raw)
            if error is not None:
                assert isinstance(error, str)
                assert error.isprintable(), (path, raw, error)
                assert "; " in error
                assert len(error) < 1500


@pytest.mark.parametrize(("kind", "line"), LINES)
def test_value_of_another_type_gets_one_sentence_that_names_it(
    kind: str, line: dict[str, Json]
) -> None:
    """A number, a truth, a list where a text belongs: said once, and of nothing else."""
    for path in tried(line):
        if isinstance(at(line, path), str):
            for raw in NO_TEXT:
                error = str(answered(kind, put(line, path, raw)).get("error"))

                assert error.startswith(f"{named(path)}: "), (path, raw, error)
                assert error.count("; ") == 1 + error.count("; ? may stand"), (path, raw, error)


@pytest.mark.parametrize(("kind", "line"), LINES)
def test_field_that_there_is_not_is_named(kind: str, line: dict[str, Json]) -> None:
    """A misspelled field must not pass unseen."""
    objects = [(), *(path for path in tried(line) if isinstance(at(line, path), dict))]
    for path in objects:
        if path and path[-1] in {"positions", "places", "depth_mm"}:
            continue  # the names in these are the user's own
        error = answered(kind, put(line, (*path, "zzz"), "1"))["error"]

        assert str(error).startswith(f"{named((*path, 'zzz'))}: is not a field here"), (path, error)
