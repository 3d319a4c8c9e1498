"""It was racked while the ferment still needed its yeast.

What it looks for
    A racking in the last two weeks at which more than a third of the sugar was left, by a reading of the five days
    before it; out of a bucket is another matter, that is how many begin.

Why it matters
    Much of the yeast stays behind with the lees; what goes over may slow and stop.

What to do
    Keep it warm, leave it alone and read it every other day. If the lees are still there, some of them may go over
    too.

Source
    Common practice, medium confidence.
"""

from mustwatch.cellar.rest import readings_until
from mustwatch.rules.evidence.food import share_left
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="racked-too-early",
    severity=Severity.NOTE,
    stages=frozenset({"secondary"}),
    thresholds={
        "left": Threshold(1 / 3, 0.1, 0.8, "of the start", "share of the gravity points left above which it is early"),
        "days": Threshold(14.0, 3.0, 60.0, "days", "from the racking; after that it is no longer said"),
    },
)
FRESH_DAYS = 5.0


def check(view: View) -> Findings:
    """A finding for the first racking when it came too early."""
    batch = view.batch
    poured = {event.id for event in batch.poured_back}
    racked = [racking for racking in batch.rackings if racking.id not in poured]
    first = next((r for r in racked if batch.pitched is not None and r.at > batch.pitched.at), None)
    if first is None or words.days(view, first.at) > RULE.number(view, "days"):
        return
    if batch.mixed is not None and batch.mixed.vessel.kind == "bucket":
        return
    before = readings_until(batch, first.at)
    last = before[-1] if before else None
    left = share_left(batch, last)
    if last is None or left is None or left <= RULE.number(view, "left"):
        return
    if words.days(view, last.at) - words.days(view, first.at) > FRESH_DAYS:
        return
    yield RULE.found(
        view,
        Severity.NOTE,
        f"Racked on {words.date(view, first.at)} with {left * 100:.0f} % of its sugar left, at"
        f" {words.gravity(view, last.sg)} on {words.date(view, last.at)}.",
        do=("Keep it in the yeast's warmth, leave it alone, and read it every other day.",),
        clears_when="two weeks have gone by.",
        evidence=(last.id, first.id),
        since=first.at,
        missing=() if batch.start else ("start gravity; the recipe's estimate is good to ten points either way",),
        look_again=look_in(view, 2),
        action=("log", ""),
    )
