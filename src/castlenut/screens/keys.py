"""The keys of a screen in words, made from its bindings: for last row, help and commands.

Every binding has a name, made from its action, by which settings.toml gives it another key.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from textual.binding import Binding, BindingType
from textual.screen import Screen

KEY_NAMES = {
    "slash": "/",
    "question_mark": "?",
    "ctrl+p": "^p",
    "ctrl+s": "^s",
    "escape": "esc",
    "pageup": "page up",
    "pagedown": "page down",
}
"""Keys as a mechanic would write them; all others are written as they are."""

MORE = "ctrl+p"
_COMMANDS = Binding(MORE, "app.command_palette", "more")


def named(bindings: Iterable[BindingType]) -> list[BindingType]:
    """Give bindings their names: `reading`, `record-done`, `open-feeds`."""
    return [
        replace(each, id=name_of(each)) if isinstance(each, Binding) and not each.system else each
        for each in bindings
    ]


def name_of(binding: Binding) -> str:
    """Give the name of a binding, from what it does."""
    return re.sub(r"[^a-z0-9]+", "-", binding.action.removeprefix("app.")).strip("-")


def key_name(key: str) -> str:
    """Give the name of a key as it is shown: `/`, `?`, `^p`."""
    return KEY_NAMES.get(key, key)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyHere:
    """Something that can be done here: its keys, the first first, and its words."""

    keys: tuple[str, ...]
    words: str
    action: str
    is_shown: bool

    @property
    def names(self) -> str:
        """Give all its keys as they are shown."""
        return " ".join(key_name(key) for key in self.keys)

    @property
    def label(self) -> str:
        """Give its first key and its words, as in the last row."""
        return f"{key_name(self.keys[0])} {self.words}"


def keys_here(screen: Screen[Any]) -> tuple[KeyHere, ...]:
    """Give what the keys of a screen do now, most used first: its own before those of all."""
    order = _actions_in_order(type(screen))
    found: dict[str, list[Binding]] = {}
    for active in screen.active_bindings.values():
        if active.node is screen and active.enabled and active.binding.action in order:
            found.setdefault(active.binding.action, []).append(active.binding)
    return (
        *(
            KeyHere(
                keys=tuple(each.key for each in found[action]),
                words=found[action][0].description,
                action=action,
                is_shown=any(each.show for each in found[action]),
            )
            for action in sorted(found, key=order.__getitem__)
        ),
        KeyHere(keys=(MORE,), words=_COMMANDS.description, action=_COMMANDS.action, is_shown=True),
    )


def _actions_in_order(screen: type) -> dict[str, int]:
    actions = [
        binding.action
        for each in screen.__mro__[: screen.__mro__.index(Screen)]
        for binding in each.__dict__.get("BINDINGS", ())
        if isinstance(binding, Binding) and not binding.system
    ]
    return {action: place for place, action in reversed(list(enumerate(actions)))}
