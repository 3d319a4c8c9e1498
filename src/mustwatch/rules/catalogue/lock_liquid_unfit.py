"""What stands in the airlock should not get into the drink.

What it looks for
    Sugary liquid, milk, bleach or oil in the airlock; or plain water for more than a month once the vigorous days
    are over.

Why it matters
    When the vessel cools, the liquid is sucked in. Sugar and milk breed in the lock itself, plain water goes stale.

What to do
    Empty the lock, rinse it, and fill it with a plain spirit or with no-rinse acid solution at its label strength.

Source
    Common practice, medium confidence. Spirit does not make the air that comes in sterile; it only keeps the lock
    clean.
"""

import re

from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import FERMENTING_STAGES, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="lock-liquid-unfit",
    severity=Severity.NOTE,
    stages=FERMENTING_STAGES | {"ageing"},
    thresholds={"days": Threshold(30.0, 7.0, 120.0, "days", "plain water longer than this goes stale")},
)
UNFIT = re.compile(r"\b(sugar|sugary|syrup|juice|must|mead|wine|honey|milk|bleach|oil)\b", re.IGNORECASE)
WATER = re.compile(r"\bwater\b", re.IGNORECASE)


def check(view: View) -> Findings:
    """A finding when the recorded liquid is unfit."""
    closing = view.batch.closing
    if closing.kind not in ("airlock", "blow-off") or not closing.liquid or closing.since is None:
        return
    unfit = says(closing.liquid, UNFIT)
    stale = (
        says(closing.liquid, WATER)
        and view.batch.stage_in_vessel in ("secondary", "ageing")
        and words.days(view, closing.since) > RULE.number(view, "days")
    )
    if not (unfit or stale):
        return
    known = any(not t.of_air for t in view.batch.temperatures)
    yield RULE.found(
        view,
        Severity.NOTE,
        f"The airlock holds {closing.liquid} since {words.date(view, closing.since)}.",
        do=(
            "Empty and rinse the airlock.",
            "Fill it with a plain spirit, or with no-rinse acid solution at label strength.",
        ),
        clears_when="the airlock is filled anew and recorded with its liquid.",
        evidence=(closing.evidence,),
        since=closing.since,
        missing=() if known else ("the must's temperature, so a cooling would not be seen",),
        look_again=look_in(view, 7),
        action=("close", "airlock"),
    )
