"""The state of a batch from its readings: lag, moving, sluggish, stalled, undecided, stable or finished.

For the engineer: no forecast is needed here, only straight lines through the last readings and the
error of the glass, so that a thousand batches are judged in a second and a rule may ask at every key.
The definitions and thresholds are common practice of the trade, the error one point (CAREFUL_POINTS).

- Stalled: even the fastest fall the window allows (95 %, one-sided) is below one point a day, ten points
  or more above the highest gravity at which this yeast would have stopped, four days after pitching, with
  alcohol still a per cent below tolerance. Two equal numbers are not enough; the window must span three
  days, or two with three readings. Confirmed once two reading days in a row say so. What surely falls by
  more than 0.3 points a day is sluggish instead: it moves.
- Where only the class of the yeast is known its highest tolerance counts, so that a low guess never
  hides a stall; where the start gravity is not known a stall cannot be told from an end, and `missing` says so.
- Stable needs readings that agree over 7 days, 14 where it is sweet, strong, cold or once stalled.
- Finished is stable and inside the expected end; `may_hold` still tells what the glass cannot see.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from mustwatch.batches.batch import Batch
from mustwatch.batches.settings import Settings
from mustwatch.outlook.ending import Ending, ending_of, made_alcohol
from mustwatch.outlook.resting import rest_of
from mustwatch.outlook.verdict import Rest, State, Verdict
from mustwatch.outlook.window import SHORT_DAYS, Line, Point, line_through, points_of

STALL_FALL = 1.0  # points a day
STALL_ABOVE = 10.0  # points above the highest gravity at which the yeast would have stopped
SURELY_FALLS = 0.3  # points a day: what surely falls faster is slow, not standing
SLOW_ABOVE = 4.0
LAG_HOURS = 96.0
LAG_POINTS = 3.0
SLUGGISH_RATE = 0.04  # share of the way to go, a day
SLUGGISH_ABOVE = 20.0
QUIET_DAYS, LONG_QUIET_DAYS = 7, 14
STRONG_ABV = 14.0
COLD_C = 10.0
OLD_DAYS = 21.0  # a batch last read moving so long ago may be anywhere
RISE_POINTS = 4.0
FRESH_SUGAR = frozenset({"sugar", "water"})
HISTORY = 40  # readings looked back over for an earlier stall


@dataclass(frozen=True, slots=True)
class _Case:
    """What a judgement looks at, gathered once."""

    batch: Batch
    ending: Ending
    points: list[Point]  # since the last cut, as far as readings were taken
    uncut: list[Point]  # since sugar or water last went in
    line: Line | None
    rest: Rest
    cuts: tuple[str, ...]
    now: datetime
    stall_fall: float
    stall_above: float


def judge(batch: Batch, settings: Settings, now: datetime) -> Verdict:
    """The state of a batch at `now`, with its evidence; state None when nothing was pitched."""
    if batch.pitched is None or batch.pitched.at > now:
        return Verdict(None)
    case = _case(batch, settings, now)
    stalled_then, confirmed = _stalls(case)
    needed = _rest_needed(case, stalled_then)
    state, decide_on, missing = _state(case, needed)
    if state == "stalled" and not _still(case, case.line):
        case = replace(case, line=line_through(case.points, SHORT_DAYS))
    latest = case.uncut[-1] if case.uncut else None
    sg = 1 + latest.gravity / 1000 if latest else None
    line = case.line
    return Verdict(
        state=state,
        since=_since(case, state),
        fall=line.fall if line else None,
        fall_error=line.error if line else None,
        window_days=line.days if line else None,
        expected_end=(case.ending.low, case.ending.high)
        if case.ending.low is not None and case.ending.high is not None
        else None,
        points_to_go=None if sg is None or case.ending.high is None else max(0.0, (sg - case.ending.high) * 1000),
        made_alcohol=None if sg is None else made_alcohol(batch, sg),
        decide_on=decide_on,
        confirmed=confirmed and state == "stalled",
        rest=case.rest,
        evidence=_evidence(case, state),
        missing=case.ending.missing + missing,
        rest_needed=needed,
        may_hold=None if sg is None else max(0.0, (sg - case.ending.dry_low) * 1000),
        slow_finish=state == "sluggish" and _above(case, case.points[-1]) < case.stall_above,
        cuts=case.cuts,
    )


def _case(batch: Batch, settings: Settings, now: datetime) -> _Case:
    began = batch.stretches[0].since if batch.stretches else now
    cuts = tuple(stretch.cut for stretch in batch.stretches[1:])
    newest = batch.stretches[-1].readings if batch.stretches else ()
    fed_at = max((place for place, cut in enumerate(cuts, 1) if cut in FRESH_SUGAR), default=0)
    since_fed = [reading for stretch in batch.stretches[fed_at:] for reading in stretch.readings]
    uncut = points_of(since_fed, began)
    points = points_of(newest, began) if len(newest) > 1 else uncut[-1:] if newest else []
    return _Case(
        batch=batch,
        ending=ending_of(batch),
        points=points,
        uncut=uncut,
        line=line_through(points),
        rest=rest_of(uncut, bool(fed_at) and not uncut),
        cuts=cuts,
        now=now,
        stall_fall=settings.threshold("stalled", "fall", STALL_FALL),
        stall_above=settings.threshold("stalled", "above", STALL_ABOVE),
    )


def _above(case: _Case, point: Point) -> float:
    """Points above the gravity at which a yeast of the upper tolerance would have stopped."""
    stop = case.ending.stop
    return 0.0 if stop is None else point.gravity - (stop - 1) * 1000


def _hours(case: _Case, point: Point) -> float:
    return (point.at - case.batch.pitched.at) / timedelta(hours=1) if case.batch.pitched else 0.0


def _still(case: _Case, line: Line | None) -> bool:
    """Whether a window shows a fall too slow to be one, long enough after pitching, by readings that hold."""
    if line is None or not line.enough or line.most >= case.stall_fall or line.least > SURELY_FALLS:
        return False
    if line.strayed and len(line.points) < 3:
        return False
    last, before = line.points[-1], line.points[-2]
    return _hours(case, last) >= LAG_HOURS and last.gravity - before.gravity <= RISE_POINTS * last.error


def _stalled_at(case: _Case, count: int) -> bool:
    """Whether the first `count` readings since the last cut say that it stands still too high."""
    if case.ending.stop is None or "stabilised" in case.cuts:
        return False
    points = case.points[:count]
    if not points or _above(case, points[-1]) < case.stall_above:
        return False
    return _still(case, line_through(points)) or _still(case, line_through(points, SHORT_DAYS))


def _stalls(case: _Case) -> tuple[bool, bool]:
    """(some earlier reading found it stalled, the last two reading days both did)."""
    count = len(case.points)
    earlier = [place for place in range(max(2, count - HISTORY), count) if _stalled_at(case, place)]
    days = [place for place in earlier if case.points[-1].day - case.points[place - 1].day >= 0.5]
    before = next((p for p in range(count - 1, 0, -1) if case.points[-1].day - case.points[p - 1].day >= 0.5), 0)
    return bool(earlier), bool(before) and before in days


def _rest_needed(case: _Case, once_stalled: bool) -> int:
    """Days of agreement asked for: 7 for what is dry or stabilised, else 14."""
    if not case.uncut:
        return LONG_QUIET_DAYS
    latest = case.uncut[-1]
    alcohol = made_alcohol(case.batch, 1 + latest.gravity / 1000)
    sweet = latest.gravity > 0.5 and "stabilised" not in case.cuts
    strong = alcohol is None or alcohol[1] > STRONG_ABV
    warm = [t for t in case.batch.temperatures if not t.of_air]
    cold = bool(warm) and warm[-1].celsius < COLD_C
    return LONG_QUIET_DAYS if sweet or strong or cold or once_stalled else QUIET_DAYS


def _state(case: _Case, needed: int) -> tuple[State, datetime | None, tuple[str, ...]]:
    """The state, when an undecided one can be decided, and what is missing for it."""
    if not case.points:
        return _unread(case)
    latest = case.points[-1]
    if _stalled_at(case, len(case.points)):
        return "stalled", None, ()
    if case.rest.days >= needed - 0.25:
        return ("finished" if _at_end(case, latest) else "stable"), None, ()
    if (moving := _moving(case)) is not None:
        age = (case.now - latest.at) / timedelta(days=1)
        if age > OLD_DAYS:
            return "undecided", case.now, (f"a reading since {age:.0f} days",)
        return moving, None, ()
    if _in_lag(case, latest):
        return "lag", None, ()
    return "undecided", _decide_on(case, needed), ()


def _unread(case: _Case) -> tuple[State, datetime | None, tuple[str, ...]]:
    """Nothing was read since the last cut: lag at first, afterwards nobody can know."""
    hours = case.batch.hours_since_pitch(case.now) or 0.0
    if not case.cuts and hours < LAG_HOURS:
        return "lag", None, ()
    since = "since the last change" if case.cuts else "since pitching"
    return "undecided", case.now, (f"a gravity reading {since}",)


def _in_lag(case: _Case, latest: Point) -> bool:
    start = case.batch.start_sg
    fallen = (start - 1) * 1000 - latest.gravity if start is not None else 0.0
    return fallen < LAG_POINTS and (case.batch.hours_since_pitch(case.now) or 0.0) < LAG_HOURS


def _at_end(case: _Case, latest: Point) -> bool:
    """Inside the expected end: dry, or where the yeast's own stated tolerance stops it."""
    sg = 1 + latest.gravity / 1000
    ending = case.ending
    if sg <= ending.dry_high + 0.0005:
        return True
    return ending.tolerance_stated and ending.high is not None and sg <= ending.high + 0.0005


