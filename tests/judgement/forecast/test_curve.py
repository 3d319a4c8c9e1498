"""The closed form of a course."""

from math import exp

import pytest

from mustwatch.judgement.forecast.curve import day_when, way_to_go


@pytest.mark.parametrize("shape", [-0.6, -0.1, 0.0, 0.01, 0.3, 1.5])
def test_the_way_to_go_starts_whole_and_never_rises(shape):
    """Gravity falls or stands; only additions raise it."""
    ways = way_to_go([n / 4 for n in range(200)], 1.5, 0.2, shape)
    assert ways[0] == pytest.approx(1.0)
    assert all(later <= before + 1e-12 for before, later in zip(ways, ways[1:], strict=False))
    assert all(0 <= way <= 1 for way in ways)


def test_without_lag_or_bend_it_is_an_exponential():
    """The plain case, held to the function it is named after."""
    assert way_to_go([3.0], 1e-6, 0.3, 0.0)[0] == pytest.approx(exp(-0.9), rel=1e-5)


@pytest.mark.parametrize("shape", [-0.5, 0.0, 0.4])
def test_the_day_of_a_share_is_the_day_on_which_it_is_reached(shape):
    """One is the inverse of the other."""
    day = day_when(0.2, 2.0, 0.15, shape)
    assert way_to_go([day], 2.0, 0.15, shape)[0] == pytest.approx(0.2)
