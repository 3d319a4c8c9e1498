"""A healthy cellar is left in peace: a year of careful keeping, judged every evening."""

from __future__ import annotations

import pytest
from bench import bench_alarms
from bench.bench_alarms import MOST_A_DAY, healthy, misses_of_logs, misses_of_year, played, year

from mustwatch.rules.finding import Severity


@pytest.fixture(scope="module")
def tally():
    """Fourteen batches of every style; the study itself takes fifty."""
    return year(14)


def test_a_healthy_year_misses_no_bar(tally):
    """No danger, and no more than three things for today on any day."""
    assert misses_of_year(tally) == []
    assert max(urgent for _, _, urgent in tally.lists) <= MOST_A_DAY


def test_most_findings_of_a_healthy_year_are_notes(tally):
    """Where much is urgent nothing is."""
    said = tally.by_severity()
    whole = sum(said.values())
    assert said[Severity.DANGER] == 0
    assert said[Severity.TODAY] <= 0.15 * whole + 1


def test_a_healthy_batch_is_spoken_of_a_few_times_in_its_life(tally):
    """Thirteen months of keeping, and hardly a handful of remarks each."""
    assert sum(tally.by_severity().values()) <= 5 * 14


def test_who_writes_down_little_is_not_drowned_either():
    """Facts not recorded make notes, at most one of a kind for a batch, and hardly a thing for today."""
    little = year(10, terse=True)
    assert misses_of_year(little) == []
    assert max(shown for _, shown, _ in little.lists) <= 2 * 10


def test_the_real_logs_raise_no_danger_under_an_airlock():
    """And hardly a finding a week while they go well."""
    real = bench_alarms.logs()
    if not real:
        pytest.skip("the logs are not beside this project")
    chosen = [log for log in real if healthy(log)][::4] + [log for log in real if not healthy(log)][::3]
    assert misses_of_logs([played(log) for log in chosen]) == []
