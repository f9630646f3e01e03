"""Page 4 of a car: its odometer and its use."""
