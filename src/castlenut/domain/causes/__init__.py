"""What is behind readings that do not fit: the cheapest explanation of a whole series."""
