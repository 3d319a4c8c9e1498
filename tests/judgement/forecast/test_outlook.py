"""The whole outlook of a batch."""

import subprocess
import sys
from dataclasses import replace

import pytest
from fermenting import SETTINGS, closed, day, fermenting, honey, sorbate

from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.said.outlook import words_of
from mustwatch.said.outlook_json import to_json

FALLING = [(0, 1.100), (3, 1.080), (6, 1.050), (9, 1.030), (12, 1.018)]
STANDING = [(0, 1.110), (3, 1.080), (6, 1.060), (9, 1.060), (12, 1.060), (15, 1.059)]
HEAVY = [(0, 1.130), (5, 1.080), (15, 1.040), (22, 1.040), (36, 1.040)]
DRY = [(0, 1.080), (5, 1.020), (10, 0.997), (20, 0.996), (30, 0.996)]


def _outlook(readings, until=None, **keys):
    last = until if until is not None else max(at for at, _ in readings)
    return outlook(fermenting(readings, until=last, **keys), SETTINGS, day(last))


def test_a_falling_batch_has_a_course_of_sixty_days_at_least_daily():
    """The fan of the chart and the percentiles of the command."""
    found = _outlook(FALLING)
    days = [(moment.at - day(12)).total_seconds() / 86400 for moment in found.course]
    assert days[0] == 0 and days[-1] == 60
    assert max(later - before for before, later in zip(days, days[1:], strict=False)) <= 1
    assert all(moment.p10 <= moment.p50 <= moment.p90 for moment in found.course)


def test_the_end_and_its_date_are_ranges_in_order():
    """Never one number."""
    found = _outlook(FALLING)
    assert found.final_sg.p10 < found.final_sg.p50 < found.final_sg.p90 < 1.018
    assert day(12) <= found.done_on.p10 <= found.done_on.p50


def test_a_stand_far_above_the_end_is_likely_a_stall_and_a_fall_is_not():
    """Probability and verdict tell one story."""
    assert _outlook(STANDING).state == "stalled"
    assert _outlook(STANDING).stall_probability > 0.6
    assert _outlook(FALLING).stall_probability < 0.1


def test_a_stabilised_batch_is_expected_to_stay():
    """Sulfite and sorbate hold most batches, so the middle stays and the low edge does not quite."""
    readings = [(0, 1.110), (6, 1.060), (10, 1.045), (13, 1.045), (16, 1.045)]
    found = _outlook(readings, extra=[sorbate(9)])
    assert found.stall_probability == 0.0
    assert found.course[-1].p50 > 1.038


def test_a_finished_batch_says_what_the_glass_cannot_see():
    """Two points are a volume of gas."""
    found = _outlook(DRY)
    assert found.state == "finished"
    heavy = _outlook(HEAVY, tolerance=12.0)
    assert heavy.state == "finished"
    assert any("may still be there" in words for words in words_of(heavy, fermenting(HEAVY, tolerance=12.0)))


def test_fed_after_the_last_reading_the_band_is_wide():
    """Nobody knows what it reads now."""
    fed = _outlook(DRY, until=31, extra=[honey(30.5)])
    assert fed.course[0].p90 - fed.course[0].p10 > 0.010


def test_a_sealed_jug_passes_its_rating_soon_while_it_ferments():
    """Jugs are not made for pressure: hours, not days."""
    found = _outlook(FALLING, until=12.1, extra=[closed(12.05)])
    assert found.sealing.sealed_since == day(12.05)
    assert found.sealing.rating_bar == 0
    assert found.sealing.hours_soonest < 24
    assert found.sealing.bars[-1][2] >= found.sealing.bars[-1][1] > 1.0


def test_gas_still_to_come_is_half_a_volume_a_point():
    """From 1.018 to about 0.996 some 22 points: about 11 volumes."""
    low, likely, high, most = _outlook(FALLING).sealing.volumes
    assert low < likely < high <= most
    assert likely == pytest.approx(11, abs=3)


def test_nothing_read_gives_words_and_no_course():
    """It says what is missing instead."""
    found = outlook(fermenting([]), SETTINGS, day(1))
    assert found.course == ()
    assert any("no gravity" in words for words in words_of(found, fermenting([])))


def test_the_same_batch_gives_the_same_numbers_with_and_without_the_cache():
    """A cached answer is the answer."""
    batch = fermenting(FALLING)
    first = outlook(batch, SETTINGS, day(12))
    assert outlook(batch, SETTINGS, day(12)) is first
    assert to_json(outlook(replace(batch, revision=""), SETTINGS, day(12)), batch) == to_json(first, batch)


def test_the_numbers_do_not_depend_on_the_process():
    """Another process with another hash seed prints the same document."""
    program = (
        "import sys; sys.path[:0] = ['tests', 'src'];"
        "from fermenting import *; from mustwatch.judgement.forecast.outlook import outlook;"
        "from mustwatch.ledger.visible import plain_json; from mustwatch.said.outlook_json import to_json;"
        f"batch = fermenting({FALLING!r});"
        "print(plain_json(to_json(outlook(batch, SETTINGS, day(12)), batch)))"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", program], env={"PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1


def test_a_reading_of_the_forecasts_own_kind_falls_inside_the_band():
    """The reading that came next in a made-up exponential lies within p10 to p90."""
    later = next(moment for moment in _outlook(FALLING[:4]).course if moment.at == day(12))
    assert later.p10 - 0.001 <= 1.018 <= later.p90 + 0.001
