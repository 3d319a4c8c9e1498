"""Where the present course of a batch opens: at pitching, or at the first reading after sugar, water or new yeast."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.cellar.course import mass_points
from mustwatch.cellar.readings import TOO_FAST
from mustwatch.judgement.forecast.prior import START_ERROR
from mustwatch.judgement.window import Point, points_of

RESTARTS = frozenset({"sugar", "water", "repitched"})
FED_RISE_POINTS = 8.0  # a rise no error explains: something was added and not written down, or the must was unmixed
FAST_ERROR_SG = 0.004
UNREAD_POINTS, UNSURE_SHARE = 3.0, 0.15  # how unsure the level is after a change not read: at least, and of the sugar
UNWEIGHED_POINTS, MOST_UNSURE = 15.0, 20.0
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
    readings = _readings(batch, place)
    if place:
        return _reopened(batch, place, readings)
    return _first(batch, readings)


def _readings(batch: Batch, place: int) -> list[Reading]:
    """The readings from a stretch on; a fall too fast to judge by is half believed, for most turn out to be true."""
    found = [reading for stretch in batch.stretches[place:] for reading in stretch.readings]
    since = batch.stretches[place].since if batch.stretches else None
    fast = [r for r in batch.readings if r.doubt == TOO_FAST and (since is None or r.at > since)]
    found += [reading._replace(doubt=None, error=FAST_ERROR_SG) for reading in fast]
    return sorted(found, key=lambda reading: reading.at)


def _first(batch: Batch, readings: Sequence[Reading]) -> Opening | None:
    pitched = batch.pitched
    if pitched is None:
        return None
    start, since = batch.start, pitched.at
    after = [r for r in readings if r.at > since and (start is None or r.id != start.id)]
    points = points_of(after, since)
    if start is not None:
        level, error = start.points, START_ERROR
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
        return _unread(batch, place, before) if before else None
    if stretch.cut == "repitched" and before:
        points = points_of(readings, stretch.since)
        return _past_rise(Opening(stretch.since, before[-1].points, START_ERROR, tuple(points), True))
    first = next((r for r in readings if r.doubt is None), None)
    if first is None:
        return None
    points = points_of([r for r in readings if r.at > first.at], first.at)
    return _past_rise(Opening(first.at, first.points, START_ERROR, tuple(points), True))


def _unread(batch: Batch, place: int, before: Sequence[Reading]) -> Opening:
    """The course of what was changed and not read since: the last level, and what the sugar since then brought."""
    stretch, last = batch.stretches[place], before[-1]
    fed = [each for each in batch.stretches if each.cut == "sugar" and each.since > last.at]
    by_id = {event.id: event for event in batch.additions}
    gains = [mass_points(by_id.get(each.evidence or ""), batch.volume_l) for each in fed]
    gain = sum(each for each in gains if each is not None)
    unsure = UNWEIGHED_POINTS if None in gains else UNREAD_POINTS + UNSURE_SHARE * gain
    error = min(MOST_UNSURE, unsure + _fallen(before, stretch.since))
    return Opening(stretch.since, last.points + gain, error, (), True)


def _fallen(before: Sequence[Reading], at: datetime) -> float:
    """Points by which it may have fallen between its last reading and a time, at the pace of the last two."""
    if len(before) < 2 or before[-1].at <= before[-2].at:
        return 0.0
    pace = (before[-2].points - before[-1].points) / ((before[-1].at - before[-2].at) / timedelta(days=1))
    return max(0.0, pace) * ((at - before[-1].at) / timedelta(days=1))


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
            error = START_ERROR if later else 6.0
            return Opening(base.at, base.gravity, error, moved, place > 0)
    return opening
