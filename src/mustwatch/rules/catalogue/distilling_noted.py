"""A note speaks of distilling or of freezing out.

What it looks for
    Distilling, a pot still, jacking, or freezing out of the alcohol named in a note of the last two weeks. A batch
    that is called still, meaning quiet, does not count, and washing with distilled water neither.

Why it matters
    Making spirits at home is against the law in many countries, also by freezing, and a still is a fire and poison
    risk. Nothing here reckons for it. The little methanol of a fermented drink is no hazard as it stands.

What to do
    Look up the law where you live, and leave it to licensed practice. Never heat alcohol over a flame in a room.

Source
    The law differs by country. Methanol in fermented drinks: Hodson and others, BIO Web of Conferences 9 (2017)
    02028, high confidence.
"""

import re

from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, words

RULE = Rule(
    name="distilling-noted",
    severity=Severity.NOTE,
    stages=LIVING_STAGES,
    thresholds={"days": Threshold(14.0, 1.0, 90.0, "days", "for which it is said after the note")},
)
SPIRIT = re.compile(
    r"\b(distill?(?:ing|ation|ery|er)?|distilled(?! water)|pot still|jacking|jacked|moonshine"
    r"|freez\w+ (?:out|concentrat\w+)|freeze[- ]concentrat\w+)\b",
    re.I,
)


def check(view: View) -> Findings:
    """A finding when a late note speaks of spirits."""
    days = RULE.number(view, "days")
    for event in reversed(view.batch.story):
        if words.days(view, event.at) >= days:
            return
        if event.note and says(event.note, SPIRIT):
            yield _finding(view, event.id, words.date(view, event.at))
            return


def _finding(view: View, evidence: str, date: str) -> Finding:
    return RULE.found(
        view,
        Severity.NOTE,
        f"A note of {date} speaks of distilling or freezing out.",
        why="Making spirits at home, also by freezing, is against the law in many countries, and a still is a fire and"
        " poison risk. Nothing here reckons for it.",
        do=("Look up the law where you live, and leave it to licensed practice.",),
        clears_when="two weeks have passed since the note.",
        evidence=(evidence,),
    )
