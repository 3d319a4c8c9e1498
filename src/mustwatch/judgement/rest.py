"""How long a batch has been at rest, steadily: what many readings proved is not unproven by one trembling hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Reading
from mustwatch.judgement.resting import rest_of as agreeing
from mustwatch.judgement.window import points_of

SETTLED_DAYS = 6.75  # seven days, with an hour or six to spare: nobody reads at the same minute
STEPS_BACK = 8
FELL_POINTS = 2.4  # two readings in a row so far below the level are no noise (two deviations each)
FELL_AT_ONCE = 4.5  # one reading so far below it is none either
RISEN_POINTS = 6.0  # two readings so far above it: something unknown went in


@dataclass(frozen=True, slots=True)
class Rest:
    """Readings that have stayed together, oldest first.

    suspect: the last reading, when it alone lies so low that it should be read again.
    """

    readings: tuple[Reading, ...]
    suspect: Reading | None = None

    @property
    def days(self) -> float:
        """Days between first and last; 0 for one reading."""
        return (self.readings[-1].at - self.readings[0].at) / timedelta(days=1) if self.readings else 0.0

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the first and the last reading."""
        return tuple(dict.fromkeys(reading.id for reading in (self.readings[:1] + self.readings[-1:])))

    @property
    def sg(self) -> float | None:
        """The middle of the readings, None without any."""
        heights = sorted(reading.sg for reading in self.readings)
        return heights[len(heights) // 2] if heights else None


def rest_of(readings: Sequence[Reading], woken_at: datetime | None = None) -> Rest:
    """The rest that ends with the last reading, or one found at an earlier reading that no later one has broken.

    Readings up to `woken_at`, when something last went in that can start it again, count for nothing. Broken is a
    rest by two readings in a row well below its level, by one far below it, or by two far above it.
    """
    fresh = [reading for reading in readings if woken_at is None or reading.at > woken_at]
    if not fresh:
        return Rest(())
    points = points_of(fresh, fresh[0].at)
    newest: Rest | None = None
    for count in range(len(points), max(0, len(points) - STEPS_BACK), -1):
        if points[count - 1].gravity - points[-1].gravity > FELL_AT_ONCE:
            break
        found = agreeing(points[:count])
        first = found.since or points[count - 1].at
        rest = Rest(tuple(reading for reading in fresh if reading.at >= first))
        newest = newest or rest
        if found.days >= SETTLED_DAYS:
            level = _level(rest.readings, points[count - 1].at)
            later = [reading for reading in rest.readings if reading.at > points[count - 1].at]
            return newest if _broken(level, later) else Rest(rest.readings, _suspect(level, later))
    return newest or Rest(tuple(fresh[-1:]))


def _level(readings: Sequence[Reading], until: datetime) -> float:
    proving = [reading.points for reading in readings if reading.at <= until]
    return sum(proving) / len(proving)


def _broken(level: float, later: Sequence[Reading]) -> bool:
    falls = [level - reading.points for reading in later]
    pairs = list(zip(falls, falls[1:], strict=False))
    return (
        any(fall > FELL_AT_ONCE for fall in falls)
        or any(min(pair) > FELL_POINTS for pair in pairs)
        or any(max(pair) < -RISEN_POINTS for pair in pairs)
    )


def _suspect(level: float, later: Sequence[Reading]) -> Reading | None:
    return later[-1] if later and level - later[-1].points > FELL_POINTS else None
