"""Results put into words, the same for every face."""
