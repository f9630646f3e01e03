"""Makes tests of screens cheaper: style sheets are parsed once a run, and rest is seen sooner.

Textual's pilot looks 50 times a second whether the program has come to rest, after every key; each
app of each test parses the same sheets anew. Both together were half of a test of a screen.
"""

import asyncio
from collections.abc import Hashable
from time import monotonic, process_time

import pytest
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation

STEP_SECONDS = 0.004
AT_REST = 0.2
"""Of a step, the share that a program at rest may compute."""


def apply(patch: pytest.MonkeyPatch) -> None:
    """Put the shared sheets and the shorter steps in place of Textual's own."""
    for module in ("app", "pilot"):
        patch.setattr(f"textual.{module}.wait_for_idle", _wait_for_rest)
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


async def _wait_for_rest(min_sleep: float = 0.02, max_sleep: float = 1) -> None:
    began = monotonic()
    while True:
        computed = process_time()
        await asyncio.sleep(STEP_SECONDS)
        waited = monotonic() - began
        is_at_rest = process_time() - computed < STEP_SECONDS * AT_REST
        if waited >= max_sleep or (waited > min_sleep and is_at_rest):
            return
