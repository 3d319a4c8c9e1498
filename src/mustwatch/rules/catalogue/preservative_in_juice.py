"""A juice holds a preservative that keeps yeast from growing.

What it looks for
    An ingredient or a note of the mixing that names sorbate, benzoate or preservatives, in a must that shows no
    life yet. Juice said to be free of them, pasteurised juice and vitamin C do not count.

Why it matters
    Sorbate and benzoate are made to stop yeast. A must with much of it never starts, however much yeast goes in.

What to do
    Before pitching: use another juice. Once mixed, a large and lively starter in a diluted must has a small chance.
    Do not wait weeks: what does not ferment grows something else.

Source
    Common practice, high confidence.
"""

import re

from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import Findings, Rule, Severity, View, look_in

RULE = Rule(
    name="preservative-in-juice",
    severity=Severity.TODAY,
    stages=frozenset({"must", "lag"}),
    explains=("no-sign-of-life",),
)
PRESERVED = re.compile(r"\b(sorb(?:ate|ic)\w*|benzo(?:ate|ic)\w*|preserv\w+|e ?20[0-3])\b(?!.{0,3}free)", re.I)


def check(view: View) -> Findings:
    """A finding when a must that does not live yet holds a preservative."""
    mixed = view.batch.mixed
    if mixed is None:
        return
    named = next((part.what for part in mixed.ingredients if says(part.what, PRESERVED)), None)
    added = next(
        (e for e in view.batch.additions if e.category in ("juice", "fruit") and says(e.what, PRESERVED)), None
    )
    if named is None and added is None and not (mixed.note and says(mixed.note, PRESERVED)):
        return
    pitched = view.batch.pitched
    yield RULE.found(
        view,
        Severity.TODAY,
        "The record of this must names a preservative that keeps yeast from growing.",
        do=("Read the juice's label before you pitch, and use one without.",)
        if pitched is None
        else (
            "If it shows no life in four days, dilute it. Give it a large, lively starter.",
            "Do not leave it for weeks: what does not ferment grows something else.",
        ),
        clears_when="it shows life, or the entry is corrected.",
        evidence=(mixed.id if added is None else added.id, pitched.id if pitched else None),
        since=mixed.at,
        missing=("how much of it the label names",),
        look_again=look_in(view, 2),
    )
