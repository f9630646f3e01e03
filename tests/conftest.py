"""What all tests share: published checks say where they come from, hypothesis races no clock."""

import os
from collections.abc import Iterable

import pytest
from hypothesis import settings

settings.register_profile("usual", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "usual")

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
