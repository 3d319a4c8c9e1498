"""Batches stand in vessels that are not on record.

What it looks for
    Two or more batches in the cellar, of which one has no vessel recorded since it was mixed or racked, or is known
    from readings alone. It is said once for the whole cellar and names them all.

Why it matters
    The wrong jug gets the dose. And without kind and size nothing can be said of glass, headspace and foam.

What to do
    Write tag and date on the vessel itself now, and record its kind and size.

Source
    Common practice, high confidence.
"""

from collections.abc import Sequence

from mustwatch.rules.rule import VESSEL_STAGES, Finding, Findings, Rule, Severity, Threshold, View, words
from mustwatch.said.figures import listed

RULE = Rule(
    name="vessel-not-named",
    severity=Severity.NOTE,
    stages=VESSEL_STAGES | {"planned"},
    thresholds={"days": Threshold(1.0, 0.0, 30.0, "days", "after mixing or racking before it is asked for")},
)
NAMED_AT_MOST = 5


def check_cellar(views: Sequence[View]) -> Findings:
    """One finding for the cellar when several batches stand in it and some vessel is not on record."""
    living = [view for view in views if view.batch.stage_in_vessel in VESSEL_STAGES or _only_read(view)]
    if len(living) < 2:
        return
    nameless = sorted((view for view in living if _nameless(view)), key=lambda view: view.batch.tag)
    if not nameless:
        return
    hushed = [view for view in nameless if any(hush.rule == RULE.name for hush in view.batch.hushes)]
    yield _finding((hushed or nameless)[0], nameless)


def _only_read(view: View) -> bool:
    return view.batch.stage == "planned" and bool(view.batch.readings or view.batch.additions)


def _nameless(view: View) -> bool:
    batch = view.batch
    if batch.vessel_kind not in (None, "unknown"):
        return False
    since = batch.vessel_since or batch.started
    return since is not None and words.days(view, since) >= RULE.number(view, "days")


def _finding(view: View, nameless: Sequence[View]) -> Finding:
    tags = [other.batch.tag for other in nameless]
    shown = tags[:NAMED_AT_MOST]
    more = f" and {len(tags) - len(shown)} more" if len(tags) > len(shown) else ""
    return RULE.found(
        view,
        Severity.NOTE,
        f"No vessel is on record for {listed(shown) if not more else ', '.join(shown)}{more}.",
        do=("Write tag and date on the vessel itself. Correct the entry of its mixing or racking.",),
        clears_when="each batch has its vessel recorded.",
        evidence=[other.batch.story[0].id for other in nameless if other.batch.story],
        missing=("the kind and size of the vessel",),
    )
