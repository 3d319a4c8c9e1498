"""The must is so strong that yeast may not get through it.

What it looks for
    A start gravity above 1.120, before pitching and in the first three days; above 1.130 it is for today while
    nothing is pitched yet and a second reading or the recipe says the same. Without a reading the recipe's estimate
    is used, and called one.

Why it matters
    So much sugar draws water out of the yeast. It starts late, makes vinegary acid and often stops half way.

What to do
    Thin it, or hold honey back and feed it later in steps. Give twice the yeast, rehydrated as its maker says,
    and plan its food.

Source
    25 to 30 % of sugar: Jackson, Wine Science, medium confidence.
"""

from mustwatch.rules.evidence.latch import Sample, held_above
from mustwatch.rules.evidence.stall import STRONG_SG
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="must-too-strong",
    severity=Severity.TODAY,
    stages=frozenset({"must", "lag", "primary"}),
    thresholds={
        "watch": Threshold(STRONG_SG, 1.060, 1.200, "SG", "start gravity, a thing to watch"),
        "today": Threshold(1.130, 1.070, 1.250, "SG", "start gravity, for today before pitching"),
        "days": Threshold(3.0, 0.5, 14.0, "days", "from pitching; after that it is no longer said"),
    },
)
MARGIN_SG = 0.003
RECIPE_SG = 0.010
HAIR = 0.0005


def check(view: View) -> Findings:
    """A finding while a strong must can still be thinned or fed in steps."""
    batch = view.batch
    pitched = batch.pitched
    if pitched is not None and words.days(view, pitched.at) > RULE.number(view, "days"):
        return
    early = [r for r in batch.good_readings if pitched is None or r.at <= pitched.at or r is batch.start]
    estimate = batch.start_estimate_sg
    limit = RULE.number(view, "watch") + HAIR
    held = held_above([Sample(r.at, r.sg, r.id) for r in early], limit, limit - MARGIN_SG)
    if held is None:
        if not early and estimate and estimate > limit + RECIPE_SG:
            yield _finding(view, estimate, (), Severity.WATCH)
        return
    sg = held.last.value
    strong = sg > RULE.number(view, "today") and pitched is None
    sure = len(held.samples) > 1 or _recipe_agrees(view, sg)
    yield _finding(view, sg, held.ids, Severity.TODAY if strong and sure else Severity.WATCH)


def _recipe_agrees(view: View, sg: float) -> bool:
    from mustwatch.cellar.course import estimated_start

    estimate = estimated_start(view.batch.mixed)
    return estimate is not None and abs(estimate - sg) <= 1.5 * RECIPE_SG


def _finding(view: View, sg: float, ids: tuple[str, ...], severity: Severity) -> Finding:
    batch = view.batch
    how = "reads" if ids else "is reckoned from its recipe at"
    return RULE.found(
        view,
        severity,
        f"The must {how} {words.gravity(view, sg)}."
        f" Above {words.gravity(view, RULE.number(view, 'watch'))} it is strong for any yeast.",
        do=(
            "Mix it and read it once more. Then thin it, or feed the rest of the honey later."
            if batch.pitched is None
            else "Feed no more sugar before half of it is gone.",
            "Give twice the yeast, rehydrated as its maker says, and plan its food.",
        ),
        clears_when=f"it reads below {words.gravity(view, RULE.number(view, 'watch') - MARGIN_SG)}, or three days"
        " after pitching.",
        evidence=(*ids, batch.mixed.id if batch.mixed else None),
        since=batch.pitched.at if batch.pitched else batch.started,
        missing=() if ids else ("start gravity; the recipe's estimate is good to ten points either way",),
        look_again=look_in(view, 1),
        action=("add", "water") if batch.pitched is None else ("log", ""),
    )
