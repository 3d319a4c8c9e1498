"""How long the newest readings have agreed with each other."""

from __future__ import annotations

from bisect import insort
from collections.abc import Sequence
from dataclasses import dataclass

from mustwatch.judgement.verdict import Rest
from mustwatch.judgement.window import Point

AGREE_POINTS = 1.05  # one point, and a hair for what a temperature correction does to two equal marks
AGREE_MANY_POINTS = 1.35  # over three readings or more: their line is steadier than the difference of two
SCATTER_POINTS = 2.8  # two careful readings further apart differ truly (1.96 x sqrt 2 x 1 point)
MOST_READINGS = 60


def rest_of(points: Sequence[Point], fed_since: bool = False) -> Rest:
    """The longest rest that ends with the newest reading: over it the line through the readings falls or
    rises by no more than about a point. For two readings that says they agree within a point; with more,
    one unsteady reading neither makes nor breaks it, but no two in a row may stand apart from the rest.

    points: those since sugar, water or yeast last went in; fed_since: it went in and nothing was read since.
    """
    longest = 1
    newest = list(reversed(points[-MOST_READINGS:]))
    line = _Sums()
    heights: list[float] = []
    for count, point in enumerate(newest, 1):
        line.take(point.day - newest[0].day, point.gravity - newest[0].gravity)
        insort(heights, point.gravity)
        if count > 2 and _torn(newest[count - 2 : count], heights):
            break
        if count > 1 and abs(line.change(newest[0].day - point.day)) <= (
            AGREE_POINTS if count == 2 else AGREE_MANY_POINTS
        ):
            longest = count
    agreeing = newest[:longest][::-1]
    if len(agreeing) < 2:
        return Rest(0.0, tuple(point.id for point in agreeing), None, fed_since)
    days = agreeing[-1].day - agreeing[0].day
    return Rest(days, tuple(point.id for point in agreeing), agreeing[0].at, fed_since)


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
        return (self.product - self.day * self.gravity / self.count) / spread * days


def _torn(oldest: Sequence[Point], heights: Sequence[float]) -> bool:
    """Whether the two oldest both stand apart from the middle of all; heights: all, in order of size."""
    middle = heights[(len(heights) - 1) // 2]
    return all(abs(point.gravity - middle) > SCATTER_POINTS for point in oldest)
