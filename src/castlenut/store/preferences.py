"""What the user of this computer chose for the screens, in settings.toml: theme, keys.

It belongs to the computer, not to the garage: the laptop in the workshop may be light and the one
at home dark. The file is made at the first choice; what else stands in it, notes too, stays.
"""

import tomllib
from collections.abc import Mapping
from pathlib import Path

from castlenut.domain.frozen import dataclass, field
from castlenut.store import files
from castlenut.store.faults import NotSaved

FILE = "settings.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Preferences:
    """A theme by its name, and keys by the action they stand for.

    `faults` say in one sentence each what in the file is not used.
    """

    theme: str | None = None
    keys: Mapping[str, str] = field(default_factory=dict)
    faults: tuple[str, ...] = ()


def preferences_file() -> Path:
    """Give the place of the file: the platform's own folder for such."""
    # Imported here: only the screens need it.
    from platformdirs import user_config_path

    return user_config_path("castlenut", appauthor=False) / FILE


def read_preferences(path: Path) -> Preferences:
    """Read the choices; without a file none were made, and what cannot be used is told."""
    data = files.read_plain(path)
    if data is None:
        return Preferences()
    if not isinstance(data, bytes):
        return Preferences(faults=(f"{path} {data.value}",))
    try:
        table = tomllib.loads(data.decode())
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        return Preferences(faults=(f"{path}: {error}; nothing in it is used until it is mended",))
    theme, keys = table.get("theme"), table.get("keys", {})
    faults: list[str] = []
    if not isinstance(theme, str | None):
        faults.append(f'{path}: theme is no text; write theme = "daylight"')
        theme = None
    if not isinstance(keys, dict) or not all(isinstance(key, str) for key in keys.values()):
        faults.append(f'{path}: keys is no table of texts; write [keys] and under it reading = "z"')
        keys = {}
    return Preferences(theme=theme, keys=keys, faults=tuple(faults))


def keep_theme(path: Path, theme: str) -> None:
    """Keep a theme for the next time.

    Raises:
        NotSaved: the file cannot be read as it is, or cannot be written.
    """
    # Imported here: it is needed at a choice, not at each start.
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    data = files.read_plain(path)
    try:
        held = tomlkit.parse(data if isinstance(data, bytes) else b"")
        held["theme"] = theme
        path.parent.mkdir(parents=True, exist_ok=True)
        unfinished = path.with_name(f"{path.name}.new")
        files.write_new(unfinished, tomlkit.dumps(held).encode())
        files.replace(unfinished, path)
    except (OSError, UnicodeDecodeError, TOMLKitError) as error:
        raise NotSaved(FILE, f"the theme is not kept in {path}: {error}") from None
