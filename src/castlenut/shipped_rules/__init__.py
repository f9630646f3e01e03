"""The shipped rules, kinds, events, accesses and conversions (data, no code)."""
