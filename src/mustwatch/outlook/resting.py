"""How long the newest readings have agreed with each other."""

from __future__ import annotations

from collections.abc import Sequence

from mustwatch.outlook.verdict import Rest
from mustwatch.outlook.window import Point

AGREE_POINTS = 1.05  # one point, and a hair for what a temperature correction does to two equal marks
AGREE_MANY_POINTS = 1.35  # over three readings or more: their line is steadier than the difference of two
SCATTER_POINTS = 2.8  # two careful readings further apart differ truly (1.96 x sqrt 2 x 1 point)
MOST_READINGS = 60


def rest_of(points: Sequence[Point], fed_since: bool = False) -> Rest:
    """The longest rest that ends with the newest reading: over it the line through the readings falls or
    rises by no more than about a point. For two readings that says they agree within a point; with more,
    one unsteady reading neither makes nor breaks it, but no two in a row may stand apart from the rest.

    points: those since sugar last went in; fed_since: sugar went in and nothing was read since.
    """
    longest = 1
    newest = list(reversed(points[-MOST_READINGS:]))
    for count in range(2, len(newest) + 1):
        if _torn(newest[:count]):
            break
        if abs(_change(newest[:count])) <= (AGREE_POINTS if count == 2 else AGREE_MANY_POINTS):
            longest = count
    agreeing = newest[:longest][::-1]
    if len(agreeing) < 2:
        return Rest(0.0, tuple(point.id for point in agreeing), None, fed_since)
    days = agreeing[-1].day - agreeing[0].day
    return Rest(days, tuple(point.id for point in agreeing), agreeing[0].at, fed_since)


def _change(points: Sequence[Point]) -> float:
    """Points that the least-squares line moves from one end of these readings to the other."""
    count = len(points)
    middle = sum(point.day for point in points) / count
    level = sum(point.gravity for point in points) / count
    spread = sum((point.day - middle) ** 2 for point in points)
    slope = sum((point.day - middle) * (point.gravity - level) for point in points) / spread
    return slope * (points[0].day - points[-1].day)


def _torn(points: Sequence[Point]) -> bool:
    """Whether the two oldest of these both stand apart from the middle of all."""
    middle = sorted(point.gravity for point in points)[(len(points) - 1) // 2]
    if len(points) == 2:
        return False
    return all(abs(point.gravity - middle) > SCATTER_POINTS for point in points[-2:])
