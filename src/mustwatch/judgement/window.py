"""Readings as points in time, and the straight line through the last few of them."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from math import sqrt
from typing import NamedTuple

from mustwatch.cellar.batch import Reading

CAREFUL_POINTS = 1.0  # a careful reader's error, trade judgement; the window takes no less
# A sample's warmth not written down shifts neighbouring readings alike, so little of it is left in their difference.
UNSURE_POINTS = 1.25
WITHOUT_TEMPERATURE_POINTS = 1.5
MOST_READINGS = 400  # more than any window or look back takes: a logger reads every few minutes
LONGEST_DAYS = 7.0
SHORT_DAYS = 4.0  # a keen reader need not wait a week for an old fall to leave the window
LONGEST_GAP_DAYS = 21.0  # two readings further apart say nothing of how it moves now
STRAY_POINTS = 3.0  # further than this from the line through three or more, a reading is looked at twice
ONE_SIDED = 1.645  # 95 % on one side
SURELY_FALLS = 0.3  # points a day: what surely falls faster is slow, not standing


class Point(NamedTuple):
    """One reading. day: days since the first; gravity and error: points of 0.001."""

    day: float
    gravity: float
    error: float
    id: str
    at: datetime


class Line(NamedTuple):
    """The fall over a window in points a day, with its standard error; enough: the window is long enough to judge."""

    fall: float
    error: float
    points: tuple[Point, ...]
    enough: bool
    middle: float = 0.0
    level: float = 0.0
    strayed: bool = False

    @property
    def days(self) -> float:
        """Days from the first to the last reading of the window."""
        return self.points[-1].day - self.points[0].day

    @property
    def most(self) -> float:
        """The fastest fall the readings allow, points a day, 95 % one-sided."""
        return self.fall + ONE_SIDED * self.error

    @property
    def least(self) -> float:
        """The slowest fall the readings allow, points a day, 95 % one-sided."""
        return self.fall - ONE_SIDED * self.error


def points_of(readings: Sequence[Reading], since: datetime) -> list[Point]:
    """The newest readings that judgements may use, as points, days counted from `since`; the last one of an instant."""
    found: list[Point] = []
    for reading in readings[-MOST_READINGS:]:
        if reading.doubt is not None:
            continue
        day = (reading.at - since) / timedelta(days=1)
        if found and day <= found[-1].day:
            found.pop()
        found.append(Point(day, reading.points, reading.error * 1000, reading.id, reading.at))
    return found


def line_through(points: Sequence[Point], days: float = LONGEST_DAYS) -> Line | None:
    """The line of the newest window of these points, None with fewer than two readings close enough in time.

    The window is the last 7 days, or so many; where that holds a single reading, the last two, if less than
    21 days apart. With three or more, one reading far off the line is left out.
    """
    window = _newest(points, days)
    if len(window) < 2:
        return None
    line = _fitted(window)
    if len(window) < 3:
        return line
    worst = max(window, key=lambda point: abs(_off(line, point)))
    if abs(_off(line, worst)) <= STRAY_POINTS * max(CAREFUL_POINTS, worst.error):
        return line
    rest = _fitted([point for point in window if point is not worst])
    return rest._replace(strayed=True)


def _newest(points: Sequence[Point], days: float) -> list[Point]:
    if not points:
        return []
    last = points[-1].day
    window = [point for point in points[-12:] if last - point.day <= days + 0.25]
    if len(window) == 1 and len(points) > 1 and last - points[-2].day <= LONGEST_GAP_DAYS:
        window = list(points[-2:])
    return window


def _fitted(window: Sequence[Point]) -> Line:
    count = len(window)
    middle = sum(point.day for point in window) / count
    level = sum(point.gravity for point in window) / count
    spread = sum((point.day - middle) ** 2 for point in window)
    fall = -sum((point.day - middle) * (point.gravity - level) for point in window) / spread
    sigma = max(CAREFUL_POINTS, sum(point.error for point in window) / count)
    if sigma <= WITHOUT_TEMPERATURE_POINTS:
        sigma = min(sigma, UNSURE_POINTS)
    span = window[-1].day - window[0].day
    # An hour's grace: "three days later" is rarely to the minute.
    enough = span >= 3 - 1 / 24 or (count >= 3 and span >= 2 - 1 / 24)
    return Line(fall, sigma / sqrt(spread), tuple(window), enough, middle, level)


def _off(line: Line, point: Point) -> float:
    return point.gravity - (line.level - line.fall * (point.day - line.middle))
