"""Visits on screen: of one car by date, and the weeks of the garage."""
