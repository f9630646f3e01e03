"""The commands of every day: asking what is due, and recording what was read, done and fitted."""
