"""The tire commands: sizes, fitments, room, what stands where, and rotation."""
