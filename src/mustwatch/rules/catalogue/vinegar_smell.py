"""It smells or tastes of vinegar.

What it looks for
    Vinegar or acetic acid noted as smell or taste. An unsure note asks for a second look. It counts as gone when
    looks without it span two weeks.

Why it matters
    Vinegar bacteria need air and alcohol. There is no cure, only a stop, and they are carried to other vessels by
    siphons, spoons and fruit flies.

What to do
    Keep it away from the other batches and its tools apart. Fill the vessel, fit a wet airlock, set sulfite to the
    pH. If it has gone far, end it as vinegar: it is good for that.

Source
    Air as the cause and no cure: enology textbooks, high confidence. That warm alcohol and lemony acid are mistaken
    for it: common practice, medium confidence.
"""

import re

from mustwatch.rules.evidence.sightings import cleaning_missing, fresh, ids, smells, standing
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="vinegar-smell",
    severity=Severity.TODAY,
    thresholds={"gone_days": Threshold(14.0, 2.0, 60.0, "days", "so long without it before it counts as gone")},
)
VINEGAR = re.compile(r"\b(vinegar\w*|acetic)\b", re.I)
FORGOTTEN_DAYS = 60.0


def check(view: View) -> Findings:
    """A finding when vinegar was smelled or tasted and has not gone."""
    run = standing(smells(view.batch, VINEGAR), RULE.number(view, "gone_days"))
    if not fresh(view, run, FORGOTTEN_DAYS):
        return
    sure = any(not look.unsure for look in run)
    yield RULE.found(
        view,
        Severity.TODAY if sure else Severity.WATCH,
        f"{'It has' if sure else 'It may have'} smelled or tasted of vinegar since {words.date(view, run[0].at)}.",
        why="Vinegar bacteria live on air and alcohol. There is no cure, only a stop; tools and flies carry them.",
        do=(
            "Keep it and its tools apart from the other batches.",
            "Fill the vessel and fit a wet airlock.",
            "Set sulfite to the pH, within local law.",
            "If it has gone far, end it as vinegar.",
        )
        if sure
        else ("Taste a cool sample beside water in three days. Warm alcohol and sharp acid mislead.",),
        clears_when="looks without vinegar span two weeks, or the batch is ended as vinegar.",
        evidence=ids(run),
        since=run[0].at,
        missing=cleaning_missing(view.batch),
        look_again=look_in(view, 3),
        action=("log", ""),
    )
