"""What the faces call: questions answered, changes saved."""
