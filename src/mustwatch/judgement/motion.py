"""How a batch moves: whether it stands still too high, crawls, or falls as it should."""

from __future__ import annotations

from datetime import datetime, timedelta

from mustwatch.judgement.case import Case, hours_in, points_above
from mustwatch.judgement.verdict import State
from mustwatch.judgement.window import SHORT_DAYS, SURELY_FALLS, Line, Point, line_through

SLOW_ABOVE = 4.0
LAG_HOURS = 96.0
SLUGGISH_RATE = 0.04  # share of the way to go, a day
SLUGGISH_ABOVE = 20.0
RISE_POINTS = 4.0
HISTORY = 40  # readings looked back over for an earlier stall


def still(case: Case, line: Line | None) -> bool:
    """Whether a window shows a fall too slow to be one, long enough after pitching, by readings that hold."""
    if line is None or not line.enough or line.most >= case.stall_fall or line.least > SURELY_FALLS:
        return False
    if line.strayed and len(line.points) < 3:
        return False
    last, before = line.points[-1], line.points[-2]
    return hours_in(case, last) >= LAG_HOURS and last.gravity - before.gravity <= RISE_POINTS * last.error


def stalled_at(case: Case, count: int) -> bool:
    """Whether the first `count` readings since the last cut say that it stands still too high."""
    if case.ending.stop is None or "stabilised" in case.cuts:
        return False
    points = case.points[:count]
    if not points or points_above(case, points[-1]) < case.stall_above:
        return False
    return still(case, line_through(points)) or still(case, line_through(points, SHORT_DAYS))


def stalls(case: Case) -> tuple[bool, bool]:
    """(some earlier reading found it stalled, the last two reading days both did)."""
    count = len(case.points)
    earlier = [place for place in range(max(2, count - HISTORY), count) if stalled_at(case, place)]
    days = [place for place in earlier if case.points[-1].day - case.points[place - 1].day >= 0.5]
    before = next((p for p in range(count - 1, 0, -1) if case.points[-1].day - case.points[p - 1].day >= 0.5), 0)
    return bool(earlier), bool(before) and before in days


def motion_of(case: Case) -> State | None:
    """`moving` or `sluggish` where the window shows a fall, or a stand a little above the end; else None."""
    line = case.line
    if line is None:
        return None
    latest = line.points[-1]
    above = points_above(case, latest)
    crawls = line.enough and line.most < case.stall_fall and above >= SLOW_ABOVE and hours_in(case, latest) >= LAG_HOURS
    if line.least > 0:
        return "sluggish" if crawls or _sluggish(case, line) else "moving"
    if still(case, line) and SLOW_ABOVE <= above < case.stall_above and "stabilised" not in case.cuts:
        return "sluggish"
    return None


def _sluggish(case: Case, line: Line) -> bool:
    """Slower than 4 % of what is left a day with 20 points to go, or half of its own best with half the sugar left."""
    latest = line.points[-1]
    stop = case.ending.stop
    if stop is None or hours_in(case, latest) < LAG_HOURS:
        return False
    above = points_above(case, latest)
    if above > SLUGGISH_ABOVE and line.most < SLUGGISH_RATE * above:
        return True
    start = case.batch.whole_start_sg
    half = start is not None and latest.gravity > ((start + stop) / 2 - 1) * 1000
    return half and line.most < _best_fall(case) / 2 and not _cooler(case)


def _best_fall(case: Case) -> float:
    """The fastest fall over three days or more of this stretch, points a day; 0 where it is shorter."""
    best, points = 0.0, case.uncut[-HISTORY:]
    for place, later in enumerate(points):
        before = [point for point in points[:place] if later.day - point.day >= 3]
        if before:
            best = max(best, (before[-1].gravity - later.gravity) / (later.day - before[-1].day))
    return best


def _cooler(case: Case) -> bool:
    temps = [t.celsius for t in case.batch.temperatures if not t.of_air]
    return len(temps) > 1 and max(temps) - temps[-1] >= 3


def would_tell(case: Case, when: datetime) -> bool:
    """Whether a reading at that time that shows no fall would be a stall."""
    latest = case.uncut[-1]
    day = latest.day + (when - latest.at) / timedelta(days=1)
    points = [*(case.points or case.uncut[-1:]), Point(day, latest.gravity, latest.error, "", when)]
    return still(case, line_through(points)) or still(case, line_through(points, SHORT_DAYS))
