"""Castlenut: what is due on an older car, and why."""
