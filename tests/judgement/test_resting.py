"""Whether readings agree, and how often a batch that still falls passes for one at rest."""

import random

import pytest
from fermenting import PITCHED, day

from mustwatch.judgement.resting import rest_of
from mustwatch.judgement.window import Point

RUNS = 1000

# (days apart, fall in points a day, probability that it passes): simulated with an error of one point, rounded
# to one point; figures of the trade's section on "stable enough to bottle".
PASSES = [
    (3, 1.0, 0.15), (3, 0.5, 0.48), (7, 0.5, 0.08), (7, 0.3, 0.33), (14, 0.3, 0.03), (14, 0.2, 0.18), (14, 0.1, 0.50),
]  # fmt: skip


def _points(pairs):
    return [Point(d, g, 1.0, str(d), day(d)) for d, g in pairs]


def _share_passing(days, fall, between=()):
    """How often readings of a steady fall agree over so many days."""
    chance = random.Random(f"{days}{fall}{between}")
    passed = 0
    for _ in range(RUNS):
        times = sorted({0.0, *between, float(days)})
        points = _points([(t, float(round(chance.gauss(10 - fall * t, 1)))) for t in times])
        passed += rest_of(points).days >= days - 0.25
    return passed / RUNS


@pytest.mark.parametrize(("days", "fall", "table"), PASSES)
def test_a_falling_batch_passes_no_more_often_than_the_table_says(days, fall, table):
    """Two readings so far apart; 2.5 standard errors of the simulation are allowed."""
    assert _share_passing(days, fall) <= table + 2.5 * (table * (1 - table) / RUNS) ** 0.5 + 0.005


@pytest.mark.parametrize(("days", "fall", "table"), [row for row in PASSES if row[0] > 3])
def test_more_readings_in_between_never_let_a_falling_batch_pass_more_often(days, fall, table):
    """A keen reader must not be fooled more easily than a lazy one."""
    assert _share_passing(days, fall, tuple(range(2, days, 2))) <= table + 2.5 * (table * (1 - table) / RUNS) ** 0.5


def test_a_batch_at_rest_passes_more_often_with_more_readings():
    """Two readings of a finished batch disagree about three times in ten; a week of readings settles it."""
    assert _share_passing(7, 0.0) == pytest.approx(0.70, abs=0.035)
    assert _share_passing(7, 0.0, (1, 2, 3, 4, 5, 6)) > 0.70


def test_agreeing_readings_make_a_rest_from_the_first_to_the_last_of_them():
    """Days and evidence name the readings it rests on."""
    rest = rest_of(_points([(0, 30), (10, 2), (14, 1), (20, 2)]))
    assert rest.days == 10
    assert rest.since == day(10)
    assert len(rest.readings) == 3


def test_two_readings_more_than_a_point_apart_do_not_agree():
    """Two points is a volume of gas."""
    assert rest_of(_points([(0, 2), (9, 0)])).days == 0


def test_one_unsteady_reading_does_not_break_a_rest():
    """A third reading is asked for, never exact equality."""
    assert rest_of(_points([(0, 0), (4, 3), (8, 0), (12, 0)])).days >= 8


def test_no_reading_is_no_rest():
    """Nothing known never means safe."""
    assert rest_of([]).days == 0.0
    assert rest_of([Point(0, 1, 1, "a", PITCHED)]).days == 0.0
