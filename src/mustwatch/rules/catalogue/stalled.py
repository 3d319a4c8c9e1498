"""The ferment stands still, well above where it should end.

What it looks for
    A fall that the readings of the last three to seven days put below one
    gravity point a day, even when their error is counted in its favour; ten
    points or more above the expected end; four days or more after pitching,
    and with alcohol still short of what the yeast can bear. Two equal numbers
    are not enough. It is said as a thing to watch first, and as a thing for
    today once readings on two days agree. It stays until the readings show
    that it truly moves again: a fall surely not of chance that may well be
    faster than a point and a half a day, or two readings three points lower.

Why it matters
    A ferment that stands still gets harder to move with every day, and sugar
    that is left can start again later, in the bottle.

What to do
    Look at the must's temperature, its pH, its food and its alcohol, in that
    order. Bring it slowly to the middle of the yeast's range and rouse the
    lees gently. Read daily for five days. Do not rack it, which takes the
    yeast away, and do not just add more yeast.

Source
    The limit of one point a day with its error: simulated reading noise of
    one point, medium confidence. Published limits of one or two days bracket
    it: home-wine handbooks and common practice, medium confidence.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.judgement.ending import ending_of
from mustwatch.judgement.verdict import Verdict
from mustwatch.judgement.window import ONE_SIDED, SIGNIFICANT_POINTS
from mustwatch.rules import words
from mustwatch.rules.evidence.looking_back import earlier_views
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.rule import FERMENTING_STAGES, Rule, Threshold
from mustwatch.rules.view import View, look_in

RULE = Rule(
    name="stalled",
    severity=Severity.TODAY,
    stages=FERMENTING_STAGES | {"ageing"},
    thresholds={
        "fall": Threshold(1.0, 0.3, 2.0, "points a day", "a fall surely slower than this is none"),
        "above": Threshold(10.0, 5.0, 30.0, "points", "so far above the expected end it counts as a stall"),
        "margin": Threshold(0.5, 0.1, 2.0, "points a day", "so much faster a fall ends the finding"),
    },
    explains=(
        "sluggish",
        "must-too-cold",
        "must-too-sour",
        "temperature-swing",
        "reading-overdue",
        "long-on-gross-lees",
        "stronger-than-yeast",
    ),
)


@dataclass(frozen=True, slots=True)
class Stall:
    """A standstill that no later reading has broken. confirmed: readings on two days in a row said so."""

    confirmed: bool
    since: datetime | None
    verdict: Verdict


def check(view: View) -> Iterable[Finding]:
    """A finding when the ferment stands still too high."""
    stall, latest = stall_of(view), view.batch.latest
    if stall is not None and latest is not None:
        yield _finding(view, stall, latest)


def stall_of(view: View) -> Stall | None:
    """The standstill of a batch, or None; one that was found is held until a reading shows a true fall."""
    now = view.verdict
    if now.state == "stalled" and now.confirmed:
        return Stall(True, now.since, now)
    if now.state != "stalled" and not _holds(view):
        return None
    found = [view] if now.state == "stalled" else []
    for earlier in earlier_views(view):
        if earlier.verdict.state == "stalled":
            found.append(earlier)
        elif not _holds(earlier):
            break
    if not found or _fallen_since(view, found[0]):
        return None
    confirmed = any(each.verdict.confirmed for each in found)
    return Stall(confirmed, found[-1].verdict.since, found[0].verdict)


def _fallen_since(view: View, stalled: View) -> bool:
    """Whether the last two readings both lie truly below the one at which it was found standing still."""
    level = stalled.batch.latest
    last = view.batch.good_readings[-2:]
    return level is not None and all(level.points - reading.points > SIGNIFICANT_POINTS for reading in last)


def _holds(view: View) -> bool:
    """Whether a verdict that is no stall itself still does not break one."""
    verdict = view.verdict
    if verdict.state not in ("undecided", "sluggish", "moving", "stable") or verdict.fall is None:
        return False
    if _above(view) < RULE.number(view, "above") / 2:
        return False
    doubt = ONE_SIDED * (verdict.fall_error or 0.0)
    truly_falls = verdict.fall - doubt > 0
    return not truly_falls or verdict.fall + doubt < RULE.number(view, "fall") + RULE.number(view, "margin")


def _finding(view: View, stall: Stall, latest: Reading) -> Finding:
    batch, verdict = view.batch, view.verdict
    severity = Severity.TODAY if stall.confirmed else Severity.WATCH
    since = f" since {words.date(view, stall.since)}" if stall.since else ""
    return RULE.found(
        view,
        severity,
        f"Stands still{since}: {_fall_in_words(stall.verdict)}. It read"
        f" {words.gravity(view, latest.sg)} on {words.date(view, latest.at)}, {words.points(_above(view))} above"
        f" {words.gravity(view, _stop(view))}, where its yeast should have come at least.",
        why="A ferment that stands still gets harder to move with every day, and what sugar is left can start again"
        " later, in the bottle.",
        do=_advice(view, stall),
        clears_when="two readings lie three points lower, or they show a fair fall.",
        evidence=stall.verdict.evidence,
        since=stall.since,
        missing=(*verdict.missing, *_missing(batch)),
        look_again=look_in(view, 1),
        action=("log", ""),
    )


def _fall_in_words(verdict: Verdict) -> str:
    fall = verdict.fall or 0.0
    how = f"it fell by {fall:.1f} points a day" if fall >= 0.05 else "it did not fall"
    doubt = ONE_SIDED * (verdict.fall_error or 0.0)
    return f"{how} over {verdict.window_days or 0:.0f} days, give or take {doubt:.1f} points a day"


def _stop(view: View) -> float:
    """The gravity at which a yeast of the upper tolerance would have stopped."""
    return ending_of(view.batch).stop or 1.0


def _above(view: View) -> float:
    """Points that the last reading stands above that."""
    latest = view.batch.latest
    return 0.0 if latest is None else max(0.0, (latest.sg - _stop(view)) * 1000)


def _advice(view: View, stall: Stall) -> tuple[str, ...]:
    steps = [_temperature_step(view)]
    if view.batch.latest_measure("ph") is None:
        steps.append("Measure its pH; below 3.2 the acid may be what holds it.")
    steps.append("Rouse the lees gently and read it daily for five days. Do not rack it, and do not just add yeast.")
    if not stall.confirmed:
        steps.insert(0, "Read it again on another day: one more reading decides.")
    return tuple(steps)


def _temperature_step(view: View) -> str:
    batch = view.batch
    must = [t for t in batch.temperatures if not t.of_air]
    if batch.yeast is None:
        return "Measure the must's temperature and bring it slowly to the middle of the yeast's range."
    middle = words.temperature(view, (batch.yeast.low_c + batch.yeast.high_c) / 2)
    if not must:
        return f"Measure the must's temperature, and bring it slowly to about {middle}."
    stands = f"The must last read {words.temperature(view, must[-1].celsius)}"
    if must[-1].celsius < batch.yeast.low_c:
        return f"{stands}, below this yeast's range: warm it slowly to about {middle}."
    if must[-1].celsius > batch.yeast.high_c:
        return f"{stands}, above this yeast's range: cool it slowly to about {middle}."
    return f"{stands}, within this yeast's range: bring it slowly to about {middle}."


def _missing(batch: Batch) -> tuple[str, ...]:
    missing = []
    if not any(not t.of_air for t in batch.temperatures):
        missing.append("the must's temperature")
    if batch.latest_measure("ph") is None:
        missing.append("pH")
    return tuple(missing)
