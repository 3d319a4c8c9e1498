"""Forecast: from readings to the expected course."""
