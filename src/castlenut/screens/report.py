"""What keeps the details of an unforeseen error."""

from collections.abc import Callable

Report = Callable[[Exception], str]
"""Keeps the details of an unforeseen error, and gives the name of the file they stand in."""
