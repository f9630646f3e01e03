"""The version as a constant: asking the installed package costs more than the whole answer."""

VERSION = "0.1.0"
