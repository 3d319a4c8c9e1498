"""There is more sugar than this yeast can turn into alcohol.

What it looks for
    The alcohol of a dry end against the yeast's upper tolerance, in the first ferment: more than one per cent
    beyond where a dry drink is wanted, more than three for today. Where no finish is on record it is a note. A
    sweet finish that was planned is left in peace.

Why it matters
    The yeast will stop before the sugar is gone. What was meant to be dry ends sweet, and sweet is not safe in a
    closed bottle without a stabiliser.

What to do
    Choose now: pitch a stronger yeast while it works, thin the must, or plan for a sweet, stabilised drink.

Source
    Tolerance is good to one or two per cent either way: common practice, medium confidence.
"""

from functools import lru_cache

from mustwatch.cellar.batch import YeastLimits
from mustwatch.ledger.events import Pitched
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="stronger-than-yeast",
    severity=Severity.TODAY,
    stages=frozenset({"lag", "primary"}),
    thresholds={
        "watch": Threshold(1.0, 0.0, 5.0, "% vol", "beyond the yeast's upper tolerance, worth saying"),
        "today": Threshold(3.0, 1.0, 8.0, "% vol", "beyond it, for today where a dry end is wanted"),
    },
)
TODAY_DAYS = 3.0
SAID_DAYS = 21.0
DRY_AT_MOST = 1.002


def check(view: View) -> Findings:
    """A finding while it can still be changed."""
    batch = view.batch
    start, yeast, pitched = batch.whole_start_sg, batch.yeast, next(iter(batch.recorded_pitches), None)
    if yeast is None or start is None or start < 1.05 or pitched is None:
        return
    age = words.days(view, pitched.at)
    finish = _finish(view)
    if finish == "sweet" or age > SAID_DAYS:
        return
    beyond = _potential(round(start, 3)) - yeast.tolerance_high
    if beyond <= RULE.number(view, "watch"):
        return
    severity = Severity.NOTE
    if finish == "dry":
        far = beyond > RULE.number(view, "today") and age <= TODAY_DAYS
        severity = Severity.TODAY if far else Severity.WATCH
    yield _finding(view, start, yeast, pitched, beyond, severity, finish)


def _finish(view: View) -> str | None:
    target = view.batch.mixed.target if view.batch.mixed else None
    if target is None:
        return None
    if target.finish is not None:
        return "sweet" if target.finish == "sweet" else "dry"
    if target.final_sg is not None:
        return "dry" if target.final_sg <= DRY_AT_MOST else "sweet"
    return None


@lru_cache(maxsize=1024)
def _potential(start_sg: float) -> float:
    from mustwatch.trade.strength import mass_balance

    return mass_balance(min(1.2, start_sg), 1.0).abv + max(0.0, start_sg - 1.2) * 131.25


def _finding(
    view: View,
    start: float,
    yeast: YeastLimits,
    pitched: Pitched,
    beyond: float,
    severity: Severity,
    finish: str | None,
) -> Finding:
    batch = view.batch
    missing = []
    if yeast.tolerance_assumed:
        missing.append("the yeast's own tolerance; that of its class is used")
    if finish is None:
        missing.append("whether a dry or a sweet end is wanted")
    if batch.start is None:
        missing.append("start gravity; the recipe's estimate is good to ten points either way")
    return RULE.found(
        view,
        severity,
        f"From {words.gravity(view, start)} a dry end would hold about {yeast.tolerance_high + beyond:.0f} % of"
        f" alcohol; {words.yeast(view)} bears about {yeast.tolerance_high:.0f} %.",
        do=(
            "Pitch a stronger yeast while it works, or thin the must.",
            "Or plan for a sweet drink that is stabilised.",
            *(("Record the finish that is wanted.",) if finish is None else ()),
        ),
        clears_when="a stronger yeast is pitched, a sweet finish is recorded, or three weeks have gone by.",
        evidence=(batch.start.id if batch.start else None, pitched.id),
        since=pitched.at,
        missing=tuple(missing),
        look_again=look_in(view, 2),
        action=("pitch", ""),
    )
