"""Benchmarks: each measures a ratio against a named baseline of the same run."""
