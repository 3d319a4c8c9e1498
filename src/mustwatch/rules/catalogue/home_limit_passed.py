"""More was made this year than many laws allow a household.

What it looks for
    The volumes of all batches begun in the calendar year, together above 378 litres, which is 100 US gallons.
    Batches without a volume are named as not known. It is said once for the whole cellar.

Why it matters
    In the US a household of one adult may make 100, of two or more 200 gallons a year free of tax, and not for
    sale. Other countries have other limits, or none, or forbid it.

What to do
    Look up the law where you live. This program does not know it.

Source
    27 CFR 24.75: high confidence for the US, and no guide elsewhere.
"""

from collections.abc import Sequence

from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, Threshold, View

RULE = Rule(
    name="home-limit-passed",
    severity=Severity.NOTE,
    stages=LIVING_STAGES | {"planned", "ended"},
    thresholds={"litres": Threshold(378.5, 50.0, 5000.0, "litres", "in a calendar year for this household")},
)


def check_cellar(views: Sequence[View]) -> Findings:
    """One finding for the cellar when the year's volume is past the limit."""
    begun = [
        (view, mixed) for view in views if (mixed := view.batch.mixed) is not None and mixed.at.year == view.now.year
    ]
    litres = sum(mixed.volume_l or 0.0 for _, mixed in begun)
    if not begun or litres <= RULE.number(begun[0][0], "litres"):
        return
    hushed = [view for view, _ in begun if any(hush.rule == RULE.name for hush in view.batch.hushes)]
    newest = max(begun, key=lambda pair: pair[1].at)
    unmeasured = sum(mixed.volume_l is None for _, mixed in begun)
    yield _finding(hushed[0] if hushed else newest[0], litres, newest[1].id, unmeasured)


def _finding(view: View, litres: float, evidence: str, unmeasured: int) -> Finding:
    return RULE.found(
        view,
        Severity.NOTE,
        f"{litres:.0f} litres were begun in {view.now.year}, above {RULE.number(view, 'litres'):.0f} litres.",
        why="Many countries limit what a household may make without a licence. In the US it is 100 gallons for one"
        " adult and 200 for two or more, never for sale.",
        do=("Look up the law where you live. Set litres in cellar.toml to what it allows.",),
        clears_when="the year ends, or the cellar's own limit is set higher.",
        evidence=(evidence,),
        missing=(f"the volume of {unmeasured} of this year's batches",) if unmeasured else (),
    )
