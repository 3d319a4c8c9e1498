"""Yeast food went in when yeast no longer takes it up.

What it looks for
    A dose of yeast food in the last week, given after two readings agree that half of the sugar was gone or about 9
    % of alcohol made.

Why it matters
    Yeast takes up little then. What stays behind feeds the spoilage that comes after, and tastes harsh.

What to do
    Give no more. If it is slow, rouse it and look at the temperature. To rescue a stall use only food made of dead
    yeast.

Source
    Half of the sugar and 9 %: common practice, medium confidence.
"""

from mustwatch.cellar.rest import readings_until
from mustwatch.ledger.events import Added
from mustwatch.rules.evidence.food import share_left_for_sure
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="fed-too-late",
    severity=Severity.TODAY,
    stages=FERMENTING_STAGES,
    thresholds={
        "left": Threshold(0.5, 0.2, 0.8, "of the start", "share of the gravity points left below which it is late"),
        "alcohol": Threshold(9.0, 5.0, 14.0, "% vol", "made before the dose"),
        "days": Threshold(7.0, 1.0, 30.0, "days", "from the dose; after that nothing can be done"),
    },
)
ABV_PER_POINT = 0.131


def check(view: View) -> Findings:
    """A finding for the newest dose that came too late."""
    doses = [event for event in view.batch.additions if event.category == "nutrient"]
    if not doses or words.days(view, doses[-1].at) > RULE.number(view, "days"):
        return
    dose = doses[-1]
    left = share_left_for_sure(view.batch, dose.at)
    start = view.batch.whole_start_sg
    if left is None or start is None:
        return
    made = (1 - left) * (start - 1) * 1000 * ABV_PER_POINT
    if left < RULE.number(view, "left") or made >= RULE.number(view, "alcohol"):
        yield _finding(view, dose, left, made)


def _finding(view: View, dose: Added, left: float, made: float) -> Finding:
    before = readings_until(view.batch, dose.at)[-2:]
    return RULE.found(
        view,
        Severity.TODAY,
        f"Food ({dose.what}) went in on {words.date(view, dose.at)}, when {max(0.0, left) * 100:.0f} % of the sugar was"
        f" left and about {made:.0f} % of alcohol made.",
        do=(
            "Give no more food.",
            "If it is slow, rouse it gently and look at the must's temperature.",
        ),
        clears_when="a week has gone by without another dose.",
        evidence=(*(reading.id for reading in before), dose.id),
        since=dose.at,
        missing=() if dose.g else ("how much was given",),
        look_again=look_in(view, 2),
        action=("log", ""),
    )
