"""Which machine writes: an id kept on the machine, never in the garage."""

import contextlib
import re
from collections.abc import Callable
from pathlib import Path

from castlenut.domain.errors import BadInput, Fault
from castlenut.store.files import read_plain, write_new

_FORM = re.compile(r"[!-~]{1,64}")


def device_id(given: str | None, *, fresh: Callable[[], str], state: Path | None = None) -> str:
    """Give this machine's id: `given` if there is one, else the one kept, made at the first write.

    `fresh` gives 6 hexadecimal digits. `state` is the folder to keep it in, by default the
    platform's own. Where it cannot be kept, the new id serves this run.

    Raises:
        BadInput: `given` is no id.
    """
    if given:
        if not _FORM.fullmatch(given):
            raise BadInput(
                Fault(
                    f"{given!a} is no name for a device",
                    "CASTLENUT_DEVICE",
                    "use letters, digits and marks without blanks, at most 64",
                )
            )
        return given
    kept = (state or _state_folder()) / "device"
    found = _read(kept)
    if found is not None:
        return found
    made = f"dev-{fresh()}"
    # A home that cannot be written to is no reason to refuse a save.
    with contextlib.suppress(OSError):
        kept.parent.mkdir(parents=True, exist_ok=True)
        write_new(kept, f"{made}\n".encode())
    return made


def _read(kept: Path) -> str | None:
    data = read_plain(kept)
    text = data.decode("ascii", "replace").strip() if isinstance(data, bytes) else ""
    return text if _FORM.fullmatch(text) else None


def _state_folder() -> Path:
    # Imported here: reading commands must not pay for it.
    from platformdirs import user_state_path

    return user_state_path("castlenut", appauthor=False)
