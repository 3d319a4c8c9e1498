"""Time as yeast counts it: a day in warmth brings more than a day in the cold."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import exp

from mustwatch.cellar.batch import Batch, Temperature

USUAL_C = 21.0  # a room; also where no temperature was ever written down
COLDER, WARMER = -12.0, 9.0  # degrees off the usual beyond which no pace is known


@dataclass(frozen=True, slots=True)
class Clock:
    """How much time passes for the yeast. starts: days since the opening; speeds: from each of them on, against
    a day at 21 °C; passed: how much had passed at each start."""

    starts: tuple[float, ...] = (0.0,)
    speeds: tuple[float, ...] = (1.0,)
    before: tuple[float, ...] = (0.0,)

    def passed(self, day: float) -> float:
        """Days at 21 °C that bring as much as the days since the opening did."""
        place = max(0, bisect_right(self.starts, day) - 1)
        return self.before[place] + (day - self.starts[place]) * self.speeds[place]

    @property
    def speed(self) -> float:
        """How fast time passes from the last temperature on."""
        return self.speeds[-1]

    def speed_at(self, day: float) -> float:
        """How fast time passes at a day since the opening."""
        return self.speeds[max(0, bisect_right(self.starts, day) - 1)]


def clock_of(batch: Batch, since: datetime, per_degree: float) -> Clock:
    """The clock of a batch from its opening on.

    per_degree: what a degree adds to the logarithm of the pace. A must's temperature holds from half way to the one
    before it; the air's counts where it is not older than the newest of the must, from its own time on.
    """
    known = _known(batch.temperatures)
    if not known:
        return Clock()
    starts, speeds = [], []
    for place, one in enumerate(known):
        begins = one.at if one.of_air or not place else known[place - 1].at + (one.at - known[place - 1].at) / 2
        starts.append((begins - since) / timedelta(days=1))
        speeds.append(exp(per_degree * max(COLDER, min(WARMER, one.celsius - USUAL_C))))
    first = max((place for place, start in enumerate(starts) if start <= 0.0), default=0)
    starts, speeds = [0.0, *starts[first + 1 :]], speeds[first:]
    before = [0.0]
    for place in range(1, len(starts)):
        before.append(before[-1] + (starts[place] - starts[place - 1]) * speeds[place - 1])
    return Clock(tuple(starts), tuple(speeds), tuple(before))


def _known(temperatures: Sequence[Temperature]) -> list[Temperature]:
    musts = [one for one in temperatures if not one.of_air]
    if not musts:
        return list(temperatures)
    return musts + [one for one in temperatures if one.of_air and one.at >= musts[-1].at]
