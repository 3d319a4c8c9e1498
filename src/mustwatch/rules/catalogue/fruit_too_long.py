"""The fruit has been in too long.

What it looks for
    Fruit in the vessel for more than two weeks in the first ferment, more than four weeks after racking; or two
    readings below 1.010 with fruit still in.

Why it matters
    Seeds and pith turn bitter, spent fruit falls apart, and what floats can grow mould once the ferment no longer
    shields it.

What to do
    Take the fruit out, let it drip and do not press it hard; or rack the drink off it.

Source
    One to two weeks, four in secondary, out near 1.015: common practice, low confidence.
"""

from mustwatch.rules.evidence.vessel import fruit_in_since
from mustwatch.rules.rule import FERMENTING_STAGES, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="fruit-too-long",
    severity=Severity.WATCH,
    stages=FERMENTING_STAGES | {"ageing"},
    thresholds={
        "primary": Threshold(14.0, 3.0, 60.0, "days", "with fruit in the first ferment"),
        "secondary": Threshold(28.0, 7.0, 120.0, "days", "with fruit after racking"),
        "sg": Threshold(1.010, 0.995, 1.040, "SG", "below this the ferment no longer shields the fruit"),
    },
    explains=("fruit-cap-dry",),
)


def check(view: View) -> Findings:
    """A finding while spent fruit is in the vessel."""
    batch = view.batch
    fruit = fruit_in_since(batch)
    if fruit is None:
        return
    name = "primary" if batch.stage_in_vessel in ("lag", "primary") else "secondary"
    age = words.days(view, fruit[0])
    since_fruit = [reading for reading in batch.good_readings if reading.at > fruit[0]]
    spent = len(since_fruit) > 1 and any(
        max(one.sg, two.sg) < RULE.number(view, "sg") for one, two in zip(since_fruit, since_fruit[1:], strict=False)
    )
    if age <= RULE.number(view, name) and not (spent and name == "primary"):
        return
    last = batch.latest
    yield RULE.found(
        view,
        Severity.WATCH,
        f"Fruit has been in for {words.age(view, fruit[0])}, since {words.date(view, fruit[0])}"
        + (f", and it stands at {words.gravity(view, last.sg)}." if last else "."),
        why="Seeds and pith turn bitter, and floating fruit can grow mould once little gas shields it.",
        do=("Take the fruit out, or rack the drink off it; do not press it hard.",),
        clears_when="the fruit is taken out and that is recorded, or the batch is racked.",
        evidence=(fruit[1], last.id if last and spent else None),
        since=fruit[0],
        missing=() if last else ("a gravity reading; judged by the days alone",),
        look_again=look_in(view, 2),
        action=("rack", ""),
    )
