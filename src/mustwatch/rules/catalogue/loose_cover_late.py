"""It still lies under a loose cap or a cloth, and the vigorous days are over.

What it looks for
    A loosened cap or a cloth more than ten days after pitching, or once two readings show that two thirds of the
    sugar are gone.

Why it matters
    Without a steady stream of gas there is nothing between the drink and the air: vinegar bacteria, film yeast and
    flies get in.

What to do
    Fit an airlock with liquid.

Source
    Common practice, medium confidence.
"""

from datetime import datetime

from mustwatch.ledger.events import Pitched
from mustwatch.rules.evidence.food import share_left_for_sure
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="loose-cover-late",
    severity=Severity.TODAY,
    stages=FERMENTING_STAGES | {"ageing"},
    thresholds={
        "days": Threshold(10.0, 3.0, 60.0, "days", "from pitching; after that a loose cover is too open"),
        "left": Threshold(1 / 3, 0.1, 0.8, "of the start", "share of the gravity points left below which it is"),
    },
)


def check(view: View) -> Findings:
    """A finding when a loose cover outlasts the vigour."""
    batch, pitched, since = view.batch, view.batch.pitched, view.batch.closing.since
    if batch.closing.kind not in ("cloth", "loose-cap") or pitched is None or since is None:
        return
    late = words.days(view, pitched.at) > RULE.number(view, "days")
    left = share_left_for_sure(batch)
    spent = left is not None and left < RULE.number(view, "left")
    if late or spent:
        yield _finding(view, pitched, since, spent)


def _finding(view: View, pitched: Pitched, since: datetime, spent: bool) -> Finding:
    batch = view.batch
    cover = "a loosened cap" if batch.closing.kind == "loose-cap" else "a cloth"
    last = batch.latest
    state = (
        f"and at {words.gravity(view, last.sg)} its vigour is over"
        if spent and last
        else f"{words.age(view, pitched.at)} after {words.beginning(view)}"
    )
    return RULE.found(
        view,
        Severity.TODAY,
        f"It lies under {cover} since {words.date(view, since)}, {state}.",
        why="Without a steady stream of gas nothing keeps out air, vinegar bacteria and flies.",
        do=("Smell it and look at its surface while it is open.", "Fit an airlock with liquid in it. Then record it."),
        clears_when="an airlock is fitted and recorded.",
        evidence=(batch.closing.evidence, pitched.id, last.id if spent and last else None),
        since=since,
        missing=() if last else ("a gravity reading; judged by the days alone",),
        look_again=look_in(view, 1),
        action=("close", "airlock"),
    )
