"""The yeast has come to the end of its strength, and the drink is still sweet.

What it looks for
    Readings that have agreed for two weeks above 1.000, with as much alcohol as the yeast is said to bear, give or
    take one per cent; not stabilised.

Why it matters
    This is no stall and needs no rescue. It is not safe to close either: such yeast starts again after warmth,
    racking or a little air.

What to do
    Decide: keep it sweet and stabilise it, or leave it under its airlock. Do not bottle it as it is.

Source
    Tolerance is good to one or two per cent either way: common practice, medium confidence.
"""

from mustwatch.rules.evidence.vessel import fill_first, sulfite_form
from mustwatch.rules.rule import FERMENTING_STAGES, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="stopped-at-tolerance",
    severity=Severity.NOTE,
    stages=FERMENTING_STAGES | {"ageing"},
    thresholds={"days": Threshold(14.0, 7.0, 60.0, "days", "of agreeing readings before it is called at rest")},
)


def check(view: View) -> Findings:
    """A finding when strong yeast has stopped in a sweet drink."""
    batch, verdict = view.batch, view.verdict
    if batch.yeast is None or verdict.made_alcohol is None or verdict.state in ("moving", "stalled", "lag"):
        return
    if verdict.made_alcohol.high < batch.yeast.tolerance_low - 1:
        return
    rest, proof = verdict.rest, verdict.proof
    if rest.days < RULE.number(view, "days") or proof.dry or proof.protection.holds:
        return
    last = rest.readings[-1]
    made = verdict.made_alcohol
    yield RULE.found(
        view,
        Severity.NOTE,
        f"At rest at {words.gravity(view, last.sg)} for {words.span(rest.days)}, with about {made.low:.0f} to"
        f" {made.high:.0f} % of alcohol; its yeast is said to bear {batch.yeast.tolerance_low:.0f} to"
        f" {batch.yeast.tolerance_high:.0f} %.",
        do=(
            *fill_first(view),
            "Stabilise it to keep it sweet, or leave it under its airlock.",
            "Do not bottle it as it is.",
        ),
        clears_when="it is stabilised, with the amounts recorded, or it ferments on.",
        evidence=rest.ids,
        since=rest.readings[0].at,
        missing=("the yeast's own tolerance; that of its class is used",) if batch.yeast.tolerance_assumed else (),
        look_again=look_in(view, 30),
        action=sulfite_form(view),
    )
