"""Straight lines through the last readings."""

import pytest
from fermenting import fermenting

from mustwatch.judgement.window import line_through, points_of


def _line(readings):
    batch = fermenting(readings)
    return line_through(points_of(batch.good_readings, batch.readings[0].at))


def test_a_fall_is_the_least_squares_slope_in_points_a_day():
    """Readings exactly on a line give its slope back."""
    line = _line([(0, 1.050), (1, 1.047), (2, 1.044), (3, 1.041)])
    assert line.fall == pytest.approx(3.0)
    assert line.days == pytest.approx(3.0)


def test_the_error_is_the_glass_over_the_spread_of_days():
    """Two readings three days apart: 1 point / sqrt(2 x 1.5^2)."""
    line = _line([(0, 1.050), (3, 1.050)])
    assert line.error == pytest.approx(1 / (2 * 1.5**2) ** 0.5)


@pytest.mark.parametrize(
    ("readings", "enough"),
    [
        ([(0, 1.05), (2, 1.05)], False),
        ([(0, 1.05), (1, 1.05), (2, 1.05)], True),
        ([(0, 1.05), (3, 1.05)], True),
        ([(0, 1.05), (0.5, 1.05), (1, 1.05)], False),
    ],
)
def test_a_window_is_long_enough_after_three_days_or_two_with_three_readings(readings, enough):
    """Trade page 2.3: two readings a day apart tell nothing."""
    assert _line(readings).enough is enough


def test_the_window_is_the_last_seven_days():
    """What fell fast two weeks ago says nothing of today."""
    line = _line([(0, 1.110), (7, 1.060), (14, 1.030), (17, 1.030), (20, 1.030)])
    assert len(line.points) == 3
    assert line.fall == pytest.approx(0.0)


def test_one_stray_reading_is_left_out_of_the_line():
    """One odd reading among four must not turn a fall into a stand."""
    line = _line([(0, 1.060), (1, 1.057), (2, 1.054), (3, 1.066), (4, 1.048)])
    assert line.strayed
    assert line.fall == pytest.approx(3.0)


def test_two_readings_a_month_apart_make_no_window():
    """Nobody knows what happened between."""
    assert _line([(0, 1.060), (30, 1.060)]) is None


def test_two_readings_of_one_instant_count_once():
    """A spread of nought must not divide."""
    batch = fermenting([(0, 1.060), (0, 1.060)])
    assert len(points_of(batch.good_readings, batch.readings[0].at)) == 1


@pytest.mark.parametrize(("days", "enough"), [(3 - 0.9 / 24, True), (3 - 1.1 / 24, False)])
def test_three_days_may_be_an_hour_short(days, enough):
    """ "Three days later" is rarely to the minute."""
    assert _line([(0, 1.05), (days, 1.05)]).enough is enough
    assert _line([(0, 1.05), (1, 1.05), (days - 1, 1.05)]).enough is enough


@pytest.mark.parametrize(("days", "count"), [(7.2, 3), (7.3, 2)])
def test_the_window_is_seven_days_and_six_hours(days, count):
    """Nobody reads at the same minute."""
    assert len(_line([(0, 1.050), (days - 2, 1.050), (days, 1.050)]).points) == count


@pytest.mark.parametrize(("days", "made"), [(20.9, True), (21.1, False)])
def test_two_readings_up_to_three_weeks_apart_make_a_window(days, made):
    """Further apart nobody knows how it moves now."""
    assert (_line([(0, 1.060), (days, 1.060)]) is not None) is made


# Four readings a day apart, one of them off: its own pull on the line leaves it 0.7 of that away from it.
@pytest.mark.parametrize(("off", "strayed"), [(0.0042, False), (0.0044, True)])
def test_a_stray_reading_is_three_points_off_the_line(off, strayed):
    """Looked at twice, it is left out."""
    line = _line([(0, 1.050), (1, 1.050), (2, 1.050 + off), (3, 1.050)])
    assert line.strayed is strayed


@pytest.mark.parametrize(("error", "sigma"), [(0.0005, 1.0), (0.0012, 1.2), (0.0015, 1.25), (0.0016, 1.6)])
def test_a_line_is_as_sure_as_its_readings(error, sigma):
    """No surer than a careful reader; warmth not written down shifts neighbours alike; a coarse glass counts whole."""
    points = [point._replace(error=error * 1000) for point in _line([(0, 1.05), (3, 1.05)]).points]
    assert line_through(points).error == pytest.approx(sigma / 4.5**0.5)


def test_a_line_takes_the_last_twelve_readings():
    """A glass that reports by the hour must not outvote the week."""
    assert len(_line([(n / 4, 1.050) for n in range(20)]).points) == 12
