"""Tests of the calendar feed."""
