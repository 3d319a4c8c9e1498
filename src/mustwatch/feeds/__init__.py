"""Feeds: what comes in from and goes out to other formats."""
