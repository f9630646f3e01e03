"""One TOML text of the rule folder or a garage, and the entries that stand in it."""

from collections.abc import Collection, Iterator, Mapping
from decimal import Decimal, InvalidOperation

from castlenut.domain.errors import Fault
from castlenut.domain.rules.fields import Table, meant, shown
from castlenut.domain.rules.lines import Path, line_of, not_toml, top_line
from castlenut.domain.rules.plain_toml import plain


class Document:
    """A text read as TOML. A text that does not read has no entries and one fault.

    `faults` is where all faults of the text go, in the order they are found.
    """

    def __init__(self, text: str, file: str, faults: list[Fault]) -> None:
        self.text = text
        self.file = file
        self.faults = faults
        self.values: Mapping[str, object] = {}
        try:
            self.values = _loaded(text.removeprefix("\ufeff"))
        # Not only TOMLDecodeError: a number of over 4,300 digits, and a list nested too deep.
        except (ValueError, RecursionError) as error:
            faults.append(not_toml(text, file, error))

    def only(self, allowed: Collection[str]) -> None:
        """Refuse every key above the entries that is not among the allowed."""
        for key in self.values:
            if key not in allowed:
                self.fault(key, "not a part of this file", meant(key, allowed, say="use"))

    def fault(self, key: str, what: str, remedy: str) -> None:
        """Add a fault of a key that stands above all entries."""
        where = f"{self.file} line {top_line(self.text, key)}, {key}"
        self.faults.append(Fault(what=what, where=where, remedy=remedy))

    def top(self) -> Table:
        """Give what stands above all entries, as a table to be read."""
        return Table(
            self.values,
            path=(),
            where=lambda path: f"{self.file} line {top_line(self.text, str(path[0]))}, {path[0]}",
            faults=self.faults,
        )

    def entries(self, array: str) -> Iterator[Table]:
        """Give each `[[array]]` entry as a table to be read."""
        given = self.values.get(array, [])
        if not isinstance(given, list) or not all(isinstance(each, dict) for each in given):
            self.fault(array, f"{shown(given)} is not a list of tables", f"write [[{array}]]")
            return
        for number, values in enumerate(given):
            yield Table(
                values, path=(), where=self._places(array, number, values), faults=self.faults
            )

    def _places(self, array: str, number: int, values: Mapping[str, object]) -> "_Places":
        named = values.get("id", values.get("name", values.get("key")))
        name = named if isinstance(named, str) and named.isprintable() else f"{array} {number + 1}"
        return _Places(self, array, number, name)


class _Places:
    """Says where a path of an entry stands: `rules.toml line 14, u-bolts, tolerance`."""

    def __init__(self, document: Document, array: str, number: int, name: str) -> None:
        self._document = document
        self._array = array
        self._number = number
        self._name = name

    def __call__(self, path: Path) -> str:
        line = line_of(self._document.text, self._array, self._number, path)
        field = ".".join(str(step + 1) if isinstance(step, int) else step for step in path)
        place = f"{self._document.file} line {line}, {self._name}"
        return f"{place}, {field}" if field else place


def _loaded(text: str) -> Mapping[str, object]:
    found = plain(text, _decimal)
    if found is not None:
        return found
    # Imported here: our own files are plain, and loading it takes as long as reading them all.
    import tomllib

    return tomllib.loads(text, parse_float=_decimal)


def _decimal(text: str) -> Decimal:
    try:
        return Decimal(text)
    except InvalidOperation as error:
        raise ValueError(f"{text} is too large a number") from error
