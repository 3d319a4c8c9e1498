"""Readings: what an instrument is, by the name it was given."""

from __future__ import annotations

from rules.scenario import batch_of


def test_a_refractometer_is_known_by_any_name_that_says_so():
    """`Refractometer` with a capital is as blind to alcohol as any; taken for a glass it would prove a rest."""
    told = """
        day 0         read 1.080
        day 0 09:30   pitched ale
        day 20        read 9Bx gravity.instrument="Refractometer of Ann"
    """
    assert "alcohol" in (batch_of(told).readings[-1].doubt or "")
