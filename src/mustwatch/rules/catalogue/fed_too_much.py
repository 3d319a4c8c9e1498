"""More yeast food went in than is good for the drink.

What it looks for
    More than 400 mg of nitrogen a litre in all doses together, and more than 500 for today; or more than 0.96 g a
    litre of diammonium phosphate. A dose without its mass or its content is named and not counted.

Why it matters
    What yeast does not take up tastes harsh and salty, makes haze, and feeds spoilage.

What to do
    Stop feeding. Let it finish, rack it, and taste it before you do anything else.

Source
    400 and 500 mg: common practice, low to medium confidence. 0.96 g a litre is a limit of United States wine law,
    from memory, medium confidence; the limit differs by country, and the law where you live holds. Diammonium
    phosphate is 21.2 % nitrogen: stoichiometry, high confidence.
"""

from mustwatch.judgement.doses import volume_at
from mustwatch.rules.evidence.food import Feeding, feedings, is_dap, total_mg_per_l, unknown_doses
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="fed-too-much",
    severity=Severity.TODAY,
    stages=FERMENTING_STAGES,
    thresholds={
        "watch": Threshold(400.0, 150.0, 600.0, "mg/L", "nitrogen in all, a thing to watch"),
        "today": Threshold(500.0, 200.0, 800.0, "mg/L", "nitrogen in all, a thing for today"),
        "dap": Threshold(0.96, 0.1, 2.0, "g/L", "diammonium phosphate in all"),
        "days": Threshold(30.0, 3.0, 120.0, "days", "from the last dose; after that it is no longer said"),
    },
)
HAIR = 1.0  # mg/L; masses are weighed to a tenth of a gram


def check(view: View) -> Findings:
    """A finding when the doses together are too much."""
    if not any(event.category == "nutrient" for event in view.batch.additions):
        return
    doses = feedings(view.batch)
    if words.days(view, doses[-1].event.at) > RULE.number(view, "days"):
        return
    total, dap = total_mg_per_l(doses), _dap_g_per_l(view, doses)
    if total > RULE.number(view, "today") + HAIR:
        yield _finding(view, doses, total, dap, Severity.TODAY)
    elif total > RULE.number(view, "watch") + HAIR or dap > RULE.number(view, "dap") + HAIR / 1000:
        yield _finding(view, doses, total, dap, Severity.WATCH)


def _dap_g_per_l(view: View, doses: list[Feeding]) -> float:
    total = 0.0
    for dose in doses:
        volume_l = volume_at(view.batch, dose.event.at)
        if is_dap(dose.event) and dose.event.g and volume_l:
            total += dose.event.g / volume_l
    return total


def _finding(view: View, doses: list[Feeding], total: float, dap: float, severity: Severity) -> Finding:
    also = f", with {dap:.2f} g/L of diammonium phosphate" if dap > 0 else ""
    return RULE.found(
        view,
        severity,
        f"Fed {words.times(len(doses))} with {total:.0f} mg of nitrogen a litre in all{also};"
        f" {RULE.number(view, 'watch'):.0f} mg and {RULE.number(view, 'dap'):g} g/L are enough.",
        do=("Stop feeding.", "Let it finish, rack it, and taste it before you do anything else."),
        clears_when="a dose is corrected, or a month has gone by.",
        evidence=tuple(dose.event.id for dose in doses),
        since=doses[-1].event.at,
        missing=unknown_doses(doses, view.now),
        look_again=look_in(view, 7),
        action=("note", ""),
    )
