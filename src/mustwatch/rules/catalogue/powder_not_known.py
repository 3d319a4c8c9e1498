"""A powder or tablet went in whose name does not tell what it is.

What it looks for
    An addition of the last thirty days that is kept as `other` and is named as a powder, crystals, tablets, a
    stabiliser or by a short form that is not known here.

Why it matters
    It may be sulfite, sorbate or food for the yeast. What is kept as other is watched by no limit.

What to do
    Read the label, and correct the entry: what it is, and how much.

Source
    Common practice, medium confidence. Thirty days: judgement.
"""

from datetime import timedelta

from mustwatch.entry.substance import is_unknown_powder
from mustwatch.rules.rule import LIVING_STAGES, Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="powder-not-known", severity=Severity.WATCH, stages=LIVING_STAGES)
TOLD = timedelta(days=30)


def check(view: View) -> Findings:
    """A finding while a late addition is a powder of no known name."""
    unknown = [
        added
        for added in view.batch.additions
        if added.category == "other" and view.now - added.at < TOLD and is_unknown_powder(added.what)
    ]
    if not unknown:
        return
    last = unknown[-1]
    yield RULE.found(
        view,
        Severity.WATCH,
        f'What is called "{last.what[:40]}" went in on {words.date(view, last.at)}, and nothing says what it is.',
        do=("Read the label. Correct the entry to what it is.",),
        clears_when="the entry says what it is, or thirty days have passed.",
        evidence=[added.id for added in unknown],
        since=last.at,
        missing=(RULE.cannot_judge("what went in", "sulfite of unknown mass"),),
        look_again=look_in(view, 1),
    )
