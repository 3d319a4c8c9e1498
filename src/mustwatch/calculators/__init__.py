"""The bench: every calculation of the trade as a small form, for the command and the screen alike."""
