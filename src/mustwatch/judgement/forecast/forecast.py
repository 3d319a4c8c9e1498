"""From a batch to its possible courses: what is believed beforehand, and what its readings say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import hypot, sqrt

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.cellar.ending import STALL_ABOVE, ending_of, of_honey
from mustwatch.judgement.alcohol import alcohol_now
from mustwatch.judgement.forecast.opening import Opening, opening_of
from mustwatch.judgement.forecast.posterior import Course, Evidence, courses_of
from mustwatch.judgement.forecast.prior import WORLDS, Beliefs, Prior, Worlds, prior_for
from mustwatch.judgement.forecast.warmth import Clock, clock_of
from mustwatch.judgement.motion import STALL_FALL
from mustwatch.judgement.window import Line, line_through, points_of

MOST_READINGS = 14
SHOWN = 144
FOOD_USELESS_ABV = 9.0  # about where yeast no longer takes up nitrogen; common practice


@dataclass(frozen=True, slots=True)
class Fan:
    """The possible courses of a batch, alike in weight.

    today, last_day: days from the opening to now, to the last reading, by the calendar; clock: what of them counts
    for the yeast; last_gravity: that reading in points; stabilised: sulfite or sorbate went in; late: the line through
    the newest readings; stood: it stood still, far above its end, until sugar or water went in, and was not read since;
    fed_since: food went in since the last reading, while yeast could still take it up.
    """

    opening: Opening
    prior: Prior
    courses: tuple[Course, ...]
    today: float
    last_day: float
    last_gravity: float | None
    stabilised: bool
    late: Line | None = None
    clock: Clock = Clock()
    stood: bool = False
    fed_since: bool = False

    def at(self, now: datetime) -> Fan:
        """The same courses with today moved to `now`."""
        return replace(self, today=max(0.0, (now - self.opening.at) / timedelta(days=1)))


def fan_of(batch: Batch, now: datetime, worlds: Worlds = WORLDS) -> Fan | None:
    """The possible courses of a batch at `now`, None where there is nothing to go on."""
    opening = opening_of(batch)
    if opening is None:
        return None
    prior = _prior(batch, opening, _world(batch, worlds))
    clock = clock_of(batch, opening.at, prior.beliefs.rate_per_degree)
    today = max(0.0, (now - opening.at) / timedelta(days=1))
    last = opening.points[-1] if opening.points else None
    return Fan(
        opening=opening,
        prior=prior,
        courses=_drawn(courses_of(prior, _evidence(opening, prior, clock))),
        today=today,
        last_day=last.day if last else 0.0,
        last_gravity=last.gravity if last else None,
        late=line_through(opening.points),
        clock=clock,
        stood=_stood(batch, opening, prior),
        fed_since=_fed_since(batch),
        stabilised=any(stretch.cut == "stabilised" for stretch in batch.stretches),
    )


def _drawn(courses: Sequence[Course]) -> tuple[Course, ...]:
    """As many courses as are shown, each as often as its share of belief asks; they count alike from here on."""
    found, reached, place = [], courses[0].weight, 0
    for slot in range(SHOWN):
        mark = (slot + 0.5) / SHOWN
        while reached < mark and place + 1 < len(courses):
            place += 1
            reached += courses[place].weight
        found.append(courses[place])
    return tuple(found)


def _world(batch: Batch, worlds: Worlds) -> Beliefs:
    """A laboratory's where no honey is in it and it is read finer than any hydrometer shows, else a home's."""
    hand = [reading for reading in batch.good_readings if not reading.floating]
    fine = [reading for reading in hand if _finer(reading)]
    return worlds.laboratory if 2 * len(fine) >= len(hand) and not of_honey(batch) else worlds.home


def _finer(reading: Reading) -> bool:
    marks = reading.value * (2000 if reading.scale == "sg" else 10)
    return abs(marks - round(marks)) > 0.01


def _prior(batch: Batch, opening: Opening, beliefs: Beliefs) -> Prior:
    ending = ending_of(batch)
    yeast = batch.pitches[-1].yeast if batch.pitches else None
    stop = None
    if batch.yeast is not None and ending.least is not None and batch.whole_start_sg is not None:
        stop = (batch.whole_start_sg - 1) * 1000 - (batch.yeast.tolerance_high + 1.5) / 0.13125
    return prior_for(
        yeast_class=yeast.yeast_class if yeast else "unknown",
        start_points=opening.start_points,
        start_error=opening.start_error,
        honey=of_honey(batch),
        stop_points=stop,
        active=opening.active,
        beliefs=beliefs,
    )


def _stood(batch: Batch, opening: Opening, prior: Prior) -> bool:
    """Whether the readings before a change that was not read since showed a stand far above the end."""
    read = batch.good_readings
    if opening.points or not opening.active or not read or read[-1].at >= opening.at:
        return False
    before = points_of(read, read[0].at)
    line = line_through(before)
    high = before[-1].gravity - prior.end > STALL_ABOVE
    return high and line is not None and line.enough and line.most < STALL_FALL


def _fed_since(batch: Batch) -> bool:
    made = alcohol_now(batch)
    last = batch.latest
    food = [event.at for event in batch.additions if event.category == "nutrient"]
    takes_it = made is None or made.low < FOOD_USELESS_ABV
    return bool(food) and last is not None and food[-1] > last.at and takes_it


def _evidence(opening: Opening, prior: Prior, clock: Clock) -> Evidence:
    beliefs, points = prior.beliefs, opening.points
    mark = mark_of(opening)
    if len(points) > MOST_READINGS:
        step = (len(points) - 11) / 3
        points = tuple(points[int(n * step)] for n in range(3)) + points[-11:]
    errors = []
    before_day, before = 0.0, opening.start_points
    for point in points:
        slope = abs(point.gravity - before) / max(0.25, point.day - before_day)
        misfit = beliefs.misfit * prior.rough * max(0.0, opening.start_points - point.gravity)
        noise = hypot(beliefs.reading_error * point.error, mark)
        errors.append(sqrt(noise * noise + misfit * misfit + (beliefs.timing_days * slope) ** 2))
        before_day, before = point.day, point.gravity
    return Evidence(tuple(clock.passed(p.day) for p in points), tuple(p.gravity for p in points), tuple(errors))


def mark_of(opening: Opening) -> float:
    """How far rounding to whole marks of five or two points blurs a reading, points, one standard deviation."""
    levels = [point.gravity for point in opening.points]
    for mark in (5.0, 2.0):
        if len(levels) >= 3 and all(abs(level / mark - round(level / mark)) * mark < 0.15 for level in levels):
            return mark / sqrt(12)
    return 0.0
