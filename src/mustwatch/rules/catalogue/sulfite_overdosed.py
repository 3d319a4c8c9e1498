"""A small jug got the sulfite of a large one.

What it looks for
    One dose of sulfite that by its mass and the volume comes to more than 150 mg/L of SO2, in the last thirty days,
    with no free SO2 measured at 50 mg/L or less since. Without mass or volume it cannot be reckoned, and nothing is
    said here.

Why it matters
    A quarter of a level teaspoon is 50 mg/L in five US gallons and 250 in one. It stings, bleaches fruit, and is
    near or past the law's end.

What to do
    Check mass and volume first; correct the entry if it was mistyped. Do not drink it yet. Add no more, measure
    free SO2, and blend it with a batch that has none. Weigh the next dose: a third of a gram is plenty for a US
    gallon.

Source
    The sum: stoichiometry, high confidence. The case of the spoon: common practice, high confidence. Tablets vary
    from 75 to 120 mg/L in a gallon.
"""

from datetime import timedelta

from mustwatch.judgement.doses import Dose, sulfites
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="sulfite-overdosed",
    severity=Severity.TODAY,
    stages=LIVING_STAGES,
    thresholds={"dose": Threshold(150.0, 60.0, 300.0, "mg/L", "of SO2 in one dose")},
    explains=("sulfite-high",),
)
TOLD = timedelta(days=30)
FREE_AGAIN_MG_PER_L = 50.0


def check(view: View) -> Findings:
    """A finding when one dose was far too large."""
    if not view.batch.additions:
        return
    limit = RULE.number(view, "dose")
    large = [dose for dose in sulfites(view.batch, view.now - TOLD) if (dose.mg_per_l or 0.0) > limit]
    if large and not _measured_low(view, large[-1]):
        yield _finding(view, large[-1])


def _measured_low(view: View, dose: Dose) -> bool:
    return any(
        measure.what == "free_so2_mg_l" and measure.at > dose.event.at and measure.value <= FREE_AGAIN_MG_PER_L
        for measure in view.batch.measures
    )


def _finding(view: View, dose: Dose) -> Finding:
    return RULE.found(
        view,
        Severity.TODAY,
        f"{words.grams(dose.event.g or 0.0)} of sulfite on {words.date(view, dose.event.at)} comes to"
        f" {dose.mg_per_l:.0f} mg/L of SO2, a dose for a larger vessel.",
        why="It stings and bleaches, and it is near or past the legal end for mead or wine in many countries.",
        do=(
            "Check the mass and the volume, and correct the entry if it was mistyped.",
            "Add no more, do not drink it yet, and measure free SO2. Blend it with a batch that has none.",
            "Weigh the next dose. Local law and licensed practice set the limits.",
        ),
        clears_when="free SO2 is measured at 50 mg/L or less, the entry is corrected, or thirty days have passed.",
        evidence=(dose.event.id,),
        since=dose.event.at,
        look_again=look_in(view, 7),
        action=("log", "so2"),
    )
