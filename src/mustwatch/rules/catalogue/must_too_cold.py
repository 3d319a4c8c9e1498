"""The must is colder than its yeast likes to work in.

What it looks for
    Two temperatures of the must, a day apart, below the yeast's range, with none in between that came back; or
    below 10 °C for half a day, unless the yeast is one that works so cold. A batch that has come to rest may be as
    cold as one likes. Air temperatures do not count.

Why it matters
    Cold yeast slows, settles and may stop before the sugar is gone. A batch that seems to be done may only be cold.

What to do
    Move it somewhere warmer or wrap it; warm it slowly, a few degrees a day, and swirl gently to bring the yeast up
    again.

Source
    Limit of 10 °C: enology textbooks, high confidence. The ranges by class of yeast: common practice, medium
    confidence.
"""

from datetime import timedelta

from mustwatch.cellar.batch import YeastLimits
from mustwatch.rules.evidence.latch import Held, Sample, held_below, lasting
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="must-too-cold",
    severity=Severity.TODAY,
    stages=FERMENTING_STAGES,
    thresholds={
        "limit": Threshold(10.0, 2.0, 16.0, "°C", "below this most yeast stops"),
        "margin": Threshold(1.0, 0.2, 5.0, "°C", "so far back above a limit the finding clears"),
        "hours": Threshold(24.0, 2.0, 96.0, "hours", "so long below the yeast's own range before it is said"),
    },
)
COLD_HOURS = 12.0


def check(view: View) -> Findings:
    """A finding when the must has stayed too cold while it should work."""
    batch, yeast = view.batch, view.batch.yeast
    if yeast is None or not batch.temperatures or view.verdict.at_rest:
        return
    if min(t.celsius for t in batch.temperatures) >= yeast.low_c:
        return
    samples = [Sample(t.at, t.celsius, t.id) for t in batch.temperatures if not t.of_air]
    margin, low_c = RULE.number(view, "margin"), yeast.low_c
    limit = min(RULE.number(view, "limit"), low_c)
    arrest = held_below(samples, limit, limit + margin)
    if lasting(arrest, timedelta(hours=COLD_HOURS)):
        yield _finding(view, yeast, arrest, limit, Severity.TODAY)
        return
    cold = held_below(samples, low_c, low_c + margin)
    if lasting(cold, timedelta(hours=RULE.number(view, "hours"))):
        yield _finding(view, yeast, cold, low_c, Severity.WATCH)


def _says(view: View, held: Held, limit: float, whose: str) -> str:
    last, below = words.temperature(view, held.last.value), f"below {words.temperature(view, limit)}, {whose}"
    if held.last.value < limit:
        return f"The must has stood at {last} since {words.date(view, held.since)}, {below}."
    worst = words.temperature(view, held.worst.value)
    return f"The must was at {worst} on {words.date(view, held.worst.at)}, {below}. It last read {last}."


def _finding(view: View, yeast: YeastLimits, held: Held, limit: float, severity: Severity) -> Finding:
    middle = words.temperature(view, (yeast.low_c + yeast.high_c) / 2)
    whose = f"the lower limit of {words.yeast(view)}" if limit == yeast.low_c else "at which most yeast stops"
    return RULE.found(
        view,
        severity,
        _says(view, held, limit, whose),
        why="Cold yeast slows, settles and may stop before the sugar is gone; cold hides what is still alive.",
        do=(
            f"Move it somewhere warmer or wrap it. Warm it slowly to about {middle}.",
            "Swirl it gently to bring the yeast up. Read the must's temperature again tomorrow.",
        ),
        clears_when=f"the must reads {words.temperature(view, limit + RULE.number(view, 'margin'))} or more,"
        " or it has come to rest.",
        evidence=held.ids,
        since=held.since,
        missing=("the yeast's own temperature range; that of its class is used",) if yeast.temperature_assumed else (),
        look_again=look_in(view, 1),
        action=("log", ""),
    )
