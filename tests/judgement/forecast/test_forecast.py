"""Where a course opens, and the bands drawn from the courses."""

import pytest
from fermenting import day, event, fermenting, honey

from mustwatch.judgement.forecast.forecast import fan_of, mark_of
from mustwatch.judgement.forecast.opening import opening_of
from mustwatch.judgement.forecast.paths import bands_of, paths_of, quantiles
from mustwatch.judgement.forecast.prior import HOME, LABORATORY
from mustwatch.ledger.events import Added

FALLING = [(0, 1.100), (3, 1.080), (6, 1.050), (9, 1.030), (12, 1.018)]


def food(days):
    """Nutrient, so many days after pitching."""
    return event(Added, days, what="nutrient", category="nutrient", g=1.0)


def _bands(readings, days_on, **keys):
    fan = fan_of(fermenting(readings, **keys), day(max(at for at, _ in readings)))
    return bands_of(paths_of(fan, days_on))


def test_quantiles_lie_between_neighbours():
    """Five values: the middle one is the middle, a tenth lies at the least, and half way between two is half way."""
    assert quantiles([5.0, 1.0, 3.0, 2.0, 4.0]) == pytest.approx((1.0, 3.0, 5.0))
    assert quantiles([1.0, 2.0], (0.5,)) == pytest.approx((1.5,))


def test_the_band_holds_its_order_and_widens_with_time():
    """Tomorrow is surer than next week."""
    bands = _bands(FALLING[:3], [0.0, 2.0, 7.0])
    assert all(low <= middle <= high for low, middle, high in bands)
    widths = [high - low for low, _, high in bands]
    assert widths[0] < widths[1] < widths[2]


def test_more_readings_narrow_the_band():
    """The same course read twice as often is surer of its end."""
    few = _bands(FALLING[:2], [30.0])[0]
    many = _bands(FALLING, [30.0])[0]
    assert many[2] - many[0] < few[2] - few[0]


def test_a_warmer_must_is_expected_to_go_faster():
    """Before any fall is read warmth is most of what is known."""
    cold = _bands([(0, 1.100), (1, 1.100)], [6.0], must_c=14.0)[0][1]
    warm = _bands([(0, 1.100), (1, 1.100)], [6.0], must_c=26.0)[0][1]
    assert warm < cold - 7


def test_one_outlier_moves_the_forecast_little():
    """A slip of twenty points in the middle."""
    plain = _bands(FALLING, [7.0])[0][1]
    slipped = _bands([*FALLING[:3], (9, 1.055), FALLING[4]], [7.0])[0][1]
    assert slipped == pytest.approx(plain, abs=4.0)


def test_sugar_opens_a_new_course_at_the_next_reading():
    """Older readings belong to another must."""
    batch = fermenting([*FALLING, (13, 1.040), (15, 1.030)], extra=[honey(12.5)])
    opening = opening_of(batch)
    assert opening.start_points == pytest.approx(40.0, abs=0.5)
    assert opening.active
    assert len(opening.points) == 1


def test_a_rise_no_error_explains_opens_a_new_course_too():
    """Fed and not written down."""
    opening = opening_of(fermenting([*FALLING, (13, 1.050)]))
    assert opening.start_points == pytest.approx(50.0, abs=0.5)
    assert opening.start_error > 3


def test_a_high_slip_with_a_low_reading_after_it_opens_nothing():
    """The next reading went on as before: it was a slip."""
    opening = opening_of(fermenting([*FALLING, (13, 1.050), (15, 1.010)]))
    assert opening.start_points == pytest.approx(100.0, abs=0.5)


def test_without_a_start_gravity_the_start_is_unsure_and_above_the_first_reading():
    """Something has fermented already, nobody knows how much."""
    opening = opening_of(fermenting([(5, 1.060), (8, 1.040)]))
    assert opening.start_points > 60
    assert opening.start_error >= 10


def test_nothing_pitched_and_nothing_read_give_no_course():
    """There is nothing to go on."""
    assert opening_of(fermenting([(0, 1.1)], pitched=False)) is None
    assert fan_of(fermenting([]), day(3)) is None


