"""Bottles are drunk before the batch is likely to be at its best.

What it looks for
    A second bottle drunk before the age from which a batch of its strength usually drinks well: one month below 8 %
    vol, three to 12 %, six to 14 %, twelve above. One bottled at 1.010 or more counts as the next weaker class, and a
    sparkling one is given four weeks in its bottles, two months in those for sparkling wine. Bottles taken to be
    tested do not count, and nothing is said of a first one, nor two weeks after the last.

Why it matters
    Young strong mead tastes hot, and mellows. What is drunk now cannot be had then.

What to do
    Put the rest out of reach with a date on it, or keep a taste bottle for each quarter. If it tastes good to you
    it is ready: then hush this.

Source
    Ageing windows: common practice of hobbyists, low to medium confidence. They are habits, not laws.
"""

from datetime import datetime, timedelta

from mustwatch.judgement.keeping import ready_from
from mustwatch.ledger.events import Took
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, words

RULE = Rule(
    name="drunk-too-early",
    severity=Severity.NOTE,
    stages=frozenset({"bottled"}),
    thresholds={"bottles": Threshold(2.0, 1.0, 100.0, "bottles", "drunk early before it is said")},
)
TOLD = timedelta(days=14)


def check(view: View) -> Findings:
    """A finding when bottles are drunk early."""
    batch = view.batch
    ready = ready_from(batch)
    if ready is None:
        return
    early = [event for event in batch.story if isinstance(event, Took) and event.why == "drunk" and event.at < ready]
    if not early or view.now >= ready or view.now - early[-1].at >= TOLD:
        return
    count = sum(event.count for event in early)
    if count >= RULE.number(view, "bottles"):
        yield _finding(view, ready, count, early[-1].id)


def _finding(view: View, ready: datetime, count: int, evidence: str) -> Finding:
    return RULE.found(
        view,
        Severity.NOTE,
        f"{count} bottles were drunk before {words.date(view, ready)}, when its like begins to drink well.",
        do=("Put the rest out of reach with a date on it. If it tastes good to you it is ready.",),
        clears_when="that day comes, or two weeks pass without another.",
        evidence=(evidence,),
    )
