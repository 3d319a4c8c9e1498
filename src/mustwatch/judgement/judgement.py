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

from dataclasses import replace
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.alcohol import made_alcohol
from mustwatch.judgement.case import Case, case_of, points_above
from mustwatch.judgement.motion import LAG_HOURS, SLOW_ABOVE, motion_of, stalled_at, stalls, still, would_tell
from mustwatch.judgement.verdict import State, Verdict
from mustwatch.judgement.window import SHORT_DAYS, Point, line_through
from mustwatch.ledger.settings import Settings

LAG_POINTS = 3.0
QUIET_DAYS, LONG_QUIET_DAYS = 7, 14
STRONG_ABV = 14.0
COLD_C = 10.0
OLD_DAYS = 21.0  # a batch last read moving so long ago may be anywhere


def judge(batch: Batch, settings: Settings, now: datetime) -> Verdict:
    """The state of a batch at `now`, with its evidence; state None when nothing was pitched."""
    if batch.pitched is None or batch.pitched.at > now:
        return Verdict(None)
    case = case_of(batch, settings, now)
    stalled_then, confirmed = stalls(case)
    needed = _rest_needed(case, stalled_then)
    state, decide_on, missing = _state(case, needed)
    if state == "stalled" and not still(case, case.line):
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
        made_alcohol=_made(batch, sg),
        decide_on=decide_on,
        confirmed=confirmed and state == "stalled",
        rest=case.rest,
        evidence=_evidence(case, state),
        missing=case.ending.missing + missing,
        rest_needed=needed,
        may_hold=None if latest is None else max(0.0, latest.gravity + latest.error - (case.ending.dry_low - 1) * 1000),
        slow_finish=state == "sluggish" and points_above(case, case.uncut[-1]) < case.stall_above,
        cuts=case.cuts,
    )


def _rest_needed(case: Case, once_stalled: bool) -> int:
    """Days of agreement asked for: 7 for what is dry or stabilised, else 14."""
    if not case.uncut:
        return LONG_QUIET_DAYS
    latest = case.uncut[-1]
    alcohol = made_alcohol(case.batch, 1 + latest.gravity / 1000)
    sweet = latest.gravity > 0.5 and "stabilised" not in case.cuts
    strong = alcohol is None or alcohol.high > STRONG_ABV
    warm = [t for t in case.batch.temperatures if not t.of_air]
    cold = bool(warm) and warm[-1].celsius < COLD_C
    return LONG_QUIET_DAYS if sweet or strong or cold or once_stalled else QUIET_DAYS


def _state(case: Case, needed: int) -> tuple[State, datetime | None, tuple[str, ...]]:
    """The state, when an undecided one can be decided, and what is missing for it."""
    if not case.uncut:
        return _unread(case)
    latest = case.uncut[-1]
    if stalled_at(case, len(case.points)):
        return "stalled", None, ()
    if case.rest.days >= needed - 0.25:
        return ("finished" if _at_end(case, latest) else "stable"), None, ()
    if (moving := motion_of(case)) is not None:
        age = (case.now - latest.at) / timedelta(days=1)
        if age > OLD_DAYS:
            return "undecided", case.now, (f"a reading since {age:.0f} days",)
        return moving, None, ()
    if _in_lag(case, latest):
        return "lag", None, ()
    return "undecided", _decide_on(case, needed), ()


def _unread(case: Case) -> tuple[State, datetime | None, tuple[str, ...]]:
    """Nothing was read since the last cut: lag at first, afterwards nobody can know."""
    hours = case.batch.hours_since_pitch(case.now) or 0.0
    if not case.cuts and hours < LAG_HOURS:
        return "lag", None, ()
    since = "since the last change" if case.cuts else "since pitching"
    return "undecided", case.now, (f"a gravity reading {since}",)


def _in_lag(case: Case, latest: Point) -> bool:
    start = case.batch.start_sg
    fallen = (start - 1) * 1000 - latest.gravity if start is not None else 0.0
    return fallen < LAG_POINTS and (case.batch.hours_since_pitch(case.now) or 0.0) < LAG_HOURS


def _at_end(case: Case, latest: Point) -> bool:
    """Inside the expected end: dry, or where the yeast's own stated tolerance stops it."""
    sg = 1 + latest.gravity / 1000
    ending = case.ending
    if sg <= ending.dry_high + 0.0005:
        return True
    return ending.tolerance_stated and ending.high is not None and sg <= ending.high + 0.0005


def _decide_on(case: Case, needed: int) -> datetime:
    """The earliest time at which one more reading would tell, never before now."""
    latest = case.uncut[-1]
    if _at_end(case, latest) or case.ending.stop is None or points_above(case, latest) < SLOW_ABOVE:
        first = case.rest.since if case.rest.days > 0 and case.rest.since else latest.at
        return max(case.now, first + timedelta(days=needed))
    pitched = case.batch.pitched
    in_time = pitched.at + timedelta(hours=LAG_HOURS) if pitched else case.now
    for half_days in range(1, 2 * LONG_QUIET_DAYS):
        when = latest.at + timedelta(days=half_days / 2)
        if when >= max(case.now, in_time) and would_tell(case, when):
            return when
    return max(case.now, latest.at + timedelta(days=3))


def _since(case: Case, state: State) -> datetime | None:
    if state in ("stable", "finished"):
        return case.rest.since
    if state in ("stalled", "sluggish") and case.line is not None:
        return case.line.points[0].at
    return case.batch.stretches[-1].since if case.batch.stretches else None


def _evidence(case: Case, state: State) -> tuple[str, ...]:
    if state in ("stable", "finished"):
        return case.rest.readings
    if case.line is not None:
        return tuple(point.id for point in case.line.points)
    return tuple(point.id for point in case.uncut[-1:])


def _made(batch: Batch, sg: float | None) -> tuple[float, float] | None:
    made = None if sg is None else made_alcohol(batch, sg)
    return None if made is None else (made.low, made.high)
