"""Whose turn it is to ask the garage: the keys' thread, or one that reckons."""

from threading import RLock

GARAGE_TURN = RLock()
"""Held while the garage is asked: it keeps what it has read, and answers one thread at a time.

No thread that holds it waits for the screen, so the keys wait for one car's reckoning at most.
"""
