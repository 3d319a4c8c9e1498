"""Priming sugar went into a batch that was stabilised.

What it looks for
    A bottling with priming sugar after both sulfite and sorbate are on record.

Why it matters
    Stabilised yeast will not make bubbles: the bottles stay flat and sweet, or some of them start much later and
    unevenly.

What to do
    Do not wait for fizz, and do not add more sugar or yeast. Keep the bottles cool, open one in a month and read
    it. If it should sparkle, next time leave it dry and unstabilised.

Source
    Common practice, high confidence.
"""

from mustwatch.judgement.bottlings import at_bottling
from mustwatch.rules.rule import Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="primed-after-stabilising", severity=Severity.TODAY, stages=frozenset({"bottled"}))
FRESH_DAYS = 14.0
FORGOTTEN_DAYS = 90.0


def check(view: View) -> Findings:
    """A finding when the last bottling was primed after stabilising."""
    bottled = at_bottling(view.batch)
    if bottled is None or bottled.event.priming is None or not bottled.event.priming.g:
        return
    kinds = {event.category for event in view.batch.additions if event.at <= bottled.event.at}
    age = words.days(view, bottled.event.at)
    if not {"sulfite", "sorbate"} <= kinds or age > FORGOTTEN_DAYS:
        return
    doses = [e.id for e in view.batch.additions if e.category in ("sulfite", "sorbate") and e.at <= bottled.event.at]
    yield RULE.found(
        view,
        Severity.TODAY if age <= FRESH_DAYS else Severity.NOTE,
        f"Primed with {words.grams(bottled.event.priming.g)} of {bottled.event.priming.what} on"
        f" {words.date(view, bottled.event.at)}, after it was stabilised.",
        do=(
            "Keep the bottles cool, and add neither sugar nor yeast.",
            "Open one in a month, let it go flat, and read its gravity.",
        ),
        clears_when="no bottle is left, or three months have gone by quietly.",
        evidence=(*doses, bottled.event.id),
        since=bottled.event.at,
        missing=words.unknown_stabilisers(view),
        look_again=look_in(view, 30),
        action=("log", ""),
    )
