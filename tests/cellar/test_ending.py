"""Where a batch should have come at least, and the alcohol made."""

import pytest
from fermenting import fermenting, honey

from mustwatch.cellar.ending import ending_of


def test_the_least_end_follows_the_upper_tolerance():
    """1.140 with 14 % vol stated, good to one: a yeast of 15 % stops at 1.140 - 14/131.25 at the latest."""
    ending = ending_of(fermenting([(0, 1.140)], tolerance=14.0))
    assert ending.least == pytest.approx(1.140 - (15 - 1) / 131.25, abs=1e-4)
    assert ending.above(ending.least + 0.010) == pytest.approx(10.0)
    assert ending.above(ending.least - 0.010) == 0.0


def test_an_end_is_reached_at_the_stated_tolerance_or_at_the_highest_of_a_class():
    """Half a mark is allowed above it, no more."""
    stated = ending_of(fermenting([(0, 1.140)], tolerance=14.0))
    done = 1.140 - (13 - 1) / 131.25
    assert stated.reached(done + 0.0004) and not stated.reached(done + 0.0006)
    of_class = ending_of(fermenting([(0, 1.140)], yeast_class="ale", tolerance=None))
    assert of_class.done == of_class.least
    assert of_class.reached(of_class.least) and not of_class.reached(of_class.least + 0.001)


def test_what_is_dry_has_reached_its_end_whatever_its_yeast():
    """1.000 below 12 % of alcohol, 0.998 above."""
    weak, strong = (ending_of(fermenting([(0, start)], tolerance=20.0)) for start in (1.080, 1.110))
    assert weak.reached(1.0004) and not weak.reached(1.0006)
    assert strong.reached(0.9984) and not strong.reached(0.9986)


def test_what_may_still_ferment_is_counted_down_to_the_driest():
    """With the reading's error on top: a glass cannot see it."""
    ending = ending_of(fermenting([(0, 1.080)]))
    assert ending.may_hold(0.998, 0.001) == pytest.approx(5.0)
    assert ending.may_hold(0.990, 0.001) == 0.0


def test_without_a_start_the_end_is_not_known():
    """And it says so."""
    ending = ending_of(fermenting([(20, 1.090)]))
    assert ending.least is None
    assert ending.above(1.090) == 0.0
    assert "start gravity" in ending.missing


def test_sugar_fed_later_counts_as_if_there_from_the_start():
    """1.100 and 25 points fed end higher than 1.100 alone with the same yeast."""
    fed = fermenting([(0, 1.100), (8, 1.030), (8.6, 1.055)], extra=[honey(8.5)], tolerance=12.0)
    plain = fermenting([(0, 1.100), (8, 1.030)], tolerance=12.0)
    assert ending_of(fed).done > ending_of(plain).done + 0.010
