"""The start gravity is far from the plan.

What it looks for
    A start gravity more than ten points from the gravity planned; where no plan was written, more than twenty from
    what honey and volume would give. Once raised it clears within eight tenths of that. It is said until a week
    after pitching.

Why it matters
    Honey lies unmixed at the bottom, or the volume or the gallon is another one than was meant. Alcohol, feeding
    and expected end are all reckoned from this number.

What to do
    Mix until no streaks are left, read again with the sample's temperature, and measure the volume. The rule of 35
    points for a pound in a US gallon alone is nine points low at three pounds.

Source
    Ten points: honey holds 13 to 23 % water, USDA Technical Bulletin 1261, and hobby volumes are vague; medium
    confidence.
"""

from mustwatch.cellar.course import estimated_start
from mustwatch.rules.evidence.latch import Held, Sample, held_above
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, words

RULE = Rule(
    name="start-off-plan",
    severity=Severity.WATCH,
    stages=frozenset({"must", "lag", "primary"}),
    thresholds={
        "points": Threshold(10.0, 3.0, 40.0, "points", "from the plan"),
        "recipe_points": Threshold(20.0, 10.0, 60.0, "points", "from the recipe's sum, where there is no plan"),
    },
)
TOLD_DAYS = 7.0
CLEARED = 0.8


def check(view: View) -> Findings:
    """A finding while something can still be done about a start gravity off the plan."""
    batch = view.batch
    if batch.mixed is None or batch.start is None:
        return
    if batch.pitched is not None and words.days(view, batch.pitched.at) > TOLD_DAYS:
        return
    target = batch.mixed.target
    planned = target.sg if target is not None else None
    wanted = planned or estimated_start(batch.mixed)
    if wanted is None:
        return
    limit = RULE.number(view, "points" if planned else "recipe_points")
    samples = [
        Sample(reading.at, abs(reading.sg - wanted) * 1000, reading.id)
        for reading in batch.good_readings
        if reading.at <= batch.start.at
    ]
    held = held_above(samples, limit, limit * CLEARED)
    if held is not None:
        yield _finding(view, held, (batch.start.sg, wanted), batch.mixed.id, planned is None)


def _finding(view: View, held: Held, pair: tuple[float, float], mixed: str, from_recipe: bool) -> Finding:
    start, wanted = pair
    told = words.gravity(view, wanted)
    plan = f"the recipe would give {told}" if from_recipe else f"{told} was planned"
    return RULE.found(
        view,
        Severity.WATCH,
        f"The start gravity is {words.gravity(view, start)}, and {plan}.",
        why="Honey may lie unmixed, or the volume is another. Alcohol, food and end are reckoned from it.",
        do=(
            "Mix until no streaks are left, and read again with the sample's temperature.",
            "Measure the volume of the finished must, not of the water.",
        ),
        clears_when="a reading before pitching comes nearer to it, or the plan is corrected.",
        evidence=(*held.ids, mixed),
        since=held.since,
        missing=("a planned start gravity; the recipe's sum is used",) if from_recipe else (),
        action=("log", ""),
    )
