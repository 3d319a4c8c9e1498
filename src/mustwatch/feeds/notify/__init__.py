"""Warnings out of the house: what is new or worse at once, the rest once a day."""
