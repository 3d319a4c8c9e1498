"""Raised at one level, cleared at another, all read from the story."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from mustwatch.rules.evidence.latch import Sample, held_above, held_below, lasting


def samples(*values: float) -> list[Sample]:
    """One sample a day."""
    start = datetime(2026, 3, 1, tzinfo=UTC)
    return [Sample(start + timedelta(days=day), value, f"e{day}") for day, value in enumerate(values)]


def test_between_the_two_levels_what_was_stays():
    """Not raised there, and not cleared there."""
    assert held_above(samples(29.5, 29.8), 30, 29) is None
    assert held_above(samples(30.5, 29.8, 29.2), 30, 29).since.day == 1


def test_a_run_that_ended_begins_anew():
    """Since when counts from the last time."""
    assert held_above(samples(31, 28, 31), 30, 29).since.day == 3


def test_two_in_a_row_may_be_asked_to_end_it():
    """One good measurement is as uncertain as one bad."""
    assert held_above(samples(31, 28, 31), 30, 29, clear_count=2).since.day == 1
    assert held_above(samples(31, 28, 28), 30, 29, clear_count=2) is None


def test_below_is_above_upside_down():
    """The worst is the lowest."""
    held = held_below(samples(9, 8, 10.5), 10, 11)
    assert held.worst.value == 8 and held.last.value == 10.5


def test_one_sample_never_lasts():
    """One bad reading fires nothing on its own."""
    assert not lasting(held_above(samples(40), 30, 29), timedelta(hours=1))
    assert lasting(held_above(samples(40, 40), 30, 29), timedelta(hours=24))
    assert not lasting(None, timedelta(0))
