"""From the last reading on: each possible course at its own pace, and the bands they make together."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import exp

from mustwatch.judgement.forecast.curve import way_to_go
from mustwatch.judgement.forecast.draws import normal_quantile, spread_normals
from mustwatch.judgement.forecast.forecast import SHOWN, Fan
from mustwatch.judgement.forecast.posterior import Course
from mustwatch.judgement.window import SURELY_FALLS

GLASS_NOISE = 0.7  # points: what the next reading of a careful reader scatters by, at best; trade judgement
MOST_CARRIED = 4.0
STABILISED_SHARE = 0.85  # sulfite and sorbate hold most batches, never all; a judgement
STABILISED_PACE = 0.02
STOOD_SHARE = 0.7  # new sugar does not wake what stood still; a judgement
FED_WAKES, FED_SPREAD = 0.5, 0.25  # food wakes some stands and hastens some ferments, by half in one of ten; judgements
CRAWL_SHARE, CRAWL_SPREAD = 0.85, 0.4  # of courses that would stand while the readings still fall; judgements
STANDS_WITHIN, HIGH_ABOVE = 3.0, 8.0
SHARES = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class Path:
    """One possible course from here on. here: points at the last reading; gravities: at the days asked for;
    reads: what a glass would read there; pace: how fast its days pass; halted: comes to a stand by chance;
    end: where it comes to rest, points; woken_rate: a day, where it works again after a stand."""

    course: Course
    here: float
    gravities: list[float]
    reads: list[float]
    pace: float
    halted: bool
    end: float
    woken_rate: float | None = None


def paths_of(fan: Fan, days_on: Sequence[float]) -> list[Path]:
    """The courses, so many days after today."""
    beliefs, rough = fan.prior.beliefs, fan.prior.rough
    share = STOOD_SHARE if fan.stood else STABILISED_SHARE if fan.stabilised else min(0.5, beliefs.halt_share * rough)
    halts_below, slow = normal_quantile(share), STABILISED_PACE if fan.stabilised or fan.stood else beliefs.halt_pace
    found = []
    last = fan.clock.passed(fan.last_day)
    ahead = [fan.clock.passed(fan.today + on) - last for on in days_on]
    crawls = fan.late is not None and fan.late.least > SURELY_FALLS
    wakes_below = normal_quantile(CRAWL_SHARE if crawls else _wakes(fan))
    for course, (noise, pace_noise, halt_noise, wake_noise) in zip(
        fan.courses, spread_normals(SHOWN, 4, 99), strict=True
    ):
        halted = halt_noise < halts_below
        pace = slow if halted else _pace(fan, pace_noise, wake_noise)
        path = _path(fan, course, ahead, pace, halted, noise)
        if wake_noise < wakes_below and not fan.stabilised and _stands_high(fan, path):
            path = _woken(fan, path, ahead, pace_noise, noise)
        found.append(path)
    return found


def _pace(fan: Fan, pace_noise: float, food_noise: float) -> float:
    """How fast a path's days pass, against those of its course so far."""
    beliefs = fan.prior.beliefs
    hastened = FED_SPREAD * abs(food_noise) if fan.fed_since else 0.0
    return exp(beliefs.pace_spread * fan.prior.rough * pace_noise - beliefs.pace_drift + hastened)


def _wakes(fan: Fan) -> float:
    """The share of stands that end by themselves, or by the food that went in since."""
    return max(FED_WAKES, fan.prior.beliefs.wake_share) if fan.fed_since else fan.prior.beliefs.wake_share


def _stands_high(fan: Fan, path: Path) -> bool:
    """Whether a path has nearly come to rest, far above where such a must usually ends."""
    return path.here - path.course.end < STANDS_WITHIN and path.course.end - fan.prior.end > HIGH_ABOVE


def _woken(fan: Fan, path: Path, ahead: Sequence[float], pace_noise: float, noise: float) -> Path:
    """The same path going on slowly towards its usual end: yeast that stood still sometimes works again.

    Where the newest readings still fall it did not stand at all: then it goes on as it fell.
    """
    end, late = fan.prior.end, fan.late
    drop = path.here - end
    rate = fan.prior.beliefs.wake_rate * exp(pace_noise)
    if late is not None and late.least > SURELY_FALLS:
        rate = max(SURELY_FALLS, late.fall + late.error * pace_noise) / drop * exp(CRAWL_SPREAD * noise)
        rate /= fan.clock.speed_at(fan.last_day)
    gravities = [end + drop * exp(-rate * days) for days in ahead]
    reads = [g + noise * GLASS_NOISE for g in gravities]
    return replace(path, gravities=gravities, reads=reads, end=end, woken_rate=rate)


def _path(fan: Fan, course: Course, ahead: Sequence[float], pace: float, halted: bool, noise: float) -> Path:
    beliefs, last, end = fan.prior.beliefs, fan.clock.passed(fan.last_day), course.end
    days = [last, *[last + pace * days for days in ahead]]
    way, *ways = way_to_go(days, course.lag, course.rate, course.shape)
    drop = course.start - end
    # Part of what the last reading lies off the course is carried along, fading as the course ends.
    seen = fan.last_gravity
    off = 0.0 if seen is None else max(-MOST_CARRIED, min(MOST_CARRIED, seen - end - drop * way))
    drop += off * beliefs.carry / max(way, 1 / max(1.0, drop))
    here = end + drop * way
    # The further it has to go the less is known of it; all of this is one straight line in the way to go.
    doubt = noise * beliefs.future_misfit * fan.prior.rough
    base, slope = end + noise * GLASS_NOISE + doubt * (here - end), drop * (1 - doubt)
    return Path(course, here, [end + drop * h for h in ways], [base + slope * h for h in ways], pace, halted, end)


def bands_of(paths: Sequence[Path], shares: Sequence[float] = SHARES) -> list[tuple[float, ...]]:
    """Percentiles in points of what a good glass would read, at each of the days the paths were asked for."""
    return [quantiles(column, shares) for column in zip(*[path.reads for path in paths], strict=True)]


def quantiles(values: Sequence[float], shares: Sequence[float] = SHARES) -> tuple[float, ...]:
    """The values below which these shares of all lie, between neighbours in a straight line.

    >>> quantiles([3.0, 1.0, 2.0, 4.0, 5.0])
    (1.0, 3.0, 5.0)
    """
    ordered = sorted(values)
    top = len(ordered) - 1
    found = []
    for share in shares:
        place = min(max(share * (top + 1) - 0.5, 0.0), float(top))
        low = min(int(place), max(0, top - 1))
        found.append(ordered[low] + (place - low) * (ordered[min(low + 1, top)] - ordered[low]))
    return tuple(found)
