"""A few dozen made-up fermentations whose truth is known; thousands of them are studied in tests/bench."""

import statistics

from bench.made_up import batch_at, made_up, reading_days
from fermenting import SETTINGS

from mustwatch.judgement.forecast.forecast import fan_of
from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.judgement.forecast.paths import bands_of, paths_of
from mustwatch.judgement.state import judge
from mustwatch.said.outlook import words_of

MANY = [made_up(seed) for seed in range(40)]


def test_finished_is_never_said_of_hidden_sugar_without_a_word():
    """More than two points truly still to come: then the words must say that some may be there."""
    said = 0
    for one in MANY:
        for day in list(reading_days(one))[::3]:
            batch, now = batch_at(one, day)
            if judge(batch, SETTINGS, now).state != "finished":
                continue
            said += 1
            if one.to_come(day) > 2:
                assert any("may still be there" in words for words in words_of(outlook(batch, SETTINGS, now), batch))
    assert said > 20


def test_a_ferment_that_truly_falls_fast_is_hardly_ever_called_stalled():
    """Two points a day or more over the day before and the day after."""
    called = looked = 0
    for one in MANY:
        for day in reading_days(one):
            if day > 4 and min(one.fall(day), one.fall(day - 1)) >= 2:
                batch, now = batch_at(one, day)
                called += judge(batch, SETTINGS, now).state == "stalled"
                looked += 1
    assert looked > 50
    assert called <= looked / 50


def test_later_readings_of_plain_ferments_fall_inside_the_band_about_as_often_as_said():
    """Eight in ten; few batches, so a wide margin. The forecast's own curve made none of them."""
    inside = []
    for one in (one for one in MANY if one.kind == "plain"):
        day = [d for d in reading_days(one) if d < 20][-1:] or [one.readings[1][0]]
        batch, now = batch_at(one, day[0])
        fan = fan_of(batch, now)
        later = [(d, g) for d, g in one.readings if day[0] < d <= day[0] + 60][:12]
        paths = paths_of(fan, [d - day[0] for d, _ in later])
        inside += [
            low - 1 <= seen <= high + 1 for (_, seen), (low, _, high) in zip(later, bands_of(paths), strict=True)
        ]
    assert 0.6 <= statistics.mean(inside) <= 0.98
