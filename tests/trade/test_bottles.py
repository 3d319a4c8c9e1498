"""Counting bottles: nothing is made and nothing is lost but what is said to be."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.bottles import bottle_count, bottles_needed

SIZES = st.lists(
    st.tuples(st.sampled_from([187, 330, 375, 500, 750, 1500]), st.none() | st.integers(0, 40)), min_size=1
)


def test_a_demijohn_of_five_litres():
    """4.5 L after lees: six 750 mL bottles, nothing over; with one in twenty lost, five and half a litre."""
    assert bottle_count(4.5, [(750, None)], 0).total == 6
    counted = bottle_count(4.5, [(750, None)], 0.05)
    assert counted.total == 5
    assert counted.left_ml == pytest.approx(525)


def test_large_bottles_first_then_what_is_left():
    filled = bottle_count(5.0, [(375, 4), (750, 5)], 0).filled
    assert [(lot.size_ml, lot.count) for lot in filled] == [(750, 5), (375, 3)]


@given(st.floats(0, 500), SIZES, st.floats(0, 0.5))
def test_volume_is_conserved(volume, sizes, loss):
    counted = bottle_count(volume, sizes, loss)
    in_glass = sum(lot.size_ml * lot.count for lot in counted.filled)
    assert in_glass + counted.left_ml + counted.lost_l * 1000 == pytest.approx(volume * 1000, abs=1e-3)
    assert counted.left_ml >= 0


@given(st.floats(0.1, 500), st.sampled_from([330, 375, 500, 750]))
def test_needed_bottles_hold_it_all(volume, size):
    assert bottles_needed(volume, size) * size >= volume * 1000 - 1.001


@pytest.mark.parametrize(
    ("volume", "sizes", "loss"), [(-1, [(750, None)], 0), (5, [(5, None)], 0), (5, [(750, 1)], 0.9)]
)
def test_out_of_range_is_refused_in_one_line_naming_it(volume, sizes, loss):
    with pytest.raises(ValueError, match=r" to .*got"):
        bottle_count(volume, sizes, loss)


def test_no_size_is_refused():
    with pytest.raises(ValueError, match="at least one bottle size"):
        bottle_count(5, [])
