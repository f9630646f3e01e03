"""The rows of a day's work, a module each."""
