"""The outlook of a batch: where it is heading, how sure that is, and when more will be known.

For the engineer. One course is a closed form (curve.py): a lag, a rate, a shape and an end. What is believed
beforehand comes from yeast class, must temperature, start gravity and tolerance (prior.py). Some hundreds of
courses are sought and drawn by adaptive importance sampling from a fixed table of normals and weighed by the readings
with a heavy-tailed error (posterior.py), so that one odd reading bends little; sugar, water or new yeast open
a new course at the next reading, and so does a rise no error explains (opening.py). From the last reading on
each course keeps its own pace, and some come to a stand by chance: the past never tells all of the future.
The bands are percentiles of what a good glass would read. Everything is a function of the batch and the time
(to ten minutes); the posterior is kept per batch and revision.

What it cannot do. It knows nothing of nitrogen, acid or oxygen; it takes the mean of the last temperatures
and foresees no change of them, no feeding and no racking. Where the start was read in an unmixed must, or a
refractometer was used without saying so, it believes the figures for a while. A stop at the yeast's
tolerance, a stall and a restart are seen only once readings show them; before that they only widen the band.
A course made from one reading is the prior in thin disguise. The beliefs were set on some forty logs of
mead, wine and laboratory sugar must; other drinks will be less well met.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import log
from typing import Any, Literal, TypeVar

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.ending import STALL_ABOVE
from mustwatch.judgement.forecast.curve import day_when
from mustwatch.judgement.forecast.forecast import Fan, fan_of
from mustwatch.judgement.forecast.paths import Path, bands_of, paths_of, quantiles
from mustwatch.judgement.forecast.sealed import Sealing, sealing_of
from mustwatch.judgement.state import Verdict, judge
from mustwatch.judgement.window import ONE_SIDED, SURELY_FALLS
from mustwatch.ledger.settings import Settings

# The bands are reckoned at these days and drawn straight between them: close at first, wider later.
DAYS_ON = (
    0.0, 0.25, 0.5, 1.0, 1.5, *(float(n) for n in range(2, 11)), 12.0, 14.0, 16.0, 18.0, 21.0, 24.0, 28.0, 33.0, 39.0,
    46.0, 53.0, 60.0,
)  # fmt: skip
SHOWN_DAYS = tuple(sorted({*DAYS_ON, *(float(n) for n in range(61))}))
DONE_POINTS = 2.0  # so near its end two readings a week apart agree
STANDING_FALL = 0.5  # points a day: slower than this, far above the end, is a stand
MOST_UNSEEN = 0.4
FARTHEST_DAYS = 400.0
UNSURE_START_POINTS = 5.0
KEPT, KEPT_OF_ONE = 1024, 2  # batches, and revisions of each: a round may stay open for weeks


@dataclass(frozen=True, slots=True)
class Band:
    """Percentiles of a gravity, SG."""

    p10: float
    p50: float
    p90: float


@dataclass(frozen=True, slots=True)
class Moment:
    """The band at one time."""

    at: datetime
    p10: float
    p50: float
    p90: float


@dataclass(frozen=True, slots=True)
class Dates:
    """Percentiles of a date; None where it lies more than a year away."""

    p10: datetime | None
    p50: datetime | None
    p90: datetime | None


@dataclass(frozen=True, slots=True)
class Outlook:
    """Everything foreseen of a batch. course is empty and bands None where there is nothing to go on;
    start_unread: no reading tells where the present course started, which makes the bands wide."""

    batch: str
    at: datetime
    verdict: Verdict
    now_sg: Band | None = None
    final_sg: Band | None = None
    done_on: Dates | None = None
    course: tuple[Moment, ...] = ()
    stall_probability: float | None = None
    sealing: Sealing | None = None
    start_unread: Literal["", "since the change", "never"] = ""

    @property
    def state(self) -> str | None:
        """The state in one word, as judged."""
        return self.verdict.state

    @property
    def decide_on(self) -> datetime | None:
        """When another reading would tell, where undecided."""
        return self.verdict.decide_on


_fans: dict[str, dict[tuple[Any, ...], tuple[Fan | None]]] = {}
_outlooks: dict[str, dict[tuple[Any, ...], tuple[Outlook]]] = {}
Found = TypeVar("Found")


def outlook(batch: Batch, settings: Settings, now: datetime) -> Outlook:
    """The outlook of a batch at `now`; the same batch and time always give the same numbers."""
    moment = now - timedelta(minutes=now.minute % 10, seconds=now.second, microseconds=now.microsecond)
    key = (*_key(batch), moment)
    if batch.revision and (kept := _outlooks.get(batch.tag, {}).get(key)):
        return kept[0]
    verdict = judge(batch, settings, now)
    fan = _fan(batch, moment)
    found = _foreseen(batch, verdict, fan, moment, settings) if fan else Outlook(batch.tag, moment, verdict)
    if batch.revision:
        _keep(_outlooks, batch.tag, key, found)
    return found


def _keep(kept: dict[str, dict[tuple[Any, ...], tuple[Found]]], tag: str, key: tuple[Any, ...], found: Found) -> None:
    if len(kept) >= KEPT:
        kept.clear()
    own = kept.setdefault(tag, {})
    own[key] = (found,)
    # Another thread may do the same for the same batch: at worst one more is forgotten.
    for old in list(own)[:-KEPT_OF_ONE]:
        own.pop(old, None)


def _key(batch: Batch) -> tuple[str, str, int]:
    """What the courses of a batch rest on, readings once more, lest two cellars share a revision."""
    return batch.tag, batch.revision, hash(tuple((reading.at, reading.sg, reading.doubt) for reading in batch.readings))


def _fan(batch: Batch, now: datetime) -> Fan | None:
    """The courses of a batch, weighed once per revision; only today moves."""
    key = _key(batch)
    if batch.revision and (kept := _fans.get(batch.tag, {}).get(key)):
        return kept[0].at(now) if kept[0] else None
    fan = fan_of(batch, now)
    if batch.revision:
        _keep(_fans, batch.tag, key, fan)
    return fan


def _foreseen(batch: Batch, verdict: Verdict, fan: Fan, now: datetime, settings: Settings) -> Outlook:
    paths = paths_of(fan, DAYS_ON)
    shown = fan.prior.beliefs.shown
    bands = bands_of(paths, shown)
    times = [now + timedelta(days=on) for on in DAYS_ON]
    first = _band(quantiles([path.gravities[0] for path in paths], shown))
    ends = _band(quantiles([end_of(path) for path in paths], shown))
    return Outlook(
        batch=batch.tag,
        at=now,
        verdict=verdict,
        now_sg=first,
        final_sg=ends,
        done_on=_done_on(fan, paths, now),
        course=_drawn(bands, now),
        stall_probability=_stall_probability(batch, verdict, fan, paths),
        sealing=sealing_of(batch, fan, paths, times, settings) if batch.stage != "ended" else None,
        start_unread=_start_unread(fan),
    )


def _drawn(bands: Sequence[Sequence[float]], now: datetime) -> tuple[Moment, ...]:
    """The bands at every day shown, straight lines between those reckoned."""
    found, place = [], 0
    for day in SHOWN_DAYS:
        while DAYS_ON[place + 1] < day:
            place += 1
        share = (day - DAYS_ON[place]) / (DAYS_ON[place + 1] - DAYS_ON[place])
        pairs = zip(bands[place], bands[place + 1], strict=True)
        found.append(Moment(now + timedelta(days=day), *(_sg(low + share * (high - low)) for low, high in pairs)))
    return tuple(found)


def _start_unread(fan: Fan) -> Literal["", "since the change", "never"]:
    if fan.opening.start_error <= UNSURE_START_POINTS or fan.opening.points:
        return ""
    return "since the change" if fan.opening.active else "never"


def _sg(points: float) -> float:
    return round(1 + points / 1000, 4)  # a tenth of a point: finer is noise, and may differ between machines


def _band(points: Sequence[float]) -> Band:
    return Band(*(_sg(value) for value in points))


def end_of(path: Path) -> float:
    """Where a path comes to rest: a halted one near where it stands in sixty days."""
    return path.gravities[-1] if path.halted else min(path.end, path.gravities[-1])


def _done_on(fan: Fan, paths: Sequence[Path], now: datetime) -> Dates | None:
    """When it comes within a point of its end, given that it does not stop on the way."""
    going = [path for path in paths if not path.halted]
    if not going:
        return None
    found = quantiles([_days_to_end(fan, path) for path in going], fan.prior.beliefs.shown)
    return Dates(*(None if day >= FARTHEST_DAYS else _hour(now + timedelta(days=day)) for day in found))


def _days_to_end(fan: Fan, path: Path) -> float:
    course = path.course
    if path.woken_rate is not None:
        days = log(max(1.0, (path.gravities[0] - path.end) / DONE_POINTS)) / path.woken_rate
        return min(FARTHEST_DAYS, days / fan.clock.speed)
    share = min(1.0, DONE_POINTS / max(DONE_POINTS, course.start - course.end))
    reached = day_when(share, course.lag, course.rate, course.shape)
    last = fan.clock.passed(fan.last_day)
    days = (reached - last) / path.pace - (fan.clock.passed(fan.today) - last)
    return min(FARTHEST_DAYS, max(0.0, days) / fan.clock.speed)


def _hour(when: datetime) -> datetime:
    return when.replace(minute=0, second=0, microsecond=0)


def _stall_probability(batch: Batch, verdict: Verdict, fan: Fan, paths: Sequence[Path]) -> float | None:
    """The share of belief in courses that stand still now, far above where this yeast would stop."""
    if verdict.state is None:
        return None
    least = verdict.least_end
    if least is None:
        return None
    if fan.stabilised or verdict.state in ("finished", "lag"):
        return 0.0
    level = (least - 1) * 1000 + STALL_ABOVE
    standing = high = 0.0
    for path in paths:
        if path.here < level:
            continue
        high += 1 / len(paths)
        here, day_on = path.course.gravities([fan.clock.passed(fan.last_day), fan.clock.passed(fan.last_day + 1.0)])
        if here - day_on < STANDING_FALL:
            standing += 1 / len(paths)
    # It may have stopped since the reading before the last, which no course drawn through the readings shows.
    points = fan.opening.points
    gap = fan.last_day - (points[-2].day if len(points) > 1 else 0.0)
    if verdict.fall is not None and verdict.fall - ONE_SIDED * (verdict.fall_error or 0.0) > SURELY_FALLS:
        standing = 0.0
    unseen = min(MOST_UNSEEN, fan.prior.beliefs.stops_per_day * fan.prior.rough * (gap / 2 + fan.today - fan.last_day))
    return round(standing + (high - standing) * unseen, 3)
