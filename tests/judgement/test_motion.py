"""How a batch moves, number by number. From 1.110 a yeast of 14 % stated should come to 1.0033 at least."""

from dataclasses import replace

import pytest
from fermenting import SETTINGS, day, fermenting, racked

from mustwatch.judgement.motion import stalled_before
from mustwatch.judgement.state import judge, judge_afresh
from mustwatch.ledger.settings import Settings

LEAST = 1.110 - 14 / 131.25
START = (0, 1.110)


def _seen(readings, until=None, settings=SETTINGS, **keys):
    batch = fermenting([START, *readings], until=until, **keys)
    return judge_afresh(batch, settings, day(until if until is not None else readings[-1][0]))


# Two readings three days apart: the fastest fall they allow is theirs and 0.775.
@pytest.mark.parametrize(("fall", "stalled"), [(0.22, True), (0.23, False)])
def test_a_fall_that_may_be_a_point_a_day_is_no_stand(fall, stalled):
    """95 %, one-sided; a cellar may set its own."""
    readings = [(10, 1.060), (13, 1.060 - 3 * fall / 1000)]
    assert (_seen(readings).state == "stalled") is stalled
    slower = Settings(thresholds={"stalled": {"fall": 0.9}})
    assert _seen(readings, settings=slower).state != "stalled"


# Seven daily readings: their slowest fall is 0.311 less.
@pytest.mark.parametrize(("fall", "state"), [(0.60, "stalled"), (0.63, "sluggish")])
def test_what_surely_falls_by_more_than_a_third_of_a_point_moves(fall, state):
    """Slow is another thing than standing."""
    assert _seen([(10 + n, 1.060 - n * fall / 1000) for n in range(7)]).state == state


@pytest.mark.parametrize(("above", "stalled"), [(10.1, True), (9.9, False)])
def test_a_stall_stands_ten_points_above_the_least_end(above, stalled):
    """Below that it is a slow finish."""
    sg = LEAST + above / 1000
    seen = _seen([(10, sg), (13, sg)])
    assert (seen.state == "stalled") is stalled
    assert seen.slow_finish is not stalled
    assert seen.points_to_go == pytest.approx(above, abs=0.01)


@pytest.mark.parametrize(("above", "state"), [(4.1, "sluggish"), (3.9, "undecided")])
def test_a_slow_finish_stands_four_points_above_it(above, state):
    """Closer to the end every ferment stands."""
    sg = LEAST + above / 1000
    assert _seen([(10, sg), (13, sg)]).state == state


@pytest.mark.parametrize(("hours", "stalled"), [(96.1, True), (95.9, False)])
def test_no_stall_is_said_in_the_first_four_days(hours, stalled):
    """Slow starts are common."""
    assert (_seen([(2, 1.110), (hours / 24, 1.110)]).state == "stalled") is stalled


@pytest.mark.parametrize(("rise", "stalled"), [(3.9, True), (4.1, False)])
def test_a_last_reading_that_rose_is_no_stand(rise, stalled):
    """More than four errors of the glass: something was added, or another vessel read."""
    assert (_seen([(10, 1.060), (13, 1.060 + rise / 1000)]).state == "stalled") is stalled


@pytest.mark.parametrize(("apart", "confirmed"), [(0.51, True), (0.49, False)])
def test_a_stall_is_confirmed_by_readings_on_two_days(apart, confirmed):
    """Two looks of one evening are one."""
    seen = _seen([(10, 1.060), (13, 1.060), (13 + apart, 1.060)])
    assert seen.state == "stalled" and seen.confirmed is confirmed


@pytest.mark.parametrize(("above", "state"), [(20.5, "sluggish"), (19.5, "moving")])
def test_slow_is_judged_with_twenty_points_to_go(above, state):
    """Every tail slows. 0.57 points a day, sure to 0.22, in a cellar that calls half a point a stand."""
    last = LEAST + above / 1000
    readings = [(10 + n * 0.7, last + (10 - n) * 0.0004) for n in range(11)]
    assert _seen(readings, settings=Settings(thresholds={"stalled": {"fall": 0.5}})).state == state


# Eleven readings over a week: sure to 0.24; 0.04 of fifty points is two a day.
@pytest.mark.parametrize(("fall", "state"), [(1.75, "sluggish"), (1.85, "moving")])
def test_slow_is_less_than_a_twenty_fifth_of_the_way_a_day(fall, state):
    """By the fastest fall the readings allow."""
    last = LEAST + 0.050
    assert _seen([(10 + n * 0.7, last + (10 - n) * 0.7 * fall / 1000) for n in range(11)]).state == state


@pytest.mark.parametrize(("best", "state"), [(7.0, "sluggish"), (6.7, "moving")])
def test_slow_is_half_of_its_own_best_while_half_of_the_sugar_is_left(best, state):
    """Three days of its best at the same warmth, then 3.2 points a day: 3.44 at the most."""
    before = [(n, 1.110 - n * best / 1000) for n in (1, 2, 3)]
    top = before[-1][1]
    slow = [(3 + n * 0.7, top - n * 0.7 * 0.0032) for n in range(1, 11)]
    assert _seen([*before, *slow]).state == state


