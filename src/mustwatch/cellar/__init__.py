"""Cellar: the fold from events to what a cellar holds."""
