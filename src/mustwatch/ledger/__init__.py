"""Ledger: the events and where they are kept."""
