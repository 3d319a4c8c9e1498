"""Where the present course of a batch opens: at pitching, or at the first reading after sugar, water or new yeast."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.judgement.forecast.prior import BELIEFS
from mustwatch.judgement.window import Point, points_of

RESTARTS = frozenset({"sugar", "water", "repitched"})
FED_RISE_POINTS = 8.0  # a rise no error explains: something was added and not written down, or the must was unmixed
UNKNOWN_START_POINTS = (12.0, 15.0)  # above the first reading, and how unsure, where no start was read


@dataclass(frozen=True, slots=True)
class Opening:
    """Where the present course opens. at: its time; points: its readings after that, days since it."""

    at: datetime
    start_points: float
    start_error: float
    points: tuple[Point, ...]
    active: bool


def opening_of(batch: Batch) -> Opening | None:
    """The opening of the present course, None where nothing was pitched and read."""
    if batch.pitched is None:
        return None
    place = max((n for n, stretch in enumerate(batch.stretches) if n and stretch.cut in RESTARTS), default=0)
    readings = [reading for stretch in batch.stretches[place:] for reading in stretch.readings]
    if place:
        return _reopened(batch, place, readings)
    return _first(batch, readings)


def _first(batch: Batch, readings: Sequence[Reading]) -> Opening | None:
    pitched = batch.pitched
    if pitched is None:
        return None
    start, since = batch.start, pitched.at
    after = [r for r in readings if r.at > since and (start is None or r.id != start.id)]
    points = points_of(after, since)
    if start is not None:
        level, error = start.points, BELIEFS.start_error
    elif batch.start_estimate_sg is not None:
        level, error = (batch.start_estimate_sg - 1) * 1000, 10.0
    elif points:
        level, error = points[0].gravity + UNKNOWN_START_POINTS[0], UNKNOWN_START_POINTS[1]
    else:
        return None
    return _past_rise(Opening(since, level, error, tuple(points), False))


def _reopened(batch: Batch, place: int, readings: Sequence[Reading]) -> Opening | None:
    """The course after sugar, water or new yeast; before its first reading the start is the last one known, unsure."""
    stretch = batch.stretches[place]
    before = [r for earlier in batch.stretches[:place] for r in earlier.readings if r.doubt is None]
    if not readings:
        if not before:
            return None
        unsure = 15.0 if stretch.cut == "sugar" else 3.0
        return Opening(stretch.since, before[-1].points, unsure, (), True)
    if stretch.cut == "repitched" and before:
        points = points_of(readings, stretch.since)
        return _past_rise(Opening(stretch.since, before[-1].points, BELIEFS.start_error, tuple(points), True))
    first = next((r for r in readings if r.doubt is None), None)
    if first is None:
        return None
    points = points_of([r for r in readings if r.at > first.at], first.at)
    return _past_rise(Opening(first.at, first.points, BELIEFS.start_error, tuple(points), True))


def _past_rise(opening: Opening) -> Opening:
    """The opening after the last rise that no error explains, unless the readings after it went back below."""
    points = opening.points
    for place in range(len(points) - 1, -1, -1):
        before = points[place - 1].gravity if place else opening.start_points
        later = points[place + 1 :]
        borne = not later or later[0].gravity > before - 1.0
        if points[place].gravity - before > FED_RISE_POINTS and borne:
            base = points[place]
            moved = tuple(Point(p.day - base.day, p.gravity, p.error, p.id, p.at) for p in later)
            # A stray reading looks the same until the next one: so much more unsure is the start.
            error = BELIEFS.start_error if later else 6.0
            return Opening(base.at, base.gravity, error, moved, place > 0)
    return opening
