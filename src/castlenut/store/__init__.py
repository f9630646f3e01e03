"""All that touches the disk."""
