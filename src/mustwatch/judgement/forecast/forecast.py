"""From a batch to its possible courses: what is believed beforehand, and what its readings say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import sqrt

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.ending import ending_of, of_honey
from mustwatch.judgement.forecast.opening import Opening, opening_of
from mustwatch.judgement.forecast.posterior import Course, Evidence, courses_of
from mustwatch.judgement.forecast.prior import BELIEFS, Beliefs, Prior, prior_for
from mustwatch.judgement.window import Line, line_through

MOST_READINGS = 14
SHOWN = 160


@dataclass(frozen=True, slots=True)
class Fan:
    """The possible courses of a batch, alike in weight. today, last_day: days from the opening to now, to the last
    reading; last_gravity: that reading in points; stabilised: sulfite or sorbate went in;
    late: the line through the newest readings."""

    opening: Opening
    prior: Prior
    courses: tuple[Course, ...]
    today: float
    last_day: float
    last_gravity: float | None
    stabilised: bool
    late: Line | None = None

    def at(self, now: datetime) -> Fan:
        """The same courses with today moved to `now`."""
        return replace(self, today=max(0.0, (now - self.opening.at) / timedelta(days=1)))


def fan_of(batch: Batch, now: datetime, beliefs: Beliefs = BELIEFS) -> Fan | None:
    """The possible courses of a batch at `now`, None where there is nothing to go on."""
    opening = opening_of(batch)
    if opening is None:
        return None
    prior = _prior(batch, opening, beliefs)
    today = max(0.0, (now - opening.at) / timedelta(days=1))
    last = opening.points[-1] if opening.points else None
    return Fan(
        opening=opening,
        prior=prior,
        courses=_drawn(courses_of(prior, _evidence(opening, prior))),
        today=today,
        last_day=last.day if last else 0.0,
        last_gravity=last.gravity if last else None,
        late=line_through(opening.points),
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


def _prior(batch: Batch, opening: Opening, beliefs: Beliefs) -> Prior:
    musts = [t.celsius for t in batch.temperatures if not t.of_air]
    airs = [t.celsius for t in batch.temperatures if t.of_air]
    measured = (musts or airs)[-4:]
    ending = ending_of(batch)
    yeast = batch.pitches[-1].yeast if batch.pitches else None
    stop = None
    if batch.yeast is not None and ending.least is not None and batch.whole_start_sg is not None:
        stop = (batch.whole_start_sg - 1) * 1000 - (batch.yeast.tolerance_high + 1.5) / 0.13125
    return prior_for(
        yeast_class=yeast.yeast_class if yeast else "unknown",
        must_c=sum(measured) / len(measured) if measured else None,
        start_points=opening.start_points,
        start_error=opening.start_error,
        honey=of_honey(batch),
        stop_points=stop,
        active=opening.active,
        beliefs=beliefs,
    )


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
