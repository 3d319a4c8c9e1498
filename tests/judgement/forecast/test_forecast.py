"""Where a course opens, and the bands drawn from the courses."""

import pytest
from fermenting import day, fermenting, honey

from mustwatch.judgement.forecast.forecast import fan_of
from mustwatch.judgement.forecast.opening import opening_of
from mustwatch.judgement.forecast.paths import bands_of, paths_of, quantiles

FALLING = [(0, 1.100), (3, 1.080), (6, 1.050), (9, 1.030), (12, 1.018)]


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
