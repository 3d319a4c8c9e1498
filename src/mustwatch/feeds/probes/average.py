"""Many values of a probe as few lines: averaged, and written down only where they moved, or to show it lives. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from mustwatch.feeds.probes.config import Bands
from mustwatch.feeds.probes.sample import Sample

FREELY = 7  # lines in a day; for each one more the bands double, so that a swinging probe cannot fill the disk
DAY = timedelta(days=1)
STRAY_C, STRAY_SG = 3.0, 0.010  # further than this from the middle of its window a value is left out of the mean


@dataclass(frozen=True, slots=True)
class Line:
    """What is to be written down: the mean of the newest window, and how many values it stands for since the last."""

    at: datetime
    celsius: float | None
    gravity: float | None
    count: int


@dataclass(slots=True)
class Averager:
    """The values of one probe on their way to lines.

    last: what was written last; recent: when lines were written in the last day. The same values in the same order
    after the same last line always give the same lines, so that they can be played again after a crash.
    """

    bands: Bands
    last: Line | None = None
    recent: list[datetime] = field(default_factory=list)
    count: int = 0
    _window: list[Sample] = field(default_factory=list)

    def take(self, sample: Sample) -> Line | None:
        """One more value; a line where one is due. Values come in the order of their times."""
        closed = None
        if self._window and (sample.at - self._window[0].at).total_seconds() >= self.bands.average_s:
            closed = self._close()
        self._window.append(sample)
        self.count += 1
        return closed

    def _close(self) -> Line | None:
        at = self._window[-1].at
        line = Line(
            at,
            _mean([one.celsius for one in self._window if one.celsius is not None], STRAY_C, 2),
            _mean([one.gravity for one in self._window if one.gravity is not None], STRAY_SG, 4),
            self.count,
        )
        self._window.clear()
        if not self._due(line):
            return None
        self.recent = [*(then for then in self.recent if at - then < DAY), at]
        self.last, self.count = line, 0
        return line

    def _due(self, line: Line) -> bool:
        if self.last is None or (line.at - self.last.at).total_seconds() >= self.bands.longest_s:
            return True
        wider = 2.0 ** max(0, sum(line.at - then < DAY for then in self.recent) - FREELY)
        return _moved(line.celsius, self.last.celsius, self.bands.dead_band_c * wider) or _moved(
            line.gravity, self.last.gravity, self.bands.dead_band_sg * wider
        )


def _moved(now: float | None, before: float | None, band: float) -> bool:
    if now is None or before is None:
        return (now is None) != (before is None)
    return abs(now - before) >= band - 1e-9


def _mean(values: Sequence[float], stray: float, places: int) -> float | None:
    """The mean of those near the middle value."""
    if not values:
        return None
    middle = sorted(values)[len(values) // 2]
    near = [value for value in values if abs(value - middle) <= stray]
    return round(sum(near) / len(near), places)
