"""Screens: the full-screen program. Only this package imports textual."""
