"""It smells of nail varnish or solvent.

What it looks for
    Nail varnish, acetone, solvent, paint or glue noted as smell or taste. It counts as gone when looks without it
    span two weeks.

Why it matters
    Ethyl acetate and higher alcohols come from a warm or starved start, too much sugar at once, or fruit left dry
    above the must. Much of it fades in a year or two; a sharp one that grows is a companion of vinegar.

What to do
    Cool the must to the yeast's range if it still ferments, keep fruit wet, and keep air out. Then let it age and
    taste it every two or three months. Smell for vinegar, too.

Source
    The causes: enology textbooks, high confidence. That age mellows it: common practice, medium confidence.
"""

import re

from mustwatch.rules.evidence.sightings import fresh, ids, smells, standing
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="solvent-smell",
    severity=Severity.WATCH,
    thresholds={"gone_days": Threshold(14.0, 2.0, 60.0, "days", "so long without it before it counts as gone")},
)
SOLVENT = re.compile(r"\b(nail (?:varnish|polish)|acetone|solvents?|paint|thinner|glue|fusels?|ethyl acetate)\b", re.I)
FORGOTTEN_DAYS = 45.0


def check(view: View) -> Findings:
    """A finding when a solvent was smelled and has not gone."""
    run = standing(smells(view.batch, SOLVENT), RULE.number(view, "gone_days"))
    if not fresh(view, run, FORGOTTEN_DAYS):
        return
    warm = not any(not temperature.of_air for temperature in view.batch.temperatures)
    yield RULE.found(
        view,
        Severity.WATCH,
        f"It has smelled of solvent or nail varnish since {words.date(view, run[0].at)}.",
        why="A warm or starved start, or fruit left dry, makes ethyl acetate and harsh alcohols. Much fades with age.",
        do=(
            "If it still ferments, bring the must into the yeast's range. Keep fruit under the surface.",
            "Keep air out, let it age, and smell for vinegar at each look.",
        ),
        clears_when="looks that smell of something else span two weeks.",
        evidence=ids(run),
        since=run[0].at,
        missing=("how warm the must has been",) if warm else (),
        look_again=look_in(view, 14),
        action=("log", ""),
    )
