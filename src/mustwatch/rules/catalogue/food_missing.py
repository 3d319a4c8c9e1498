"""A must of honey alone works without any food for its yeast.

What it looks for
    A recipe of honey and water, two days or more after pitching, without any yeast food on record, until half of
    the sugar is gone. A recipe that is not on record is not judged.

Why it matters
    Honey brings less than 20 mg of nitrogen a litre, and yeast wants 150 to 300. Starved yeast slows, stalls and
    smells of eggs.

What to do
    If less than a third of the sugar is gone, give food now: degas first, dissolve it in a little must, and add it
    slowly. The bench reckons how much. After that use only food made of dead yeast, or none.

Source
    Honey's nitrogen: honey-wine research and common practice, medium confidence. What yeast wants: common practice,
    medium confidence.
"""

from datetime import timedelta

from mustwatch.rules.evidence.food import feedings, only_honey, past_break, past_feeding
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="food-missing",
    severity=Severity.WATCH,
    stages=frozenset({"lag", "primary"}),
    thresholds={"hours": Threshold(48.0, 12.0, 168.0, "hours", "from pitching, so long it may go unfed")},
    explains=("feeding-due",),
)
FORGOTTEN_DAYS = 21.0


def check(view: View) -> Findings:
    """A finding while food would still be taken up and none was given."""
    batch = view.batch
    pitched = next(iter(batch.recorded_pitches), None)
    if pitched is None or not only_honey(batch) or feedings(batch):
        return
    age = view.now - pitched.at
    if age < timedelta(hours=RULE.number(view, "hours")) or age > timedelta(days=FORGOTTEN_DAYS):
        return
    if past_feeding(batch) or view.verdict.state in ("stable", "finished"):
        return
    late = past_break(batch)
    yield RULE.found(
        view,
        Severity.WATCH,
        f"A must of honey alone, pitched {words.ago(view, pitched.at)}, and no yeast food is recorded.",
        do=("A third of the sugar is gone: use only food made of dead yeast, a little, and read it daily.",)
        if late
        else (
            "Degas it gently, dissolve the food in a little must, and add it slowly.",
            "If food was given, write it down with its date.",
        ),
        clears_when="a feeding is recorded, or half of the sugar is gone.",
        evidence=(batch.mixed.id if batch.mixed else None, pitched.id),
        since=pitched.at,
        missing=() if batch.start is not None else ("start gravity, so the sugar gone is not known",),
        look_again=look_in(view, 1),
        action=("add", "nutrient"),
    )
