"""The must is warmer than its yeast can bear.

What it looks for
    Two temperatures of the must, a day apart, above the yeast's range, with none in between that came back; or two
    above 30 °C, six hours apart, from any yeast. Air temperatures do not count: a working must runs 2 to 5 °C above
    the air.

Why it matters
    Warm yeast makes harsh, solvent-like alcohols that take years to fade, and above 30 °C it may stop for good.
    About 40 °C kills it.

What to do
    Move the vessel to a cooler floor or stand it in water that is a little cooler; change it slowly, a few degrees
    in some hours. Then read the must again.

Source
    Limit of 30 °C: enology textbooks, high confidence. The ranges by class of yeast: common practice, medium
    confidence. The maker's own range counts first where it is recorded.
"""

from datetime import timedelta

from mustwatch.cellar.batch import YeastLimits
from mustwatch.rules.evidence.latch import Held, Sample, held_above, lasting
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="must-too-warm",
    severity=Severity.TODAY,
    stages=FERMENTING_STAGES,
    thresholds={
        "limit": Threshold(30.0, 20.0, 38.0, "°C", "above this any yeast is in trouble"),
        "margin": Threshold(1.0, 0.2, 5.0, "°C", "so far back below a limit the finding clears"),
        "hours": Threshold(24.0, 2.0, 96.0, "hours", "so long above the yeast's own range before it is said"),
    },
)
HOT_HOURS = 6.0


def check(view: View) -> Findings:
    """A finding when the must has stayed too warm."""
    batch, yeast = view.batch, view.batch.yeast
    if yeast is None or not batch.temperatures:
        return
    if max(t.celsius for t in batch.temperatures) <= min(yeast.high_c, RULE.number(view, "limit")):
        return
    samples = [Sample(t.at, t.celsius, t.id) for t in batch.temperatures if not t.of_air]
    margin, limit = RULE.number(view, "margin"), RULE.number(view, "limit")
    hot = held_above(samples, limit, limit - margin)
    if lasting(hot, timedelta(hours=HOT_HOURS)):
        yield _finding(view, yeast, hot, limit, Severity.TODAY)
        return
    high_c = yeast.high_c
    warm = held_above(samples, high_c, high_c - margin)
    if lasting(warm, timedelta(hours=RULE.number(view, "hours"))):
        yield _finding(view, yeast, warm, high_c, Severity.WATCH)


def _says(view: View, held: Held, limit: float, whose: str) -> str:
    last = words.temperature(view, held.last.value)
    above = f"above {words.temperature(view, limit)}, the upper limit of {whose}"
    if held.last.value > limit:
        return f"The must has stood at {last} since {words.date(view, held.since)}, {above}."
    worst = words.temperature(view, held.worst.value)
    return f"The must was at {worst} on {words.date(view, held.worst.at)}, {above}. It last read {last}."


def _finding(view: View, yeast: YeastLimits, held: Held, limit: float, severity: Severity) -> Finding:
    whose = "any yeast" if severity is Severity.TODAY else words.yeast(view)
    return RULE.found(
        view,
        severity,
        _says(view, held, limit, whose),
        why="Warm yeast makes harsh alcohols that take years to fade, and may stop before the sugar is gone.",
        do=(
            "Move it somewhere cooler, or stand the vessel in water somewhat cooler.",
            "Let it change slowly. Read the must's own temperature again tomorrow.",
        ),
        clears_when=f"the must reads {words.temperature(view, limit - RULE.number(view, 'margin'))} or less.",
        evidence=held.ids,
        since=held.since,
        missing=("the yeast's own temperature range; that of its class is used",)
        if severity is Severity.WATCH and yeast.temperature_assumed
        else (),
        look_again=look_in(view, 1),
        action=("log", ""),
    )
