"""Bottles lie longer than their kind usually keeps.

What it looks for
    Bottles left of a batch older than twice the upper end of its ageing window: twelve months below 8 % vol, two
    years to 12 %, four to 14 %, six above; and no tasting in the last half year.

Why it matters
    Weak and thinly made batches go flat and brown. Good ones keep for ten years, so that only tasting tells.

What to do
    Open one, note how it is, and move the lot forward on the shelf if it has begun to fade.

Source
    Ageing windows: common practice of hobbyists, low confidence.
"""

from mustwatch.judgement.keeping import window_of
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="past-its-window",
    severity=Severity.NOTE,
    stages=frozenset({"bottled"}),
    thresholds={"tasted_days": Threshold(180.0, 30.0, 1000.0, "days", "for which a tasting answers it")},
)


def check(view: View) -> Findings:
    """A finding when bottles are older than their kind keeps, and nobody has tasted one lately."""
    batch, alcohol = view.batch, view.verdict.made_alcohol
    if alcohol is None or batch.bottles_left <= 0 or not batch.bottlings:
        return
    bottled = batch.bottlings[-1]
    # The lower end of the alcohol: what keeps is judged by the weaker guess.
    until = window_of(batch, bottled).end
    if until is None or view.now < until:
        return
    if any(words.days(view, tasting.at) < RULE.number(view, "tasted_days") for tasting in batch.tastings):
        return
    yield RULE.found(
        view,
        Severity.NOTE,
        f"Bottled on {words.date(view, bottled.at)} at about {alcohol.low:.0f} % vol; {batch.bottles_left} bottles lie"
        " past the time their kind usually keeps.",
        why="Weak batches go flat and brown with the years; good ones keep for ten. Only tasting tells.",
        do=("Open one and note how it is. Drink the lot soon if it begins to fade.",),
        clears_when="a tasting is noted, or no bottle is left.",
        evidence=(bottled.id,),
        since=until,
        look_again=look_in(view, 30),
    )
