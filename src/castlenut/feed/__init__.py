"""Due dates as an iCalendar feed."""
