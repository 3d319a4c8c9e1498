"""Time as yeast counts it."""

from math import exp

import pytest
from fermenting import day, event, fermenting

from mustwatch.judgement.forecast.forecast import fan_of
from mustwatch.judgement.forecast.paths import bands_of, paths_of
from mustwatch.judgement.forecast.warmth import COLDER, USUAL_C, clock_of
from mustwatch.ledger.events import Moved, Read

PER_DEGREE = 0.1
FALLING = [(0, 1.100), (3, 1.080), (6, 1.060)]


def test_without_a_temperature_every_day_counts_alike():
    """The usual room is assumed."""
    clock = clock_of(fermenting(FALLING, must_c=None), day(0), PER_DEGREE)
    assert clock.passed(4.0) == 4.0 and clock.speed == 1.0


def test_a_cold_day_counts_less():
    """Ten degrees below the usual at a tenth a degree."""
    clock = clock_of(fermenting(FALLING, must_c=USUAL_C - 10), day(0), PER_DEGREE)
    assert clock.passed(2.0) == pytest.approx(2.0 * exp(-1.0))


def test_a_musts_temperature_holds_from_half_way_to_the_one_before():
    """Warm at the start, cold at day 6, nothing between: three days of each."""
    warm, cold = (event(Read, at, must_c=c) for at, c in ((0, USUAL_C), (6, USUAL_C - 10)))
    clock = clock_of(fermenting([(0, 1.100)], must_c=None, extra=[warm, cold], until=6), day(0), PER_DEGREE)
    assert clock.passed(6.0) == pytest.approx(3.0 + 3.0 * exp(-1.0))
    assert clock.speed_at(2.9) == 1.0 and clock.speed_at(3.1) == pytest.approx(exp(-1.0))


def test_the_air_counts_from_its_own_time_and_only_where_it_is_newer_than_the_must():
    """A carboy carried into the cold is cold from then on; air beside a later must says nothing."""
    moved = event(Moved, 7, place="shed", air_c=USUAL_C - 10)
    clock = clock_of(fermenting(FALLING, must_c=USUAL_C, extra=[moved], until=7), day(0), PER_DEGREE)
    assert clock.passed(7.0) == pytest.approx(7.0) and clock.speed == pytest.approx(exp(-1.0))
    early = event(Moved, 5, place="shed", air_c=USUAL_C - 10)
    assert clock_of(fermenting(FALLING, must_c=USUAL_C, extra=[early]), day(0), PER_DEGREE).speed == 1.0


def test_no_pace_is_made_up_for_frost():
    """Beyond the coldest that is known it slows no further."""
    frozen = clock_of(fermenting(FALLING, must_c=-20.0), day(0), PER_DEGREE)
    assert frozen.speed == pytest.approx(exp(PER_DEGREE * COLDER))


def test_a_batch_carried_into_the_cold_is_expected_to_slow():
    """The same readings; a day later it stands in a cold shed."""
    moved = event(Moved, 6, place="shed", air_c=8.0)
    stays, goes = fermenting(FALLING), fermenting(FALLING, extra=[moved])
    bands = [bands_of(paths_of(fan_of(batch, day(6)), [7.0]))[0] for batch in (stays, goes)]
    assert bands[1][1] > bands[0][1] + 4
