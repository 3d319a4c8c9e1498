"""mustwatch: the daily round for a home mead maker."""

__version__ = "0.1.0"
