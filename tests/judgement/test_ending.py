"""The expected end and the alcohol made."""

import pytest
from fermenting import fermenting, honey

from mustwatch.judgement.alcohol import made_alcohol
from mustwatch.judgement.ending import ending_of


def test_the_interval_follows_the_tolerance():
    """1.140 with 14 % vol: [1.140 - 16.5/131.25, 1.140 - 12/131.25] with one per cent either way of the stated."""
    ending = ending_of(fermenting([(0, 1.140)], tolerance=14.0))
    assert ending.low == pytest.approx(1.140 - (15 + 1.5) / 131.25, abs=1e-4)
    assert ending.high == pytest.approx(1.140 - (13 - 1) / 131.25, abs=1e-4)


def test_without_a_start_the_end_is_not_known():
    """And it says so."""
    ending = ending_of(fermenting([(20, 1.090)]))
    assert ending.low is None
    assert "start gravity" in ending.missing


def test_sugar_fed_later_counts_as_if_there_from_the_start():
    """1.100 and 25 points fed end higher than 1.100 alone with the same yeast."""
    fed = fermenting([(0, 1.100), (8, 1.030), (8.6, 1.055)], extra=[honey(8.5)], tolerance=12.0)
    plain = fermenting([(0, 1.100), (8, 1.030)], tolerance=12.0)
    assert ending_of(fed).high > ending_of(plain).high + 0.010


def test_alcohol_is_a_range_and_wider_with_a_reckoned_start():
    """An estimate of the start is good to ten points."""
    made = made_alcohol(fermenting([(0, 1.100)]), 1.000)
    low, high = made.low, made.high
    assert 12.5 < low < 13.3 < high < 14.2
    assert made_alcohol(fermenting([(20, 1.09)]), 1.0) is None
