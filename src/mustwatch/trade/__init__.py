"""Calculations of the trade: pure functions, metric inside, one subject a file."""
