"""What a screen does when a file it rests on was changed by somebody else."""


class KeepsTyped:
    """A screen on which something is typed that must survive an outside change."""

    def tell_changed(self, slugs: tuple[str, ...]) -> None:
        """Say that cars changed outside; what is typed stays."""
        raise NotImplementedError
