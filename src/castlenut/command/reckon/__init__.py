"""The computation, open to any program: one JSON object a line."""
