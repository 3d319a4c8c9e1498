"""Outlook: from readings to the expected course, and the judgements that rest on it."""
