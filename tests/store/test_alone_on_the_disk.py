"""Files are opened in the store alone, and JSON is read and written there and in two modules."""

import ast
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import pytest

import castlenut

SOURCE = Path(castlenut.__file__).parent
WITH_JSON = frozenset(
    {"command/output.py", "command/reckon/lines.py", "domain/rules/plain_toml.py"}
)
OPENING = frozenset(
    {"open", "fdopen", "read_text", "read_bytes", "write_text", "write_bytes", "mkstemp"}
)
WORDS = ("tinydb", "import json", "from json", *(f"{each}(" for each in sorted(OPENING)))
NO_FILE = frozenset({("command/output.py", "os.open")})
"""The null device, put in the place of a pipe that its reader closed."""


Parsed = Mapping[str, Sequence[ast.AST]]


@pytest.fixture(scope="module")
def modules() -> Parsed:
    """Give the nodes of every module outside the store that can matter here, by its name."""
    found: dict[str, Sequence[ast.AST]] = {}
    for path in sorted(SOURCE.rglob("*.py")):
        name, text = path.relative_to(SOURCE).as_posix(), path.read_text(encoding="utf-8")
        # A module without any of the words need not be parsed.
        if not name.startswith("store/") and any(word in text for word in WORDS):
            nodes = ast.walk(ast.parse(text))
            found[name] = [
                each for each in nodes if isinstance(each, ast.Call | ast.Import | ast.ImportFrom)
            ]
    return found


def imported(nodes: Sequence[ast.AST]) -> Iterator[str]:
    for node in nodes:
        if isinstance(node, ast.Import):
            yield from (each.name.partition(".")[0] for each in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module is not None:
            yield node.module.partition(".")[0]


def opened(nodes: Sequence[ast.AST]) -> Iterator[str]:
    for node in nodes:
        func = node.func if isinstance(node, ast.Call) else None
        if isinstance(func, ast.Name) and func.id in OPENING:
            yield func.id
        elif isinstance(func, ast.Attribute) and func.attr in OPENING:
            yield ast.unparse(func)


def test_neither_tinydb_nor_json_is_imported_outside_the_store(modules: Parsed) -> None:
    found = {name: {*imported(nodes)} for name, nodes in modules.items()}

    assert not [name for name, names in found.items() if "tinydb" in names]
    assert {name for name, names in found.items() if "json" in names} == WITH_JSON


def test_no_file_is_opened_outside_the_store(modules: Parsed) -> None:
    assert {(name, call) for name, nodes in modules.items() for call in opened(nodes)} == NO_FILE
