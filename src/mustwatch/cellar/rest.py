"""Rest: how long the newest readings have agreed, since something last came in that can start it again.

It stands here, below the other judgements, because the stage of a batch rests on it.
"""

from bisect import insort
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import NamedTuple

from mustwatch.cellar.batch import Batch, Reading, per_batch
from mustwatch.cellar.course import SUGARS
from mustwatch.cellar.lost import WAKES

DRY_SG = 1.000
READS_DRY_SG = DRY_SG + 0.0005  # half a mark more: what is dry to the mark is dry
WEEK_DAYS, TWO_WEEKS_DAYS = 7, 14
SLACK_DAYS = 0.25  # nobody reads at the same minute
AGREE_POINTS = 1.05  # one point, and a hair for what a temperature correction does to two equal marks
AGREE_MANY_POINTS = 1.35  # over three readings or more: their line is steadier than the difference of two
SIGNIFICANT_POINTS = 2.8  # two careful readings further apart differ truly (1.96 x sqrt 2 x 1 point)
MOST_READINGS = 60
STEPS_BACK = 8
FELL_POINTS = 2.4  # two readings in a row so far below the level are no noise (two deviations each)
FELL_AT_ONCE = 4.5  # one reading so far below it is none either
SURE_DEVIATIONS = 1.645  # 95 % on one side
RISEN_POINTS = 6.0  # two readings so far above it: something unknown went in


class Rest(NamedTuple):
    """Readings that have stayed together, oldest first.

    agreeing: how many of them, from the first on, prove it; later ones lie apart, but not so far that they break it.
    suspect: the last reading, when it alone lies so low that it should be read again.
    """

    readings: tuple[Reading, ...] = ()
    agreeing: int = 0
    suspect: Reading | None = None

    @property
    def days(self) -> float:
        """Days between the first and the last of those that prove it; 0 for one reading."""
        proving = self.readings[: self.agreeing]
        return (proving[-1].at - proving[0].at) / timedelta(days=1) if proving else 0.0

    @property
    def since(self) -> datetime | None:
        """When the first of them was taken; None where fewer than two agree."""
        return self.readings[0].at if len(self.readings) > 1 else None

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the first and the last reading."""
        return tuple(dict.fromkeys(reading.id for reading in (self.readings[:1] + self.readings[-1:])))

    @property
    def sg(self) -> float | None:
        """The middle of the readings, None without any."""
        heights = sorted(reading.sg for reading in self.readings)
        return heights[len(heights) // 2] if heights else None

    def lasts(self, days: float) -> bool:
        """Whether they have agreed for so many days, but for the hours by which two looks differ."""
        return self.days >= days - SLACK_DAYS


def fed_at(batch: Batch, until: datetime | None = None) -> datetime | None:
    """When sugar in any form last came in, at or before a time."""
    return _last_of([event.at for event in batch.additions if event.category in SUGARS], until)


def yeast_at(batch: Batch, until: datetime | None = None) -> datetime | None:
    """When yeast last went in, at or before a time, as far as it was written down."""
    pitched = [event.at for event in batch.recorded_pitches]
    return _last_of([*pitched, *(event.at for event in batch.additions if event.category == "yeast")], until)


def read_dry(batch: Batch, at: datetime) -> bool:
    """Whether the last reading up to a time was dry: then neither yeast nor water wakes anything."""
    before = readings_until(batch, at)
    return bool(before) and before[-1].sg <= READS_DRY_SG


def woken_at(batch: Batch, until: datetime | None = None) -> datetime | None:
    """When sugar, yeast, water, another must or bottles last went in, at or before a time: what was read before proves
    no rest.

    Yeast and water find nothing in what had read dry, as at a bottling that is to sparkle.
    """
    watered = _last_of([event.at for event in batch.additions if event.category == "water"], until)
    gentle = [at for at in (yeast_at(batch, until), watered) if at is not None and not read_dry(batch, at)]
    again = [batch.mixed_on_top.at] if batch.mixed_on_top is not None else []
    # What cannot be read may have been any of these, as late as anything that is known of it allows.
    again += [one.at or batch.story[-1].at for one in batch.lost if one.kind in WAKES and batch.story]
    # Bottles of a lot differ, and pouring brings air: what one of them read proves nothing of all.
    again += [event.at for event in batch.poured_back]
    fed = fed_at(batch, until)
    return max([*gentle, *([fed] if fed else []), *(at for at in again if until is None or at <= until)], default=None)


def _last_of(times: Sequence[datetime], until: datetime | None) -> datetime | None:
    return max((at for at in times if until is None or at <= until), default=None)


def readings_until(batch: Batch, until: datetime) -> tuple[Reading, ...]:
    """The readings that judgements may use, taken at or before a time."""
    return tuple(reading for reading in batch.readings if reading.doubt is None and reading.at <= until)


@per_batch
def resting(batch: Batch) -> Rest:
    """The rest as it stands now; see `rest_of`."""
    return rest_of(batch.good_readings, woken_at(batch))


def resting_at(batch: Batch, at: datetime) -> Rest:
    """The rest as it stood at a time."""
    return rest_of(readings_until(batch, at), woken_at(batch, at))


def rest_of(readings: Sequence[Reading], woken: datetime | None = None) -> Rest:
    """The rest that ends with the last reading, or a longer one found earlier that no later reading has broken.

    Readings up to `woken`, when something last went in that can start it again, count for nothing. What readings
    proved over a week is not unproven by one trembling hand: broken is a rest by two readings in a row well below its
    level, by one far below it, or by two far above it.
    """
    # A float that lies on foam shows rest where there is none: it proves nothing, and its fall is heeded.
    floats = [reading for reading in readings if reading.floating and (woken is None or reading.at > woken)]
    readings = [reading for reading in readings if not reading.floating]
    # Of two readings of one instant the later written counts.
    fresh = list({reading.at: reading for reading in readings if woken is None or reading.at > woken}.values())
    best = Rest()
    for count in range(len(fresh), max(0, len(fresh) - STEPS_BACK), -1):
        if fresh[count - 1].points - fresh[-1].points > FELL_AT_ONCE or best.lasts(TWO_WEEKS_DAYS):
            break
        agreeing = _agreeing(fresh[:count])
        later = fresh[count:]
        rest = Rest(tuple(fresh[count - agreeing :]), agreeing)
        if not later or (rest.days > best.days and rest.lasts(WEEK_DAYS) and not _broken(_level(rest), later)):
            best = rest._replace(suspect=_suspect(_level(rest), later))
    return Rest() if best.readings and _sinks(best, floats) else best


def _sinks(rest: Rest, floats: Sequence[Reading]) -> bool:
    """Whether a float's two newest readings since the last of a rest lie below it by more than its own error allows."""
    later = [reading for reading in floats if reading.at > rest.readings[-1].at][-2:]
    return len(later) == 2 and all(
        _level(rest) - reading.points > FELL_POINTS + SURE_DEVIATIONS * reading.error * 1000 for reading in later
    )