def test_a_must_read_finer_than_any_hydrometer_shows_counts_as_a_laboratorys_unless_honey_is_in_it():
    """Half a point is a glass; a fifth of one is not. A mead is a mead, whoever reads it."""
    by_glass, fine = [(0, 1.1005), (3, 1.0805)], [(0, 1.1002), (3, 1.0802)]
    assert fan_of(fermenting(by_glass, honey=False), day(3)).prior.beliefs is HOME
    assert fan_of(fermenting(fine, honey=False), day(3)).prior.beliefs is LABORATORY
    assert fan_of(fermenting(fine, honey=True), day(3)).prior.beliefs is HOME


def test_the_same_must_is_less_sure_at_home():
    """Early, from the same readings."""
    fine, glass = ([(0, 1.1002), (2, 1.0902)], [(0, 1.1000), (2, 1.0900)])
    laboratory, home = (_bands(readings, [6.0], honey=False)[0] for readings in (fine, glass))
    assert home[2] - home[0] > 1.3 * (laboratory[2] - laboratory[0])


def test_readings_all_in_steps_of_five_are_believed_to_five():
    """From three readings on; one off the steps tells that the keeper reads closer."""
    steps = opening_of(fermenting([(0, 1.100), (3, 1.085), (6, 1.060), (9, 1.040)]))
    closer = opening_of(fermenting([(0, 1.100), (3, 1.085), (6, 1.060), (9, 1.041)]))
    few = opening_of(fermenting([(0, 1.100), (3, 1.085), (6, 1.060)]))
    assert mark_of(steps) == pytest.approx(5 / 12**0.5)
    assert mark_of(closer) == 0.0 and mark_of(few) == 0.0


def test_a_fall_too_fast_to_judge_by_is_half_believed():
    """Fifty points in a day are doubted by every judgement, yet the forecast goes lower for them."""
    slow, fast = ([(0, 1.100), (1, 1.095)], [(0, 1.100), (1, 1.095), (2, 1.045)])
    batch = fermenting(fast)
    assert batch.good_readings[-1].points == pytest.approx(95.0, abs=0.5)
    assert _bands(fast, [0.0])[0][1] < _bands(slow, [1.0])[0][1] - 15


def test_weighed_sugar_shifts_the_level_before_it_is_read_and_unweighed_leaves_it_unsure():
    """Half a kilogram of honey in four litres is some 38 points."""
    weighed = opening_of(fermenting(FALLING, until=13, extra=[honey(12.5)]))
    unweighed = opening_of(fermenting(FALLING, until=13, extra=[honey(12.5, g=None)]))
    assert weighed.start_points == pytest.approx(18 + 38.5, abs=1.0)
    assert unweighed.start_points == pytest.approx(18.0, abs=0.5)
    assert unweighed.start_error > weighed.start_error + 5


def test_sugar_does_not_wake_what_stood_still():
    """Fed in a stall it is expected to stay; fed on its way down it is expected to go on."""
    stalled = [(0, 1.110), (3, 1.080), (6, 1.060), (9, 1.060), (12, 1.060)]
    for readings, stays in ((stalled, True), (FALLING, False)):
        fan = fan_of(fermenting(readings, until=13, extra=[honey(12.5, g=130.0)]), day(13))
        assert fan.stood is stays
    assert fan_of(fermenting(stalled), day(12)).stood is False


def test_food_counts_only_while_yeast_takes_it_up_and_until_it_is_read():
    """Before nine per cent of alcohol, and since the last reading."""
    early, late = FALLING[:3], FALLING
    assert fan_of(fermenting(early, until=7, extra=[food(6.5)]), day(7)).fed_since
    assert not fan_of(fermenting(late, until=13, extra=[food(12.5)]), day(13)).fed_since
    assert not fan_of(fermenting(early, extra=[food(5.5)]), day(6)).fed_since


def test_food_never_slows_what_is_foreseen():
    """It hastens some courses and wakes some stands."""
    plain = bands_of(paths_of(fan_of(fermenting(FALLING[:3], until=6.5), day(6.5)), [5.0]))[0]
    fed = bands_of(paths_of(fan_of(fermenting(FALLING[:3], until=6.5, extra=[food(6.4)]), day(6.5)), [5.0]))[0]
    assert fed[1] <= plain[1] and fed[0] < plain[0]