@pytest.mark.parametrize(("cooler", "state"), [(2.9, "sluggish"), (3.1, "moving")])
def test_a_must_three_degrees_cooler_is_not_held_against_its_own_best(cooler, state):
    """It may be as slow as it is cold."""
    before = [(n, 1.110 - n * 0.009) for n in (1, 2, 3)]
    slow = [(3 + n * 0.7, before[-1][1] - n * 0.7 * 0.0032) for n in range(1, 11)]
    batch = fermenting([START, *before, *slow])
    warm = tuple(t._replace(celsius=20.0 - (cooler if t is batch.temperatures[-1] else 0)) for t in batch.temperatures)
    assert judge_afresh(replace(batch, temperatures=warm), SETTINGS, day(10)).state == state


@pytest.mark.parametrize(("fallen", "state"), [(2.9, "lag"), (3.1, "undecided")])
def test_lag_ends_with_three_points(fallen, state):
    """Where the start was read low before it was mixed through, its line shows no fall."""
    readings = [(-1, 1.107), (-0.5, 1.107), START, (0.5, 1.110 - fallen / 1000)]
    assert judge_afresh(fermenting(readings, until=0.6), SETTINGS, day(0.6)).state == state


@pytest.mark.parametrize(("days", "state"), [(3.9, "lag"), (4.1, "undecided")])
def test_lag_ends_after_four_days(days, state):
    """After that nobody can know without a reading."""
    assert _seen([(1, 1.1095)], until=days).state == state


@pytest.mark.parametrize(("age", "state"), [(20.9, "moving"), (21.1, "undecided")])
def test_a_reading_three_weeks_old_tells_nothing_of_today(age, state):
    """It may be anywhere."""
    assert _seen([(3, 1.080)], until=3 + age).state == state


FLAT = [(9, 1.060), (12, 1.060)]  # a stall at day 12


def _held(readings, settings=SETTINGS):
    batch = fermenting([START, *FLAT, *readings])
    return judge(batch, settings, day(readings[-1][0]))


@pytest.mark.parametrize(("low", "held"), [(2.7, True), (2.9, False)])
def test_a_stall_is_held_until_two_readings_lie_truly_below_it(low, held):
    """2.8 points, the noise of two readings."""
    sg = 1.060 - low / 1000
    assert (_held([(13, sg), (14, sg)]).state == "stalled") is held


def test_a_held_stall_keeps_what_was_found_and_is_told_as_such():
    """Since when, how slow and by which readings."""
    now = _held([(13, 1.0575)])
    alone = judge_afresh(fermenting([START, *FLAT, (13, 1.0575)]), SETTINGS, day(13))
    assert alone.state != "stalled"
    assert now.state == "stalled" and not now.confirmed and now.since == day(9)
    assert now.decide_on is None and now.fall == pytest.approx(0.0)


@pytest.mark.parametrize("held", [True, False])
def test_a_fair_fall_ends_a_stall(held):
    """Surely a fall, and one that may be so much faster than a stall's as a cellar has set; half a point else."""
    readings = [(13, 1.0573), (14, 1.0573)]
    alone = judge_afresh(fermenting([START, *FLAT, *readings]), SETTINGS, day(14))
    assert alone.state in ("moving", "sluggish") and _held(readings).state == "stalled"
    most = alone.fall + 1.645 * alone.fall_error
    margin = most - 1.0 + (0.01 if held else -0.01)
    assert (_held(readings, Settings(thresholds={"stalled": {"margin": margin}})).state == "stalled") is held


@pytest.mark.parametrize(("above", "held"), [(5.1, True), (4.9, False)])
def test_a_stall_is_held_down_to_half_its_height(above, held):
    """What stood ten points above the end, and reads five, is near enough to be left alone."""
    high, low = LEAST + 0.0106, LEAST + above / 1000
    batch = fermenting([START, (9, high), (12, high), (16, low)])
    assert judge_afresh(batch, SETTINGS, day(16)).state != "stalled"
    assert (judge(batch, SETTINGS, day(16)).state == "stalled") is held


@pytest.mark.parametrize(("later", "held"), [(8, True), (9, False)])
def test_a_stall_is_looked_for_eight_readings_back(later, held):
    """Undecided readings keep it so long, no longer."""
    undecided = [(13 + n / 24, 1.0575) for n in range(1, later + 1)]
    batch = fermenting([START, *FLAT, *undecided])
    assert judge_afresh(batch, SETTINGS, day(14)).state != "stalled"
    assert (judge(batch, SETTINGS, day(14)).state == "stalled") is held


def test_a_stall_of_an_earlier_stretch_is_remembered():
    """Racking opens a new stretch; what stalled before has stalled."""
    stood = fermenting([START, *FLAT, (20, 1.000)], extra=[racked(13)])
    assert stalled_before(stood)
    assert not stalled_before(stood, day(8))
    assert not stalled_before(fermenting([START, (6, 1.060), (9, 1.050), (12, 1.040), (20, 1.000)]))


def test_the_newest_reading_alone_makes_no_stall_of_the_past():
    """It is one now, or none."""
    assert not stalled_before(fermenting([START, (6, 1.060), (9, 1.060)]))
    assert stalled_before(fermenting([START, (6, 1.060), (9, 1.060), (12, 1.040)]))