def _level(rest: Rest) -> float:
    """The mean of the readings that prove a rest, in points."""
    proving = rest.readings[: rest.agreeing]
    return sum(reading.points for reading in proving) / len(proving)


def _agreeing(readings: Sequence[Reading]) -> int:
    """How many of the last readings agree: the longest run over which their line moves by no more than a point.

    For two readings that says they agree within a point; with more, one unsteady reading neither makes nor breaks it,
    but no two in a row may stand apart from the rest.
    """
    last, longest = readings[-1], 1
    line = _Sums()
    heights: list[float] = []
    for count, reading in enumerate(reversed(readings[-MOST_READINGS:]), 1):
        days = (reading.at - last.at) / timedelta(days=1)
        line.take(days, reading.points - last.points)
        insort(heights, reading.points)
        if count > 2 and _torn(readings[-count : -count + 2], heights):
            break
        if count > 1 and abs(line.change(days)) <= (AGREE_POINTS if count == 2 else AGREE_MANY_POINTS):
            longest = count
    return longest


@dataclass(slots=True)
class _Sums:
    """Sums of a least-squares line that grows by one reading at a time."""

    count: int = 0
    day: float = 0.0
    gravity: float = 0.0
    square: float = 0.0
    product: float = 0.0

    def take(self, day: float, gravity: float) -> None:
        """One more reading."""
        self.count += 1
        self.day += day
        self.gravity += gravity
        self.square += day * day
        self.product += day * gravity

    def change(self, days: float) -> float:
        """Points that the line moves over so many days."""
        spread = self.square - self.day * self.day / self.count
        return (self.product - self.day * self.gravity / self.count) / spread * days if spread > 0 else 0.0


def _torn(oldest: Sequence[Reading], heights: Sequence[float]) -> bool:
    """Whether the two oldest both stand apart from the middle of all; heights: all, in order of size."""
    middle = heights[(len(heights) - 1) // 2]
    return all(abs(reading.points - middle) > SIGNIFICANT_POINTS for reading in oldest)


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
