"""Deeds: each act once, from what is typed to the event it makes."""