def _moving(case: _Case) -> State | None:
    """`moving` or `sluggish` where the window shows a fall, or a stand a little above the end; else None."""
    line = case.line
    if line is None:
        return None
    latest = line.points[-1]
    above = _above(case, latest)
    crawls = line.enough and line.most < case.stall_fall and above >= SLOW_ABOVE and _hours(case, latest) >= LAG_HOURS
    if line.least > 0:
        return "sluggish" if crawls or _sluggish(case, line) else "moving"
    if _still(case, line) and SLOW_ABOVE <= above < case.stall_above and "stabilised" not in case.cuts:
        return "sluggish"
    return None


def _sluggish(case: _Case, line: Line) -> bool:
    """Slower than 4 % of what is left a day with 20 points to go, or half of its own best with half the sugar left."""
    latest = line.points[-1]
    stop = case.ending.stop
    if stop is None or _hours(case, latest) < LAG_HOURS:
        return False
    above = _above(case, latest)
    if above > SLUGGISH_ABOVE and line.most < SLUGGISH_RATE * above:
        return True
    start = case.batch.whole_start_sg
    half = start is not None and latest.gravity > ((start + stop) / 2 - 1) * 1000
    return half and line.most < _best_fall(case) / 2 and not _cooler(case)


def _best_fall(case: _Case) -> float:
    """The fastest fall over three days or more of this stretch, points a day; 0 where it is shorter."""
    best, points = 0.0, case.points[-HISTORY:]
    for place, later in enumerate(points):
        before = [point for point in points[:place] if later.day - point.day >= 3]
        if before:
            best = max(best, (before[-1].gravity - later.gravity) / (later.day - before[-1].day))
    return best


