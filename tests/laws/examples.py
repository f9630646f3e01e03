"""How many examples a law is tried on: a fifth of its full number in the run of every day."""

from hypothesis import settings

FEWEST = 8
OF = 100
"""The examples of a law that asks for no number of its own, in full."""


def examples(full: int) -> settings:
    """Try a law on this many examples in full, on its share of them in another profile."""
    share = full * settings().max_examples // OF
    return settings(max_examples=max(share, min(full, FEWEST)))
