"""The sample fleet: its description, and the script that builds it."""
