"""The state of a batch from its readings: lag, moving, sluggish, stalled, undecided, stable or finished.

For the engineer: no forecast is needed here, only straight lines through the last readings and the
error of the glass, so that a thousand batches are judged in a second and a rule may ask at every key.
The definitions and thresholds are common practice of the trade, the error one point (CAREFUL_POINTS).

- Stalled: even the fastest fall the window allows (95 %, one-sided) is below one point a day, ten points
  or more above the least end, the highest gravity at which this yeast would have stopped, four days after
  pitching, with alcohol still a per cent below tolerance. Two equal numbers are not enough; the window must
  span three days, or two with three readings; readings that agree as long as this batch needs say so too.
  Confirmed once two reading days in a row say so. What surely falls by more than 0.3 points a day is sluggish
  instead: it moves. A stall once found is held until readings show a true fall.
- Where only the class of the yeast is known its highest tolerance counts, so that a low guess never
  hides a stall; where the start gravity is not known a stall cannot be told from an end, and `missing` says so.
- Stable needs readings that agree over the days this batch needs, see proof.py.
- Finished is stable and at its end; `may_hold` still tells what the glass cannot see.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from typing import NamedTuple

from mustwatch.cellar.batch import Batch, per_batch
from mustwatch.cellar.ending import STALL_ABOVE
from mustwatch.cellar.rest import SIGNIFICANT_POINTS, TWO_WEEKS_DAYS, Rest
from mustwatch.judgement.alcohol import Made, alcohol_now
from mustwatch.judgement.bottlings import STEADY_DAYS, at_bottlings, is_safe_in_bottles, rests_in_bottles
from mustwatch.judgement.gassy import are_suspect
from mustwatch.judgement.motion import (
    LAG_HOURS,
    SLOW_ABOVE,
    STALL_FALL,
    Case,
    State,
    case_of,
    confirmed_at,
    motion_of,
    points_above,
    stalled_at,
    stands_high,
    still,
    stood_since,
    would_tell,
)
from mustwatch.judgement.proof import Needed, Proof, proof_of
from mustwatch.judgement.window import ONE_SIDED, SHORT_DAYS, Line, Point, line_through
from mustwatch.ledger.events import Bottled
from mustwatch.ledger.settings import Settings

LAG_POINTS = 3.0
OLD_DAYS = 21.0  # a batch last read moving so long ago may be anywhere
HELD_BACK = 8  # readings looked back over for a stall that still holds
HOLD_MARGIN = 0.5  # points a day by which a fall must be faster than a stall's to end one


class Verdict(NamedTuple):
    """The state of a batch with its evidence.

    state: None when nothing was pitched. fall: gravity points a day over the window, with its standard error;
    least_end: where its yeast should have come at least, SG, or None when start gravity or yeast are not known;
    points_to_go: points above it; decide_on: when another reading would tell, for `undecided`;
    made_alcohol: so far, or None; evidence: ids of the readings it rests on;
    missing: facts not recorded, in words; since: when the state began, as far as readings show.
    confirmed: True when two successive reading days gave the same stall verdict;
    proof: the readings that agree, the days they must, what keeps the sugar; safe: whether by that it may be closed,
    or was bottled rightly; may_hold: gravity points that could still ferment at the reading's worst, which `finished`
    does not rule out; slow_finish: standing still 4 to 10 points above the least end; cuts: what was done since the
    readings began (sugar, water, racked, stabilised, repitched).
    """

    state: State | None
    since: datetime | None = None
    fall: float | None = None
    fall_error: float | None = None
    window_days: float | None = None
    least_end: float | None = None
    points_to_go: float | None = None
    made_alcohol: Made | None = None
    decide_on: datetime | None = None
    confirmed: bool = False
    proof: Proof = Proof()
    safe: bool = False
    evidence: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    may_hold: float | None = None
    slow_finish: bool = False
    cuts: tuple[str, ...] = ()

    @property
    def rest(self) -> Rest:
        """The readings that agree."""
        return self.proof.rest

    @property
    def needed(self) -> Needed:
        """The days for which they must."""
        return self.proof.needed

    @property
    def at_rest(self) -> bool:
        """Whether it has come to rest: its readings agree for as long as it needs, and that is no stall."""
        return self.state in ("stable", "finished")


def judge(batch: Batch, settings: Settings, now: datetime) -> Verdict:
    """The state of a batch at `now`, with its evidence; state None when nothing was pitched."""
    verdict = judge_afresh(batch, settings, now)
    if (verdict.state == "stalled" and verdict.confirmed) or not _may_hold_stall(settings, verdict):
        return verdict
    found = [verdict] if verdict.state == "stalled" else []
    level: Batch | None = batch if found else None
    for earlier, seen in earlier_verdicts(batch, settings, fewest=2):
        if seen.state == "stalled":
            found.append(seen)
            level = level or earlier
        elif not _may_hold_stall(settings, seen):
            break
    if level is None or _fallen_since(batch, level):
        return verdict
    newest = found[0]
    return verdict._replace(
        state="stalled",
        since=min((each.since for each in found if each.since), default=None),
        fall=newest.fall,
        fall_error=newest.fall_error,
        window_days=newest.window_days,
        evidence=newest.evidence,
        confirmed=any(each.confirmed for each in found),
        decide_on=None,
        slow_finish=False,
    )


def _may_hold_stall(settings: Settings, verdict: Verdict) -> bool:
    """Whether a verdict is a stall, or one that does not break an earlier one."""
    if verdict.state == "stalled":
        return True
    if verdict.state not in ("undecided", "sluggish", "moving", "stable") or verdict.fall is None:
        return False
    if (verdict.points_to_go or 0.0) < settings.threshold("stalled", "above", STALL_ABOVE) / 2:
        return False
    doubt = ONE_SIDED * (verdict.fall_error or 0.0)
    fair = settings.threshold("stalled", "fall", STALL_FALL) + settings.threshold("stalled", "margin", HOLD_MARGIN)
    return verdict.fall - doubt <= 0 or verdict.fall + doubt < fair


def _fallen_since(batch: Batch, stalled: Batch) -> bool:
    """Whether the last two readings both lie truly below the one at which it was found standing still."""
    level, last = stalled.good_readings[-1].points, batch.good_readings[-2:]
    return all(level - reading.points > SIGNIFICANT_POINTS for reading in last)


def earlier_verdicts(
    batch: Batch, settings: Settings, most: int = HELD_BACK, fewest: int = 1
) -> Iterator[tuple[Batch, Verdict]]:
    """The batch as it stood at each earlier reading of the same stretch, newest first, and what was judged of it.

    fewest: how many readings to use it must have had; below two nothing shows a fall or a stand.
    """
    known = _steps_back(batch)
    for place in range(most):
        if place < len(known) and known[place][0] is settings:
            batch = known[place][1]
            yield known[place][1:]
            continue
        if not batch.stretches or len(batch.stretches[-1].readings) < 2:
            return
        last = batch.stretches[-1]
        kept = last.readings[:-1]
        at = kept[-1].at
        if sum(reading.at <= at for reading in batch.good_readings) < fewest:
            return
        batch = replace(
            batch,
            readings=tuple(reading for reading in batch.readings if reading.at <= at),
            stretches=(*batch.stretches[:-1], last._replace(readings=kept)),
            temperatures=tuple(temperature for temperature in batch.temperatures if temperature.at <= at),
        )
        known[place:] = [(settings, batch, judge_afresh(batch, settings, at))]
        yield known[place][1:]


@per_batch
def _steps_back(batch: Batch) -> list[tuple[Settings, Batch, Verdict]]:
    """What was worked out of it so far: more than one asks."""
    return []


def judge_afresh(batch: Batch, settings: Settings, now: datetime) -> Verdict:
    """What the readings say by themselves at `now`, whatever was judged before."""
    if batch.pitched is None or batch.pitched.at > now:
        return Verdict(None)
    case, proof = case_of(batch, settings, now), proof_of(batch)
    state, decide_on, missing = _state(case, proof)
    if state == "stalled":
        case = case._replace(line=_line_of_stall(case, proof.rest))
    latest, line = case.latest, case.line
    return Verdict(
        state=state,
        since=_since(case, state, proof.rest),
        fall=line.fall if line else None,
        fall_error=line.error if line else None,
        window_days=line.days if line else None,
        least_end=case.ending.least,
        points_to_go=None if latest is None or case.ending.least is None else points_above(case, latest),
        made_alcohol=alcohol_now(batch),
        decide_on=decide_on,
        confirmed=state == "stalled" and (confirmed_at(case) or proof.steady),
        proof=proof,
        safe=proof.safe if batch.active else is_safe_in_bottles(batch) and not are_suspect(batch),
        evidence=_evidence(case, state, proof.rest),
        missing=case.ending.missing + missing,
        may_hold=None if latest is None else case.ending.may_hold(1 + latest.gravity / 1000, latest.error / 1000),
        slow_finish=state == "sluggish" and latest is not None and points_above(case, latest) < case.stall_above,
        cuts=case.cuts,
    )


def _state(case: Case, proof: Proof) -> tuple[State, datetime | None, tuple[str, ...]]:
    """The state, when an undecided one can be decided, and what is missing for it."""
    latest = case.latest
    if latest is None:
        return _unread(case)
    if not case.batch.active and (are_suspect(case.batch) or any(b.fell for b in at_bottlings(case.batch))):
        return motion_of(case) or "undecided", case.now, ("a reading from another bottle",)
    if stalled_at(case, len(case.points)):
        return "stalled", None, ()
    if proof.steady:
        if stands_high(case, latest):
            return "stalled", None, ()
        if not case.batch.active and (early := _bottled_early(case.batch)) is not None:
            # What was bottled unproven is proven by its bottles alone.
            then = early.at + timedelta(days=STEADY_DAYS)
            return "undecided", max(case.now, then), ("a reading from a bottle, two weeks or more after bottling",)
        return ("finished" if case.ending.reached(1 + latest.gravity / 1000) else "stable"), None, ()
    if (moving := motion_of(case)) is not None:
        age = (case.now - latest.at) / timedelta(days=1)
        if age > OLD_DAYS:
            return "undecided", case.now, (f"a reading since {age:.0f} days",)
        return moving, None, ()
    if _in_lag(case, latest):
        return "lag", None, ()
    return "undecided", _decide_on(case, latest, proof), ()


def _bottled_early(batch: Batch) -> Bottled | None:
    """The first bottling of a batch that was not proven to be at rest, before it or since."""
    return next((b.event for b in at_bottlings(batch) if not rests_in_bottles(batch, b)), None)


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


def _decide_on(case: Case, latest: Point, proof: Proof) -> datetime:
    """The earliest time at which one more reading would tell, never before now."""
    ending = case.ending
    if ending.reached(1 + latest.gravity / 1000) or ending.least is None or points_above(case, latest) < SLOW_ABOVE:
        return max(case.now, (proof.rest.since or latest.at) + timedelta(days=proof.needed.days))
    pitched = case.batch.pitched
    in_time = pitched.at + timedelta(hours=LAG_HOURS) if pitched else case.now
    for half_days in range(1, 2 * TWO_WEEKS_DAYS):
        when = latest.at + timedelta(days=half_days / 2)
        if when >= max(case.now, in_time) and would_tell(case, when):
            return when
    return max(case.now, latest.at + timedelta(days=3))


def _line_of_stall(case: Case, rest: Rest) -> Line | None:
    """The line that shows the stand: of the window, of its last days, or of the readings that agree."""
    if still(case, case.line):
        return case.line
    short = line_through(case.points, SHORT_DAYS)
    return short if still(case, short) else line_through(case.uncut, rest.days)


def _since(case: Case, state: State, rest: Rest) -> datetime | None:
    if state in ("stable", "finished"):
        return rest.since
    if state == "stalled" and (began := stood_since(case)) is not None:
        return began
    if state in ("stalled", "sluggish") and case.line is not None:
        return case.line.points[0].at
    return case.batch.stretches[-1].since if case.batch.stretches else None


def _evidence(case: Case, state: State, rest: Rest) -> tuple[str, ...]:
    if state in ("stable", "finished"):
        return tuple(reading.id for reading in rest.readings)
    if case.line is not None:
        return tuple(point.id for point in case.line.points)
    return tuple(point.id for point in case.uncut[-1:])
