"""Tires."""
