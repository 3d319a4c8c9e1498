"""Pressure behind a closed lid."""

import pytest
from fermenting import SETTINGS, bottled, day, fermenting

from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.judgement.forecast.sealed import STEPS_POINTS, _between, _hours, _table

LOTS = [{"size_ml": 750, "count": 4, "bottle": "sparkling", "closure": "crown-cap"}]
DRY = [(0, 1.080), (5, 1.020), (10, 0.997), (20, 0.996), (30, 0.996)]


def test_pressure_rises_with_every_point():
    """The table of the trade page: 2.5 volumes at 20 °C are 1.9 bar in water."""
    table = _table(4.0, 0.2, 20.0, 0.0)
    assert all(later > before for before, later in zip(table, table[1:], strict=False))
    assert _between(table, 0.25) == pytest.approx((table[0] + table[1]) / 2)
    assert _between(table, 1e6) == table[len(STEPS_POINTS) - 1]


def test_hours_until_a_limit_are_read_off_the_rise():
    """Half way up a straight rise of a day is twelve hours."""
    times = [day(0), day(1), day(2)]
    assert _hours(times, [0.0, 1.0, 1.0], 0.5) == pytest.approx(12)
    assert _hours(times, [0.9, 1.0, 1.0], 0.5) == 0
    assert _hours(times, [0.0, 1.0, 1.0], 5.0) is None


def test_primed_sparkling_bottles_stay_below_their_rating():
    """24 g a litre is the champagne dose, 5 to 6 atmospheres; 12 g here is about half."""
    batch = fermenting(
        DRY, until=32, extra=[bottled(31, lots=LOTS, style="sparkling", priming={"what": "sugar", "g": 36})]
    )
    sealing = outlook(batch, SETTINGS, day(32)).sealing
    assert sealing.vessel == "sparkling"
    assert sealing.rating_bar == 6.0
    assert 2.0 < sealing.bars[-1][1] < 6.0


def test_bottles_of_no_known_kind_bear_nothing():
    """Unknown never means safe."""
    lots = [{"size_ml": 750, "count": 4}]
    batch = fermenting(DRY, until=32, extra=[bottled(31.5, lots=lots)])
    assert outlook(batch, SETTINGS, day(32)).sealing.rating_bar == 0


def test_without_a_temperature_a_warm_room_is_assumed_and_said():
    """The cautious side."""
    sealing = outlook(fermenting(DRY[:2], must_c=None), SETTINGS, day(5)).sealing
    assert sealing.temp_assumed and sealing.temp_c == 25.0
