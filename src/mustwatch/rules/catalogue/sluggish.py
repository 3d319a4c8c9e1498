"""The ferment moves, and much slower than it should.

What it looks for
    A fall that is real, and slower a day than a twenty-fifth of what is left, with more than twenty points to go;
    or less than half of this batch's own best while more than half of the sugar remains, at the same temperature.
    Two readings in a row must say so, and three in a row end it. A slow last stretch close to the end is told as
    such: every tail slows.

Why it matters
    A slow ferment is often the day before a stalled one, and easier to mend.

What to do
    Look at the temperature and the pH. Never cool a must that is within its yeast's range. If the first third of
    the sugar is not yet gone, it may need food. Swirl gently to bring the yeast up again. Read every other day.

Source
    Share of the rest a day: from hobby logs, healthy ones 5 to 40 %, low confidence. That slowness comes before a
    stall: home-wine handbooks and common practice, medium confidence.
"""

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.judgement.state import earlier_verdicts
from mustwatch.rules.evidence.food import past_break
from mustwatch.rules.evidence.warmth import must_temperature, warmth_step
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="sluggish", severity=Severity.WATCH, stages=FERMENTING_STAGES)
SLOW = ("sluggish", "stalled")
NEAR_POINTS = 10.0


def check(view: View) -> Findings:
    """A finding when two readings in a row call the ferment slow, until three in a row call it well."""
    verdict, latest = view.verdict, view.batch.latest
    if verdict.state not in ("sluggish", "moving", "undecided", "stalled") or verdict.fall is None or latest is None:
        return
    if (verdict.points_to_go or 0.0) < NEAR_POINTS or not _slow(view):
        return
    yield _finding(view, latest)


def _slow(view: View) -> bool:
    """Two slow readings in a row begin it, three well ones in a row end it; an undecided one does neither."""
    if view.verdict.state == "moving" and _surely_fast(view):
        return False
    slow = well = 0
    earlier = earlier_verdicts(view.batch, view.settings, fewest=2)
    for seen in (view.verdict, *(verdict for _, verdict in earlier)):
        if seen.state in SLOW:
            slow, well = slow + 1, 0
        elif seen.state == "moving":
            slow, well = 0, well + 1
        if slow == 2 or well == 3:
            return slow == 2
    return False


def _surely_fast(view: View) -> bool:
    # Spares looking back where the fall is far beyond anything called slow.
    fall, to_go = view.verdict.fall or 0.0, view.verdict.points_to_go or 0.0
    return fall > 0.12 * to_go


def _wants_food(batch: Batch) -> bool:
    # Where two readings do not tell, the start is not known: it is said, with its condition.
    return not past_break(batch)


def _finding(view: View, latest: Reading) -> Finding:
    batch, verdict = view.batch, view.verdict
    return RULE.found(
        view,
        Severity.WATCH,
        f"Slow: about {max(0.0, verdict.fall or 0.0):.1f} points a day over the last"
        f" {verdict.window_days or 0:.0f} days, at {words.gravity(view, latest.sg)} on"
        f" {words.date(view, latest.at)}, {words.points(verdict.points_to_go or 0.0)} above"
        f" {words.gravity(view, verdict.least_end or 1.0)}, where its yeast should come at least.",
        do=(
            warmth_step(view),
            "Swirl it gently once a day.",
            *(("If it was not fed, feed it: a third of the sugar is not yet gone.",) if _wants_food(batch) else ()),
            "Read the gravity every other day.",
        ),
        clears_when="three readings in a row show a fair fall, or it comes near its least end.",
        evidence=verdict.evidence,
        since=verdict.since,
        missing=(*verdict.missing, *(() if must_temperature(batch) else ("the must's temperature",))),
        look_again=look_in(view, 2),
        action=("log", ""),
    )
