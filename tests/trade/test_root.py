"""Running a curve backwards, and the one wording of a refusal."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.trade.limits import within
from mustwatch.trade.root import crossing


@given(st.floats(0.001, 50), st.floats(0.5, 5))
def test_a_crossing_is_found(where, power):
    """For curves as bent as any here."""
    found = crossing(lambda x: x**power - where**power, 0.0, 100.0, close=1e-12)
    assert found**power == pytest.approx(where**power, rel=1e-6, abs=1e-9)


def test_without_a_crossing_the_nearer_end_is_given():
    """A solver at the edge of its range does not fail on the last rounding."""
    assert crossing(lambda x: x + 1.0, 0.0, 5.0) == 0.0
    assert crossing(lambda x: x - 9.0, 0.0, 5.0) == 5.0


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf"), -1, 11])
def test_a_number_outside_is_refused_with_its_range(value):
    """Not-a-number is never inside."""
    with pytest.raises(ValueError, match="^depth must be 0 to 10 m, got "):
        within("depth", value, 0, 10, "m")
