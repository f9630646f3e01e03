"""Makes tests of screens cheaper; what they show stays the same, as the pictures prove.

- Rest is seen sooner: Textual's pilot looks 50 times a second, after every key.
- Style sheets are parsed once a run, not once an app.
- What a sheet says of a node is kept for the next node of the same path, in whichever app.
- Nothing is painted unseen: without a terminal Textual still lays out every change as strips, and
  throws them away. What a test looks at, as text or as a picture, is laid out when it looks.
"""

import asyncio
from collections.abc import Hashable
from time import monotonic, process_time
from typing import Any
from weakref import WeakKeyDictionary

import pytest
from rich.console import RenderableType
from textual._compositor import Compositor
from textual.app import App
from textual.css.model import RuleSet
from textual.css.styles import RulesMap
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation
from textual.dom import DOMNode
from textual.screen import Screen
from textual.widget import Widget

STEP_SECONDS = 0.004
AT_REST = 0.2
"""Of a step, the share that a program at rest may compute."""

Kept = dict[Hashable, RulesMap]


def apply(patch: pytest.MonkeyPatch) -> None:
    """Put our ways in place of Textual's own."""
    for module in ("app", "pilot"):
        patch.setattr(f"textual.{module}.wait_for_idle", _wait_for_rest)
    _parse_once(patch)
    _keep_styles(patch)
    _paint_only_what_is_seen(patch)


async def _wait_for_rest(min_sleep: float = 0.02, max_sleep: float = 1) -> None:
    began = monotonic()
    while True:
        computed = process_time()
        await asyncio.sleep(STEP_SECONDS)
        waited = monotonic() - began
        is_at_rest = process_time() - computed < STEP_SECONDS * AT_REST
        if waited >= max_sleep or (waited > min_sleep and is_at_rest):
            return


def _parse_once(patch: pytest.MonkeyPatch) -> None:
    parse = Stylesheet._parse_rules
    parsed: dict[Hashable, list[RuleSet]] = {}

    def parse_once(
        sheet: Stylesheet,
        css: str,
        read_from: CSSLocation,
        is_default_rules: bool = False,  # noqa: FBT001, FBT002 (as Textual has it)
        tie_breaker: int = 0,
        scope: str = "",
    ) -> list[RuleSet]:
        how = (css, read_from, is_default_rules, tie_breaker, scope)
        key = (how, *sorted(sheet._variables.items()))
        if key not in parsed:
            parsed[key] = parse(sheet, *how)
        return parsed[key]

    patch.setattr(Stylesheet, "_parse_rules", parse_once)


def _keep_styles(patch: pytest.MonkeyPatch) -> None:
    """Keep what Textual keeps among the nodes of one parent for all parents of the same path.

    Textual itself says which nodes may share: those that no rule tells apart by their order.
    """
    apply_rules = Stylesheet.apply
    by_rules: dict[Hashable, Kept] = {}
    by_sheet: WeakKeyDictionary[Stylesheet, tuple[list[RuleSet], Kept]] = WeakKeyDictionary()

    def kept_of(sheet: Stylesheet) -> Kept:
        rules = sheet.rules
        seen = by_sheet.get(sheet)
        if seen is None or seen[0] is not rules:
            # each set of rules is parsed once and lives on: its id is its own
            seen = rules, by_rules.setdefault(tuple(map(id, rules)), {})
            by_sheet[sheet] = seen
        return seen[1]

    def apply_kept(
        sheet: Stylesheet,
        node: DOMNode,
        *,
        animate: bool = False,
        cache: object = None,  # noqa: ARG001 (as Textual has it)
    ) -> None:
        ways: Any = _OfPath(node, kept_of(sheet))
        apply_rules(sheet, node, animate=animate, cache=ways)

    patch.setattr(Stylesheet, "apply", apply_kept)
    # the same number, without a call of Python for each rule and node
    patch.setattr(RuleSet, "__hash__", object.__hash__)


class _OfPath:
    """What Textual takes for the cache of one parent: its key begins with that parent."""

    def __init__(self, node: DOMNode, kept: Kept) -> None:
        self._type = type(node)
        self._kept = kept

    def get(self, key: tuple[DOMNode | None, *tuple[Hashable, ...]]) -> RulesMap | None:
        return self._kept.get(self._whole(key))

    def __setitem__(
        self, key: tuple[DOMNode | None, *tuple[Hashable, ...]], rules: RulesMap
    ) -> None:
        self._kept[self._whole(key)] = rules

    def _whole(self, key: tuple[DOMNode | None, *tuple[Hashable, ...]]) -> Hashable:
        parent, *own = key
        path: list[Hashable] = [self._type, *own]
        while parent is not None:
            state: Hashable = None
            if isinstance(parent, Widget):
                state = (parent.mouse_hover, parent.has_focus, parent.disabled)
            elif isinstance(parent, App):
                state = parent.pseudo_classes
            path += (type(parent), parent._id, parent.classes, state)
            above = parent._parent
            parent = above if isinstance(above, DOMNode) else None
        return tuple(path)


def _paint_only_what_is_seen(patch: pytest.MonkeyPatch) -> None:
    render = Compositor.render_update

    def render_where_seen(
        compositor: Compositor,
        full: bool = False,  # noqa: FBT001, FBT002 (as Textual has it)
        screen_stack: list[Screen[Any]] | None = None,
        simplify: bool = False,  # noqa: FBT001, FBT002
    ) -> RenderableType | None:
        if full:
            return render(compositor, full, screen_stack, simplify)
        compositor._dirty_regions.clear()
        return None

    patch.setattr(Compositor, "render_update", render_where_seen)
