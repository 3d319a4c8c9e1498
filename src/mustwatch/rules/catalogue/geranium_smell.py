"""It smells of crushed geranium leaves.

What it looks for
    Geranium noted as smell or taste.

Why it matters
    Lactic bacteria have turned sorbate into something that smells so at a few billionths. It is not harmful, it
    grows no weaker, and nothing takes it out.

What to do
    Nothing saves this batch. Do not blend it away, it spoils the other one too. Note what was given and when, so
    that it does not happen again: sulfite with every sorbate, and no sorbate where lactic bacteria are.

Source
    Oxford Companion to Wine; University of Minnesota enology notes on sorbate: high confidence.
"""

import re

from mustwatch.rules.evidence.sightings import fresh, ids, smells, standing
from mustwatch.rules.rule import LIVING_STAGES, Findings, Rule, Severity, View, words

RULE = Rule(name="geranium-smell", severity=Severity.NOTE, stages=LIVING_STAGES)
GERANIUM = re.compile(r"\b(geraniums?|pelargonium)\b", re.I)
TOLD_DAYS = 60.0
GONE_DAYS = 14.0


def check(view: View) -> Findings:
    """A finding when geranium was smelled lately."""
    run = standing(smells(view.batch, GERANIUM), GONE_DAYS)
    if not fresh(view, run, TOLD_DAYS):
        return
    sorbate = next((event for event in view.batch.additions if event.category == "sorbate"), None)
    yield RULE.found(
        view,
        Severity.NOTE,
        f"It has smelled of geranium since {words.date(view, run[0].at)}.",
        why="Lactic bacteria have turned sorbate into a taint that cannot be cured. It does no harm to health.",
        do=("Do not blend it into another batch.", "Write down what was given and when, for the next one."),
        clears_when="the batch is ended, looks without it span two weeks, or sixty days have passed.",
        evidence=(*ids(run), sorbate.id if sorbate else None),
        since=run[0].at,
        missing=() if sorbate else ("whether sorbate was given",),
    )
