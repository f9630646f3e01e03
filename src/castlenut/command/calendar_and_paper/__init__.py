"""Calendar and paper: what leaves the garage for phones, calendars and customers."""
