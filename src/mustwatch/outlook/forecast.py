"""From a batch to its possible courses, and from those to a band of gravities over time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import exp, sqrt

from mustwatch.batches.batch import Batch, Reading
from mustwatch.outlook.draws import normal_quantile, spread_normals
from mustwatch.outlook.ending import ending_of
from mustwatch.outlook.posterior import DRAWS, Course, Evidence, courses_of
from mustwatch.outlook.prior import BELIEFS, Beliefs, Prior, prior_for
from mustwatch.outlook.window import Point, points_of

RESTARTS = frozenset({"sugar", "water", "repitched"})
FED_RISE_POINTS = 8.0  # a rise no error explains: something was added and not written down, or the must was unmixed
UNKNOWN_START_POINTS = (12.0, 15.0)  # above the first reading, and how unsure, where no start was read
MOST_READINGS = 14
GLASS_NOISE = 0.8  # points: what the next reading scatters by
NEARLY_ALL = 0.995
MOST_CARRIED = 4.0
STABILISED_SHARE = 0.85  # sulfite and sorbate hold most batches, never all; a judgement
STABILISED_PACE = 0.02
SHARES = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class Opening:
    """Where the present course opens. at: its time; points: its readings after that, days since it."""

    at: datetime
    start_points: float
    start_error: float
    points: tuple[Point, ...]
    active: bool


@dataclass(frozen=True, slots=True)
class Fan:
    """The possible courses of a batch. opened: day 0 of them; today: days from then to now."""

    opening: Opening
    prior: Prior
    courses: tuple[Course, ...]
    noises: tuple[tuple[float, ...], ...]
    today: float
    last_day: float
    last_gravity: float | None
    stabilised: bool

    def at(self, now: datetime) -> Fan:
        """The same courses with today moved to `now`."""
        return replace(self, today=max(0.0, (now - self.opening.at) / timedelta(days=1)))


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


def fan_of(batch: Batch, now: datetime, beliefs: Beliefs = BELIEFS) -> Fan | None:
    """The possible courses of a batch at `now`, None where there is nothing to go on."""
    opening = opening_of(batch)
    if opening is None:
        return None
    prior = _prior(batch, opening, beliefs)
    today = max(0.0, (now - opening.at) / timedelta(days=1))
    courses = courses_of(prior, _evidence(opening, prior))
    noises = spread_normals(DRAWS, 3, 99)
    kept = _weighty(list(zip(courses, noises, strict=True)))
    total = sum(course.weight for course, _ in kept)
    scaled = tuple(Course(c.rate, c.lag, c.shape, c.end, c.start, c.weight / total) for c, _ in kept)
    last = opening.points[-1] if opening.points else None
    return Fan(
        opening=opening,
        prior=prior,
        courses=scaled,
        noises=tuple(noise for _, noise in kept),
        today=today,
        last_day=last.day if last else 0.0,
        last_gravity=last.gravity if last else None,
        stabilised=any(stretch.cut == "stabilised" for stretch in batch.stretches),
    )


def _weighty(drawn: list[tuple[Course, tuple[float, ...]]]) -> list[tuple[Course, tuple[float, ...]]]:
    """The courses that together hold nearly all belief, the rest of them being very many and very light."""
    reached, found = 0.0, []
    for course, noise in sorted(drawn, key=lambda pair: -pair[0].weight):
        found.append((course, noise))
        reached += course.weight
        if reached > NEARLY_ALL:
            break
    return found


def _prior(batch: Batch, opening: Opening, beliefs: Beliefs) -> Prior:
    musts = [t.celsius for t in batch.temperatures if not t.of_air]
    airs = [t.celsius for t in batch.temperatures if t.of_air]
    measured = (musts or airs)[-4:]
    ending = ending_of(batch)
    yeast = batch.pitches[-1].yeast if batch.pitches else None
    stop = None
    if batch.yeast is not None and ending.low is not None and batch.whole_start_sg is not None:
        stop = (batch.whole_start_sg - 1) * 1000 - (batch.yeast.tolerance_high + 1.5) / 0.13125
    return prior_for(
        yeast_class=yeast.yeast_class if yeast else "unknown",
        must_c=sum(measured) / len(measured) if measured else None,
        start_points=opening.start_points,
        start_error=opening.start_error,
        honey=_of_honey(batch),
        stop_points=stop,
        active=opening.active,
        beliefs=beliefs,
    )


def _of_honey(batch: Batch) -> bool:
    return batch.mixed is not None and any(part.category == "honey" for part in batch.mixed.ingredients)


def _evidence(opening: Opening, prior: Prior) -> Evidence:
    beliefs, points = prior.beliefs, opening.points
    if len(points) > MOST_READINGS:
        step = (len(points) - 11) / 3
        points = tuple(points[int(n * step)] for n in range(3)) + points[-11:]
    errors = []
    before_day, before = 0.0, opening.start_points
    for point in points:
        slope = abs(point.gravity - before) / max(0.25, point.day - before_day)
        misfit = beliefs.misfit * prior.rough * max(0.0, opening.start_points - point.gravity)
        noise = beliefs.reading_error * point.error
        errors.append(sqrt(noise * noise + misfit * misfit + (beliefs.timing_days * slope) ** 2))
        before_day, before = point.day, point.gravity
    return Evidence(tuple(p.day for p in points), tuple(p.gravity for p in points), tuple(errors))


@dataclass(frozen=True, slots=True)
class Path:
    """One possible course from here on. gravities: points at the days asked for; weight: its share of belief;
    pace: how fast its days pass; halted: true where it comes to a stand by chance."""

    course: Course
    here: float
    gravities: tuple[float, ...]
    noise: float
    pace: float
    halted: bool

    @property
    def weight(self) -> float:
        return self.course.weight


def paths_of(fan: Fan, days_on: Sequence[float]) -> list[Path]:
    """The courses from the last reading on, so many days after today, each at its own pace, without reading noise."""
    beliefs, rough = fan.prior.beliefs, fan.prior.rough
    share = STABILISED_SHARE if fan.stabilised else min(0.5, beliefs.halt_share * rough)
    halts_below = normal_quantile(share)
    wait = fan.today - fan.last_day
    found = []
    for course, (noise, pace_noise, halt_noise) in zip(fan.courses, fan.noises, strict=True):
        halted = halt_noise < halts_below
        slow = STABILISED_PACE if fan.stabilised else beliefs.halt_pace
        pace = slow if halted else exp(beliefs.pace_spread * rough * pace_noise)
        here, *ahead = course.gravities([fan.last_day, *(fan.last_day + pace * (wait + on) for on in days_on)])
        # Part of what the last reading lies off the course is carried along, fading as the course ends.
        off = 0.0 if fan.last_gravity is None else max(-MOST_CARRIED, min(MOST_CARRIED, fan.last_gravity - here))
        lift = 1 + off * beliefs.carry / max(1.0, here - course.end)
        end = course.end
        lifted = tuple([end + lift * (gravity - end) for gravity in ahead])
        found.append(Path(course, end + lift * (here - end), lifted, noise, pace, halted))
    return found


def bands_of(fan: Fan, paths: Sequence[Path], shares: Sequence[float] = SHARES) -> list[tuple[float, ...]]:
    """Percentiles in points of what a good glass would read, at each of the days the paths were asked for."""
    misfit, floor = fan.prior.beliefs.future_misfit * fan.prior.rough, GLASS_NOISE * GLASS_NOISE
    lines = []
    for path in paths:
        here, noise = path.here, path.noise
        lines.append([g + noise * sqrt(floor + (misfit * (here - g)) ** 2) for g in path.gravities])
    weights = [path.weight for path in paths]
    return [quantiles(column, weights, shares) for column in zip(*lines, strict=True)]


def quantiles(values: Sequence[float], weights: Sequence[float], shares: Sequence[float] = SHARES) -> tuple[float, ...]:
    """The values below which these shares of the weight lie, between neighbours in a straight line."""
    order = sorted(range(len(values)), key=values.__getitem__)
    found: list[float] = []
    reached, before_value, before_share = 0.0, values[order[0]], 0.0
    wanted = iter(shares)
    share = next(wanted)
    for place in order:
        middle = reached + weights[place] / 2
        while middle >= share:
            step = (share - before_share) / (middle - before_share) if middle > before_share else 1.0
            found.append(before_value + step * (values[place] - before_value))
            share = next(wanted, 2.0)
        reached += weights[place]
        before_value, before_share = values[place], middle
    while len(found) < len(shares):
        found.append(values[order[-1]])
    return tuple(found)
