"""Proven rest: found by many readings, and not lost by one trembling hand."""

from __future__ import annotations

import random

from rules.scenario import batch_of

from mustwatch.judgement.facts import resting
from mustwatch.judgement.rest import SETTLED_DAYS

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
    assert rest.days == 20 and rest.suspect is not None


def test_two_low_readings_break_it():
    """Two in a row so low are no chance: it works again."""
    assert resting(batch_of(PROVEN + "    day 50 read 0.995\n    day 51 read 0.995\n")).days < SETTLED_DAYS


def test_one_very_low_reading_breaks_it():
    """Five points are no trembling hand, and glass does not wait for a second reading."""
    assert resting(batch_of(PROVEN + "    day 50 read 0.993\n")).days < SETTLED_DAYS


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
