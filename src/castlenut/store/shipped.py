"""The texts of the rule set that comes with the program."""

from pathlib import Path

from castlenut import shipped_rules
from castlenut.domain.rules.shipped import ShippedTexts

_TABLES = frozenset({"kinds", "events", "accesses", "conversions", "assemblies"})


def shipped_texts() -> ShippedTexts:
    """Read the rule folder of the package.

    By the package's own path: `importlib.resources` costs a short command a third of its start.
    """
    folder = Path(next(iter(shipped_rules.__path__)))
    texts = {path.stem: path.read_text("utf-8") for path in sorted(folder.glob("*.toml"))}
    return ShippedTexts(
        rules={f"{name}.toml": text for name, text in texts.items() if name not in _TABLES},
        kinds=texts["kinds"],
        events=texts["events"],
        accesses=texts["accesses"],
        conversions=texts["conversions"],
        assemblies=texts["assemblies"],
    )
