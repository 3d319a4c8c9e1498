"""Commands: the same facts, by plain text and JSON."""
