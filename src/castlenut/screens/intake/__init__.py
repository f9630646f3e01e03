"""Taking a car on, page by page as on an inspection sheet."""
