"""Visits: on which days a car comes in, and what is done on each."""
