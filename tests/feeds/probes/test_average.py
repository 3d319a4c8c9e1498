"""A year of a probe in a few thousand lines, none of them off by more than its band."""

import random
from datetime import UTC, datetime, timedelta
from math import cos, pi

import pytest

from mustwatch.feeds.probes.average import Averager
from mustwatch.feeds.probes.config import Bands
from mustwatch.feeds.probes.sample import Sample

BEGAN = datetime(2026, 1, 1, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
LINE_BYTES = 200  # of a probe's line, counted with its checksum and end


def lines_of(values, bands=None, step=MINUTE):
    found = Averager(bands or Bands(600.0))
    told = [found.take(Sample(BEGAN + n * step, celsius)) for n, celsius in enumerate(values)]
    return [line for line in told if line], found


def test_a_still_cellar_gives_a_line_each_eight_hours():
    """To show that the probe lives; the means take the noise out."""
    chance = random.Random(1)
    lines, _ = lines_of(14 + chance.gauss(0, 0.1) for _ in range(7 * 1440))
    assert len(lines) == pytest.approx(21, abs=2)
    assert all(line.celsius == pytest.approx(14, abs=0.15) for line in lines)


def test_a_rise_is_written_within_the_average_and_the_band():
    """Half a degree an hour: a line at least each hour, never far from the truth."""
    lines, _ = lines_of(18 + n / 120 for n in range(240))
    assert len(lines) >= 4
    for line in lines:
        assert line.celsius == pytest.approx(18 + (line.at - BEGAN) / MINUTE / 120, abs=0.1)


@pytest.mark.parametrize(("swing", "noise"), [(0.3, 0.05), (4.0, 0.1), (8.0, 0.5), (15.0, 2.0)])
def test_a_year_stays_under_a_megabyte_whatever_the_probe_does(swing, noise):
    """A sun-lit window, a faulty wire: the bands widen with each line above seven a day."""
    chance = random.Random(2)
    days = 30
    values = (20 + swing * cos(2 * pi * n / 1440) + chance.gauss(0, noise) for n in range(days * 1440))
    lines, _ = lines_of(values)
    assert len(lines) / days * 365 * LINE_BYTES < 1_000_000
    assert len(lines) / days >= 3


def test_one_stray_value_moves_no_line():
    """It is far from the middle of its window."""
    lines, _ = lines_of([20.0] * 5 + [85.0] + [20.0] * 700)
    assert {line.celsius for line in lines} == {20.0}


def test_each_value_is_counted_once():
    """In a line, or still waiting."""
    chance = random.Random(3)
    lines, left = lines_of(20 + chance.gauss(0, 1) for _ in range(3000))
    assert sum(line.count for line in lines) + left.count == 3000


def test_the_same_values_again_give_the_same_lines():
    """So that a crash may play them again."""
    values = [20 + 3 * cos(n / 200) for n in range(3000)]
    whole, _ = lines_of(values)
    again = Averager(Bands(600.0))
    again.last, again.recent = whole[4], [line.at for line in whole[:5]]
    rest = [n for n in range(3000) if BEGAN + n * MINUTE > whole[4].at]
    told = [again.take(Sample(BEGAN + n * MINUTE, values[n])) for n in rest]
    assert [line for line in told if line] == whole[5:]


def test_a_float_is_told_by_its_gravity_too():
    """A fall of two points is a line though the must keeps its warmth."""
    found = Averager(Bands(3600.0))
    told = [found.take(Sample(BEGAN + n * MINUTE, 20.0, 1.080 - n * 1e-5)) for n in range(1440)]
    lines = [line for line in told if line]
    assert 5 <= len(lines) <= 9
    assert all(line.gravity == pytest.approx(1.080 - (line.at - BEGAN) / MINUTE * 1e-5, abs=0.0006) for line in lines)
