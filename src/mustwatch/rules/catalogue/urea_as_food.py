"""Urea or a fertiliser was given as food for the yeast.

What it looks for
    An addition or an ingredient named urea, carbamide or fertiliser, from the day it went in until the batch ends.

Why it matters
    Urea and alcohol slowly make ethyl carbamate, which probably causes cancer, the more the warmer it is kept. What is
    sold for gardens is not made for food: nobody tells what else is in it.

What to do
    Add no more. Feed yeast with a nutrient made for food. Do not drink what got a fertiliser. Where it was urea of food
    grade, keep the drink cool and do not keep it for years.

Source
    Urea and ethanol make ethyl carbamate, faster in warmth: Butzke and Bisson, Ethyl Carbamate Preventative Action
    Manual, for the FDA (1997), high confidence. Group 2A, probably carcinogenic: IARC Monographs 96 (2010), from
    memory, high confidence. 15 ppb on average in table wine: voluntary target of US makers with the FDA (1988). Urea in
    wine: 27 CFR 24.246 set a limit, and the law differs by country; from memory, medium confidence.
"""

import re

from mustwatch.ledger.events import Added, Mixed
from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import LIVING_STAGES, Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="urea-as-food", severity=Severity.TODAY, stages=LIVING_STAGES)
UREA = re.compile(r"\b(urea|carbamide|fertili[sz]er|plant food|lawn feed|46-0-0)\b", re.I)
GARDEN = re.compile(r"\b(fertili[sz]er|garden|lawn|plant|farm|agricultur\w*|46-0-0)\b", re.I)


def check(view: View) -> Findings:
    """A finding when urea or a fertiliser went in."""
    given = [(event, name) for event, name in _given(view) if says(name, UREA)]
    if not given:
        return
    event, name = given[-1]
    garden = any(GARDEN.search(one) for _, one in given)
    thing = "A fertiliser" if garden else "Urea"
    yield RULE.found(
        view,
        Severity.TODAY,
        f"{thing} went in on {words.date(view, event.at)} ({name[:40]}).",
        why="Urea and alcohol slowly make ethyl carbamate, which probably causes cancer."
        + (" What is sold for gardens is not made for food." if garden else ""),
        do=(
            "Add no more of it. Feed with a nutrient made for food.",
            "Do not drink it. Discard the batch." if garden else "Keep the drink cool. Do not keep it for years.",
        ),
        clears_when="the batch is ended, or the entry is corrected.",
        evidence=[event.id for event, _ in given],
        since=event.at,
        missing=() if garden else ("whether it was of food grade",),
        look_again=look_in(view, 7),
    )


def _given(view: View) -> list[tuple[Added | Mixed, str]]:
    mixed = view.batch.mixed
    parts: list[tuple[Added | Mixed, str]] = [(mixed, part.what) for part in mixed.ingredients] if mixed else []
    return parts + [(added, f"{added.what} {added.note or ''}".strip()) for added in view.batch.additions]
