"""A float beside a hydrometer: set right by it, thinned, and no proof of rest."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from math import exp

import pytest

from mustwatch.cellar.fold import fold
from mustwatch.cellar.rest import WEEK_DAYS, resting
from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.settings import Settings

BEGAN = datetime(2026, 3, 1, 9, tzinfo=UTC)


def truth(day: float) -> float:
    return 1.000 + 0.095 * exp(-max(0.0, day - 1) / 6)


def batch_of(days: float, glass=(), floats=(), level=truth):
    """A batch pitched on day 0; glass: days a hydrometer was read; floats: (day, what it showed)."""
    events = [draft("mixed", BEGAN, "fir", volume_l=4.5), draft("pitched", BEGAN, "fir", yeast={"class": "ale"})]
    for day in glass:
        gravity = {"value": round(level(day), 3), "sample_c": 20}
        events.append(draft("read", BEGAN + timedelta(days=day), "fir", gravity=gravity))
    for day, shown in floats:
        gravity = {"value": round(shown, 4), "instrument": "float", "error": 0.004}
        events.append(
            draft("read", BEGAN + timedelta(days=day), "fir", gravity=gravity, must_c=21, probe="float", n=60)
        )
    events.sort(key=lambda event: event.at)
    told = [stamped(event, f"id-{n:04}", n) for n, event in enumerate(events)]
    now = BEGAN + timedelta(days=days)
    return fold(told, Settings(), now).batches["fir"], now


def shown(until: float, bias: float, level=truth, noise: float = 0.0015, since: float = 0.1):
    """What a float off by a bias shows six times a day."""
    chance = random.Random(4)
    days = [since + n / 6 for n in range(int((until - since) * 6))]
    return [(day, level(day) + bias + chance.gauss(0, noise)) for day in days]


@pytest.mark.parametrize("bias", [-0.012, -0.008, 0.0, 0.008, 0.012])
def test_it_never_drowns_a_hydrometer(bias):
    """A hundred readings of a float two or three of its errors off move the outlook by less than a mark or two."""
    glass = (0.05, 4, 9, 14, 18)
    alone, now = batch_of(18.5, glass)
    both, _ = batch_of(18.5, glass, shown(18.5, bias))
    before, after = (outlook(each, Settings(), now) for each in (alone, both))
    assert after.now_sg.p50 == pytest.approx(before.now_sg.p50, abs=0.002)
    assert after.final_sg.p50 == pytest.approx(before.final_sg.p50, abs=0.003)
    assert sum(not reading.floating for reading in both.good_readings) == len(glass)
    assert sum(reading.floating for reading in both.readings) <= 2 * len(glass) + 3


def test_each_hydrometer_reading_sets_it_right_from_then_on():
    """What it shows later is read with what it was off."""
    batch, _ = batch_of(8, (0.05, 4), shown(8, 0.010, noise=0))
    last = batch.readings[-1]
    assert last.floating and last.sg == pytest.approx(truth((last.at - BEGAN) / timedelta(days=1)), abs=0.0015)
    assert last.value - last.sg == pytest.approx(0.010, abs=0.0015)


def test_alone_it_tells_the_course_once_a_day():
    """A maker who reads no hydrometer still has an outlook, with the float's own error."""
    batch, now = batch_of(10, (), shown(10, 0.002))
    assert 9 <= len(batch.readings) <= 13
    assert all(reading.error == 0.004 for reading in batch.readings)
    assert outlook(batch, Settings(), now).now_sg.p50 == pytest.approx(truth(10), abs=0.006)


def test_it_proves_no_rest():
    """It may lie on foam: two weeks of one value from a float are no reading of a hydrometer's."""
    level = lambda day: 1.02  # noqa: E731
    batch, _ = batch_of(40, (), shown(40, 0, level, noise=0))
    assert not resting(batch).readings
    batch, _ = batch_of(40, (25, 39), shown(40, 0, level), level)
    assert resting(batch).lasts(WEEK_DAYS)


def test_a_rest_that_it_sees_fall_is_no_rest_any_more():
    """Two of its readings far below break what a hydrometer proved; its own noise does not."""
    still = lambda day: 1.002  # noqa: E731
    falling = lambda day: 1.002 - max(0.0, day - 20) * 0.003  # noqa: E731
    batch, _ = batch_of(26, (10, 19), shown(26, 0, falling), still)
    assert not resting(batch).lasts(WEEK_DAYS)
    batch, _ = batch_of(26, (10, 19), shown(26, 0, still), still)
    assert resting(batch).lasts(WEEK_DAYS)


def test_a_cellar_without_floats_reads_as_ever():
    """Nothing is thinned, nothing shifted."""
    batch, _ = batch_of(20, tuple(n / 4 for n in range(80)))
    assert len(batch.readings) == 80 and not any(reading.floating for reading in batch.readings)
