"""Keys of the user's own, from settings.toml: which there may be, and which clash."""

from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from importlib import import_module
from pkgutil import walk_packages

from textual.binding import Binding

from castlenut import screens
from castlenut.screens.keys import key_name, name_of
from castlenut.screens.page import Page


def names() -> dict[str, str]:
    """Give the name of every action that a key may be given for, with its words."""
    found: dict[str, str] = {}
    for page in _pages():
        for binding in _bindings(page):
            if binding.id is not None:
                found.setdefault(name_of(binding), binding.description)
    return dict(sorted(found.items()))


def faults(keys: Mapping[str, str]) -> Iterator[str]:
    """Say which keys are for nothing, and which would take a key from something else."""
    known = names()
    for name in keys:
        if name not in known:
            near = get_close_matches(name, list(known), n=1)
            remedy = f"did you mean {near[0]}?" if near else "the names stand in docs/screens.md"
            yield f'settings.toml keys: no action is named "{name}"; {remedy}'
    for page in _pages():
        by_key: dict[str, dict[str, Binding]] = {}
        for key, binding in _with_keys(page, keys):
            by_key.setdefault(key, {}).setdefault(name_of(binding), binding)
        for key, rivals in by_key.items():
            if len(rivals) > 1 and any(name in keys for name in rivals):
                words = " and ".join(sorted(each.description for each in rivals.values()))
                yield f"settings.toml keys: {key} stands for {words} ({page.TITLE_WORDS})"


def _with_keys(page: type[Page], keys: Mapping[str, str]) -> Iterator[tuple[str, Binding]]:
    for binding in _bindings(page):
        own = keys.get(name_of(binding))
        names = [key_name(binding.key)] if own is None else own.split(",")
        yield from ((name.strip(), binding) for name in names)


def _bindings(page: type[Page]) -> Iterator[Binding]:
    # Textual has no other way to all keys of a class, and takes no named action for a clash
    merged = page._merged_bindings  # noqa: SLF001
    for each in () if merged is None else merged.key_to_bindings.values():
        yield from each


def _pages() -> tuple[type[Page], ...]:
    for module in walk_packages(screens.__path__, f"{screens.__name__}."):
        import_module(module.name)
    return tuple(each for each in dict.fromkeys(_all(Page.__subclasses__())) if each.TITLE_WORDS)


def _all(pages: Iterable[type[Page]]) -> Iterator[type[Page]]:
    for each in pages:
        yield each
        yield from _all(each.__subclasses__())