def _cooler(case: _Case) -> bool:
    temps = [t.celsius for t in case.batch.temperatures if not t.of_air]
    return len(temps) > 1 and max(temps) - temps[-1] >= 3


def _decide_on(case: _Case, needed: int) -> datetime:
    """The earliest time at which one more reading would tell, never before now."""
    latest = case.points[-1]
    if _at_end(case, latest) or case.ending.stop is None or _above(case, latest) < SLOW_ABOVE:
        first = case.rest.since if case.rest.days > 0 and case.rest.since else latest.at
        return max(case.now, first + timedelta(days=needed))
    pitched = case.batch.pitched
    in_time = pitched.at + timedelta(hours=LAG_HOURS) if pitched else case.now
    for half_days in range(1, 2 * LONG_QUIET_DAYS):
        when = latest.at + timedelta(days=half_days / 2)
        if when >= max(case.now, in_time) and _would_tell(case, when):
            return when
    return max(case.now, latest.at + timedelta(days=3))


def _would_tell(case: _Case, when: datetime) -> bool:
    """Whether a reading at that time that shows no fall would be a stall."""
    latest = case.points[-1]
    day = latest.day + (when - latest.at) / timedelta(days=1)
    points = [*case.points, Point(day, latest.gravity, latest.error, "", when)]
    return _still(case, line_through(points)) or _still(case, line_through(points, SHORT_DAYS))


def _since(case: _Case, state: State) -> datetime | None:
    if state in ("stable", "finished"):
        return case.rest.since
    if state in ("stalled", "sluggish") and case.line is not None:
        return case.line.points[0].at
    return case.batch.stretches[-1].since if case.batch.stretches else None


def _evidence(case: _Case, state: State) -> tuple[str, ...]:
    if state in ("stable", "finished"):
        return case.rest.readings
    if case.line is not None:
        return tuple(point.id for point in case.line.points)
    return tuple(point.id for point in case.points[-1:])
