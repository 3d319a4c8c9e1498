"""Something was added to a batch when all of it was in bottles.

What it looks for
    An addition dated after a bottling, where the figures leave no more in the vessel than the lees or a bottle, or do
    not tell, and nothing else on record tells of a vessel. It is counted nowhere until it is answered: it
    stabilises, feeds and thins nothing. Sugar or yeast is feared to be in the bottles meanwhile.

Why it matters
    A sulfite that went into another jug protects no bottle. Honey that did go into bottles can burst them.

What to do
    Say where it went. Correct its time if it went in before the bottling, or its batch if it went into another. If a
    part of the batch was left in a vessel, record that vessel.

Source
    Common practice, medium confidence.
"""

from mustwatch.rules.rule import Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="added-after-bottling", severity=Severity.TODAY, stages=frozenset({"bottled"}))


def check(view: View) -> Findings:
    """A finding while an addition went into no vessel that is known."""
    batch = view.batch
    if not batch.astray:
        return
    first, bottled = batch.astray[0], batch.bottlings[-1]
    more = f", and {len(batch.astray) - 1} more after it" if len(batch.astray) > 1 else ""
    yield RULE.found(
        view,
        Severity.TODAY,
        f"The record adds {first.what} on {words.date(view, first.at)}{more}, and all of it was in bottles since"
        f" {words.date(view, bottled.at)}. Into which vessel did it go?",
        do=(
            "If it went in before the bottling, correct its time.",
            "If it went into another batch, take it back and record it there.",
            "If some was left in a vessel, record that vessel.",
        ),
        clears_when="the entry is corrected or taken back, or a vessel with the rest is recorded.",
        evidence=(*(event.id for event in batch.astray[:3]), bottled.id),
        since=batch.astray[-1].at,
        missing=("the vessel it went into; until it is known it counts for nothing",),
        look_again=look_in(view, 1),
        action=("rack", ""),
    )
