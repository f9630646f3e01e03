"""What all tests share: published checks say where they come from, hypothesis races no clock."""

import gc
import os
from collections.abc import Iterable

import pytest
from hypothesis import settings
from xdist.scheduler import WorkStealingScheduling

settings.register_profile("usual", deadline=None, max_examples=20)
settings.register_profile("ci", settings.get_profile("usual"), derandomize=True)
settings.register_profile("full", settings.get_profile("ci"), max_examples=100)
settings.load_profile("ci" if os.environ.get("CI") else "usual")

COLLECT_EVERY = 20_000
"""So many new objects are made before circles among the youngest are looked for."""

BASES = {"R", "R2", "M", "C", "P"}


def pytest_collection_modifyitems(items: Iterable[pytest.Item]) -> None:
    """Refuse a published check without row, basis and source."""
    for item in items:
        for mark in item.iter_markers("published"):
            complete = (
                len(mark.args) == 1
                and mark.kwargs.get("basis") in BASES
                and bool(mark.kwargs.get("source"))
            )
            if not complete:
                raise pytest.UsageError(
                    f"{item.nodeid}: a published check needs a row, a basis"
                    f" ({', '.join(sorted(BASES))}) and a source"
                )


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> WorkStealingScheduling:
    """Give each worker tests that stand together, and so share what they build; the idle help."""
    return WorkStealingScheduling(config, log)


def pytest_collection_finish(session: pytest.Session) -> None:
    """Leave the thousands of collected tests out of every look for circles that is to come."""
    if any(item.get_closest_marker("bench") for item in session.items):
        return  # what is measured is measured as the program has it
    gc.collect()
    gc.freeze()
    gc.set_threshold(COLLECT_EVERY)
