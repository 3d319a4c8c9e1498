"""From when a bottling drinks well and until when its like keeps, on each side of every limit."""

from __future__ import annotations

from datetime import timedelta

import pytest
from rules.scenario import batch_of

from mustwatch.judgement.alcohol import alcohol_now
from mustwatch.judgement.keeping import ready_from, window_of

# Months from pitching and from bottling, of the hobby's ageing windows: below 8 % vol 1 to 6, 8 to 12 % 3 to 12,
# 12 to 14 % 6 to 24, above 14 % 12 to 36; twice the upper end is when their kind has usually faded.
MONTH = timedelta(days=30.44)


def _batch(start: str, end: str, more: str = "bottled 6x750 still-wine cork still"):
    return batch_of(
        f"""
        day 0         mixed 5l jug 5l honey 1kg
        day 0 09:00   read {start}
        day 0 09:00   pitched high-tolerance
        day 20        read {end}
        day 26        read {end}
        day 27        {more}
        """
    )


@pytest.mark.parametrize(
    ("start", "months_from", "months_until"),
    [("1.059", 1, 12), ("1.062", 3, 24), ("1.088", 3, 24), ("1.092", 6, 48), ("1.102", 6, 48), ("1.107", 12, 72)],
)
def test_the_window_follows_the_strength(start: str, months_from: int, months_until: int) -> None:
    """One start gravity on each side of 8, 12 and 14 % vol, by the low estimate of the alcohol."""
    batch = _batch(start, "0.998")
    window, made = window_of(batch, batch.bottlings[-1]), alcohol_now(batch)
    limits = {1: (0, 8), 3: (8, 12), 6: (12, 14), 12: (14, 30)}[months_from]
    assert made is not None and limits[0] < made.low <= limits[1]
    assert window.start == max(batch.pitched.at + months_from * MONTH, batch.bottlings[-1].at)
    assert window.end == batch.bottlings[-1].at + months_until * MONTH


@pytest.mark.parametrize(("end", "months"), [("1.0098", 6), ("1.0102", 3)])
def test_a_sweet_one_drinks_well_as_soon_as_the_next_weaker_class(end: str, months: int) -> None:
    """Sweet from 1.010 on, at 12 to 14 % vol."""
    batch = _batch("1.110", end)
    assert ready_from(batch) == batch.pitched.at + months * MONTH


@pytest.mark.parametrize(
    ("how", "days"),
    [
        ("bottled 6x330 beer crown-cap sparkling priming20g", 28),
        ("bottled 6x330 beer crown-cap priming20g", 28),
        ("bottled 6x750 sparkling crown-cap sparkling priming60g", 61),
        ("bottled 6x330 beer crown-cap still", 0),
    ],
)
def test_a_sparkling_one_works_in_its_bottles_first(how: str, days: int) -> None:
    """A weak one would be ready the day it is bottled, were it not for the gas."""
    batch = _batch("1.050", "0.998", how)
    grown = batch.pitched.at + MONTH
    assert ready_from(batch) == max(grown, batch.bottlings[-1].at + timedelta(days=days))


def test_nothing_is_said_where_the_strength_is_not_known() -> None:
    """No start gravity, no alcohol, no window; and what is missing is named."""
    batch = batch_of(
        """
        day 0         pitched ale
        day 40        read 1.000
        day 41        bottled 6x750 still-wine cork still
        """
    )
    window = window_of(batch, batch.bottlings[-1])
    assert (window.start, window.end, window.missing) == (None, None, ("its strength",))
