"""Many courses weighed by readings: what goes in comes out."""

import pytest

from mustwatch.judgement.forecast.curve import way_to_go
from mustwatch.judgement.forecast.posterior import Evidence, courses_of
from mustwatch.judgement.forecast.prior import prior_for


def _prior(start=100.0):
    return prior_for(
        yeast_class="white-wine", start_points=start, start_error=1.5, honey=True, stop_points=None,
        active=False,
    )  # fmt: skip


def _evidence(days, error=1.0, **changed):
    gravities = [-2 + 102 * way for way in way_to_go(days, 1.2, 0.2, 0.0)]
    for place, gravity in changed.items():
        gravities[int(place[1:])] = gravity
    return Evidence(tuple(days), tuple(gravities), (error,) * len(days))


def _mean(courses, value):
    return sum(course.weight * value(course) for course in courses)


def test_the_weights_are_shares_of_one():
    """They are beliefs."""
    courses = courses_of(_prior(), _evidence([3.0, 6.0]))
    assert _mean(courses, lambda c: 1.0) == pytest.approx(1.0)


def test_a_known_course_is_found_again():
    """Rate and end come back within their error from a dozen readings."""
    courses = courses_of(_prior(), _evidence([float(n) for n in range(2, 26, 2)]))
    assert _mean(courses, lambda c: c.rate) == pytest.approx(0.20, rel=0.15)
    assert _mean(courses, lambda c: c.end) == pytest.approx(-2.0, abs=1.5)


def test_no_single_draw_takes_all_belief():
    """With as many readings as are ever used the weights must still be spread, or the band is an accident."""
    courses = courses_of(_prior(), _evidence([float(n) for n in range(2, 30, 2)]))
    assert 1 / _mean(courses, lambda c: c.weight) > 25


def test_a_single_outlier_bends_little():
    """Twenty points off at day 8 among a dozen: the gravity at day 12 moves by less than two."""
    days = [float(n) for n in range(1, 13)]
    plain = _mean(courses_of(_prior(), _evidence(days)), lambda c: c.gravities([12.0])[0])
    bent = _mean(courses_of(_prior(), _evidence(days, g7=60.0)), lambda c: c.gravities([12.0])[0])
    assert bent == pytest.approx(plain, abs=2.0)


def test_the_same_readings_give_the_same_courses():
    """Two calls, bit for bit."""
    assert courses_of(_prior(), _evidence([3.0, 6.0])) == courses_of(_prior(), _evidence([3.0, 6.0]))


def test_without_readings_the_prior_stands():
    """Half the courses are faster than its centre, half slower."""
    prior = _prior()
    courses = courses_of(prior, Evidence((), (), ()))
    from math import log

    assert _mean(courses, lambda c: log(c.rate) < prior.log_rate) == pytest.approx(0.5, abs=0.08)
