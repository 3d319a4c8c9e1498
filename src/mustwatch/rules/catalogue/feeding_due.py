"""The next dose of yeast food is due.

What it looks for
    A must of honey that is fed in steps: a dose is due one, two and three days after pitching, and at the gravity
    where a third of the sugar is gone, whichever comes first, until the nitrogen it wants is in. Nothing is due
    once half of the sugar is gone. A day late is a thing to watch.

Why it matters
    Yeast takes up food early and little later. Steps keep the ferment even.

What to do
    Degas first: powder thrown into a must full of gas makes a geyser. Dissolve the food in a little must, add it
    slowly, and write down mass and kind. If the recipe asks for fewer steps, hush this.

Source
    Steps at 24, 48 and 72 hours and at the third: common practice, medium confidence. How much nitrogen: common
    practice by gravity, medium confidence.
"""

from datetime import datetime, timedelta

from mustwatch.ledger.events import Pitched
from mustwatch.rules.evidence.food import (
    Feeding,
    feedings,
    only_honey,
    past_break,
    past_feeding,
    total_mg_per_l,
    unknown_doses,
)
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="feeding-due",
    severity=Severity.WATCH,
    stages=frozenset({"lag", "primary"}),
    thresholds={
        "steps": Threshold(3.0, 1.0, 4.0, "doses", "in the first days"),
        "grace": Threshold(12.0, 1.0, 24.0, "hours", "so long after its hour a dose is called due"),
    },
)
LATE_HOURS = 36.0
LAST_DAY = 7.0
ENOUGH = 0.75


def check(view: View) -> Findings:
    """A finding when a step of the feeding has passed."""
    batch = view.batch
    pitched = next(iter(batch.recorded_pitches), None)
    if pitched is None or words.days(view, pitched.at) > LAST_DAY or not only_honey(batch):
        return
    doses = feedings(batch)
    # Counting starts with the first dose: one who does not feed at all is told so by another rule.
    if not doses or len(doses) >= RULE.number(view, "steps") or past_feeding(batch) or _fed_enough(view, doses):
        return
    due = pitched.at + timedelta(hours=24 * (len(doses) + 1))
    due = max(due, doses[-1].event.at + timedelta(hours=18))
    if past_break(batch):
        due = min(due, view.now - timedelta(hours=RULE.number(view, "grace")))
    if view.now - due >= timedelta(hours=RULE.number(view, "grace")):
        yield _finding(view, pitched, doses, due)


def _fed_enough(view: View, doses: list[Feeding]) -> bool:
    start = view.batch.start_sg
    if start is None:
        return False
    from mustwatch.trade.gravity import brix_from_sg
    from mustwatch.trade.nitrogen import nitrogen_need

    try:
        wanted = nitrogen_need(min(45.0, max(0.0, brix_from_sg(start))))
    except ValueError:
        return False
    return total_mg_per_l(doses) >= ENOUGH * wanted


def _finding(view: View, pitched: Pitched, doses: list[Feeding], due: datetime) -> Finding:
    late = view.now - due >= timedelta(hours=LATE_HOURS)
    return RULE.found(
        view,
        Severity.WATCH if late else Severity.NOTE,
        f"Dose {len(doses) + 1} of the yeast's food is due since {words.date(view, due)}; the last went in on"
        f" {words.date(view, doses[-1].event.at)}.",
        do=(
            "Degas it gently first: powder in a must full of gas makes a geyser.",
            "Dissolve the food in a little must, add it slowly, and write down how much.",
        ),
        clears_when="the dose is recorded, half of the sugar is gone, or the first week is over.",
        evidence=(pitched.id, doses[-1].event.id),
        since=due,
        missing=unknown_doses(doses, view.now),
        look_again=look_in(view, 0.5),
        action=("add", "nutrient"),
    )
