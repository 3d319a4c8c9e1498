"""Rest: when readings agree, how often one that still falls passes for it, and what unmakes it."""

from __future__ import annotations

import random

import pytest
from fermenting import day
from rules.scenario import batch_of

from mustwatch.cellar.batch import Reading
from mustwatch.cellar.rest import Rest, rest_of, resting

RUNS = 1000

# (days apart, fall in points a day, probability that it passes): simulated with an error of one point, rounded
# to one point; figures of the trade's section on "stable enough to bottle".
PASSES = [
    (3, 1.0, 0.15), (3, 0.5, 0.48), (7, 0.5, 0.08), (7, 0.3, 0.33), (14, 0.3, 0.03), (14, 0.2, 0.18), (14, 0.1, 0.50),
]  # fmt: skip


PROVEN = """
    day 0   read 1.080
    day 0 09:30  pitched ale
    day 30  read 0.999
    day 38  read 0.998
"""


def test_a_week_of_agreement_is_a_rest():
    """Two readings within a point, eight days apart."""
    assert resting(batch_of(PROVEN)).days == 8


def test_one_low_reading_is_suspect_and_breaks_nothing():
    """It is asked for again."""
    rest = resting(batch_of(PROVEN + "    day 50 read 0.995\n"))
    assert rest.days == 8 and rest.suspect is not None


def test_two_low_readings_break_it():
    """Two in a row so low are no chance: it works again."""
    assert not resting(batch_of(PROVEN + "    day 50 read 0.995\n    day 51 read 0.995\n")).lasts(7)


def test_one_very_low_reading_breaks_it():
    """Five points are no trembling hand, and glass does not wait for a second reading."""
    assert not resting(batch_of(PROVEN + "    day 50 read 0.993\n")).lasts(7)


def test_sugar_takes_the_proof_away():
    """What was read before the feeding says nothing of what came after."""
    assert resting(batch_of(PROVEN + "    day 50 added honey 200g\n    day 51 read 0.998\n")).days == 0


def test_a_rest_read_weekly_by_a_careful_hand_stays_proven():
    """A year of weekly readings with an error of one point: it may not be called alive again."""
    broken = 0
    for seed in range(20):
        dice = random.Random(seed)
        text = PROVEN
        for week in range(1, 40):
            text += f"    day {38 + 7 * week} read {0.9985 + dice.gauss(0, 0.001):.4f}\n"
        broken += resting(batch_of(text)).days < 100
    assert broken <= 1


def test_a_slow_fall_is_no_rest():
    """A fifth of a point a day, read every third day: never steady for two weeks."""
    text = "    day 0 read 1.080\n    day 0 09:30 pitched ale\n"
    for step in range(20):
        text += f"    day {20 + 3 * step} read {1.020 - 0.0006 * step:.4f}\n"
    assert resting(batch_of(text)).days < 14


def _readings(pairs):
    return [Reading(str(d), day(d), 1 + g / 1000, "sg", 1 + g / 1000, 1 + g / 1000, 0.001) for d, g in pairs]


def _share_passing(days, fall, between=()):
    """How often readings of a steady fall agree over so many days."""
    chance = random.Random(f"{days}{fall}{between}")
    passed = 0
    for _ in range(RUNS):
        times = sorted({0.0, *between, float(days)})
        taken = _readings([(t, float(round(chance.gauss(10 - fall * t, 1)))) for t in times])
        passed += rest_of(taken).lasts(days)
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
    rest = rest_of(_readings([(0, 30), (10, 2), (14, 1), (20, 2)]))
    assert rest.days == 10
    assert rest.since == day(10)
    assert len(rest.readings) == 3


def test_two_readings_more_than_a_point_apart_do_not_agree():
    """Two points is a volume of gas."""
    assert rest_of(_readings([(0, 2), (9, 0)])).days == 0


def test_one_unsteady_reading_does_not_break_a_rest():
    """A third reading is asked for, never exact equality."""
    assert rest_of(_readings([(0, 0), (4, 3), (8, 0), (12, 0)])).days >= 8


def test_no_reading_is_no_rest():
    """Nothing known never means safe."""
    assert rest_of([]) == Rest()
    assert rest_of(_readings([(0, 1)])).days == 0.0
