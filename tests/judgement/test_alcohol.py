"""The alcohol made, and where strong begins."""

import pytest
from fermenting import event, fermenting, honey

from mustwatch.judgement.alcohol import alcohol_now, is_strong, made_alcohol
from mustwatch.ledger.events import Mixed


def test_alcohol_is_a_range_and_not_known_without_a_start():
    """Several formulas of the trade, and the noise of two readings."""
    made = made_alcohol(fermenting([(0, 1.100)]), 1.000)
    assert 12.5 < made.low < 13.3 < made.best < made.high < 14.2
    assert made_alcohol(fermenting([(20, 1.09)]), 1.0) is None


def test_a_start_from_the_recipe_widens_it_by_ten_points():
    """An estimate is good to ten points either way."""
    parts = [{"what": "honey", "category": "honey", "kg": 1.3}]
    mixed = event(Mixed, 0, volume_l=4.0, vessel={"kind": "jug"}, ingredients=parts)
    reckoned = fermenting([(20, 1.000)], extra=[mixed])
    start = reckoned.start_estimate_sg
    made = made_alcohol(reckoned, 1.000)
    assert made.low == made_alcohol(fermenting([(0, round(start - 0.010, 4))]), 1.000).low
    assert made.high == made_alcohol(fermenting([(0, round(start + 0.010, 4))]), 1.000).high


# By points over 7.36, the highest of the trade's rules here, and 0.2 % of reading noise: 101.5 points are 13.99 %.
@pytest.mark.parametrize(("start", "sg", "strong"), [
    (1.100, 0.9986, False), (1.100, 0.9984, True), (1.110, 1.020, False), (1.1101, 1.020, True)
])  # fmt: skip
def test_strong_is_above_14_per_cent_at_its_highest_or_began_above_1_110(start, sg, strong):
    """Either way a slow tail hides for longer."""
    assert is_strong(fermenting([(0, start)]), sg) is strong


def test_a_start_that_is_not_known_counts_as_strong():
    """Unknown never means easy."""
    assert is_strong(fermenting([(20, 1.010)]), 1.000)


def test_alcohol_is_not_told_by_a_reading_from_before_the_sugar_went_in():
    """The start counts the sugar already, the reading does not."""
    readings = [(0, 1.090), (10, 1.010)]
    assert alcohol_now(fermenting(readings)) is not None
    assert alcohol_now(fermenting(readings, until=12, extra=[honey(11)])) is None
    assert alcohol_now(fermenting([*readings, (12, 1.030)], extra=[honey(11)])) is not None
    assert alcohol_now(fermenting(readings[:1])) is None
