"""Forms in which a change is entered."""
