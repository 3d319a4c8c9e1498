"""The sulfite is too little for the pH.

What it looks for
    A batch at rest that was given sulfite or whose free SO2 was measured: the newest measure, else three quarters
    of what was added in the last ninety days, against what the pH asks for (0.5 mg/L molecular in a dry, 0.8 in a
    sweet one). Raised below eight tenths of it, cleared when reached. Where sulfite went in and no pH was ever
    noted, the pH is asked for.

Why it matters
    Below that it keeps neither air nor bacteria off. A tenth of a pH unit moves the dose by a fifth, so that a
    spoonful for all is a guess.

What to do
    Measure pH and free SO2, and add what the bench reckons. A quarter to a half binds at once. The powder loses
    strength: buy it new each year, and weigh it.

Source
    Free SO2 by pH: university extension tables, high confidence. Three quarters and ninety days: judgement, low
    confidence.
"""

from datetime import timedelta

from mustwatch.cellar.batch import Measure
from mustwatch.cellar.rest import READS_DRY_SG
from mustwatch.judgement.doses import sulfites, total
from mustwatch.rules.evidence.latch import Held, Sample, held_below
from mustwatch.rules.evidence.vessel import fill_first, sulfite_form
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="sulfite-low",
    severity=Severity.WATCH,
    stages=frozenset({"secondary", "ageing"}),
    thresholds={"share": Threshold(80.0, 30.0, 100.0, "%", "of the free SO2 the pH asks for, below it is said")},
)
KEPT_DAYS = 90.0
FREE_SHARE = 0.75  # of an addition stays free at best; a quarter to a half binds


def check(view: View) -> Findings:
    """A finding when the free SO2 of a resting batch is too low for its pH."""
    batch = view.batch
    measured = batch.latest_measure("free_so2_mg_l")
    doses = sulfites(batch, view.now - timedelta(days=KEPT_DAYS))
    if not (measured or doses) or not view.verdict.at_rest:
        return
    source = measured.id if measured is not None else doses[-1].event.id
    acidities = _acidities(view)
    if not acidities:
        yield _no_ph(view, source)
        return
    later = [dose for dose in doses if measured is None or dose.event.at > measured.at]
    if measured is None and words.unknown_doses(view, doses):
        return
    free = (measured.value if measured else 0.0) + FREE_SHARE * total(later)
    samples = [Sample(m.at, free / _asked(view, m.value) * 100, m.id) for m in acidities]
    held = held_below(samples, RULE.number(view, "share"), 100.0)
    if held is not None:
        yield _finding(view, free, held, acidities[-1], source, measured is None)


def _acidities(view: View) -> list[Measure]:
    """The pH on record since the must became wine; where there is none, the last one before."""
    found = [measure for measure in view.batch.measures if measure.what == "ph"]
    pitched = view.batch.pitched
    # A must loses some tenths of pH in its first weeks.
    made = [m for m in found if pitched is None or m.at - pitched.at >= timedelta(days=14)]
    return made or found[-1:]


def _asked(view: View, ph: float) -> float:
    """Free SO2 that this batch should have at a pH, mg/L."""
    from mustwatch.trade.sulfite import MOLECULAR_MG_PER_L, free_so2_needed

    sweet = (view.verdict.rest.sg or 0.0) > READS_DRY_SG
    return free_so2_needed(min(5.0, max(2.5, ph)), MOLECULAR_MG_PER_L["sweet" if sweet else "dry"])


def _finding(view: View, free: float, held: Held, ph: Measure, source: str, guessed: bool) -> Finding:
    asked = _asked(view, ph.value)
    return RULE.found(
        view,
        Severity.WATCH,
        f"Free SO2 is about {free:.0f} mg/L{' at best' if guessed else ''}, and pH {ph.value:.1f} asks for"
        f" {asked:.0f} mg/L.",
        why="Below that it holds off neither air nor bacteria.",
        do=(
            *fill_first(view),
            "Measure free SO2 and pH, and add what the bench reckons, within local law.",
            "Weigh it, and use powder bought within the year: it loses strength.",
        ),
        clears_when="what is measured or added reaches what the pH asks for.",
        evidence=(source, ph.id, *held.ids),
        since=held.since,
        missing=("free SO2, not measured; three quarters of what was added are assumed",) if guessed else (),
        look_again=look_in(view, 14),
        action=sulfite_form(view),
    )


def _no_ph(view: View, evidence: str) -> Finding:
    return RULE.found(
        view,
        Severity.NOTE,
        "Sulfite is in it, and no pH is on record.",
        why="There is no dose without the pH: at 3.2 a quarter of what 3.8 wants will do.",
        do=("Measure the pH with a meter and write it down, such as pH3.4.",),
        clears_when="the pH is measured and recorded.",
        evidence=(evidence,),
        missing=("the pH",),
        look_again=look_in(view, 30),
        action=("log", "pH"),
    )
