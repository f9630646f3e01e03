"""Damaged files, made by a script from sound ones."""
