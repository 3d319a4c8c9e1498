"""The must is so sour that yeast suffers.

What it looks for
    A pH below 3.2 while it should work, below 3.0 for today, by two measurements; a single one below 3.0 asks for a
    second.

Why it matters
    Honey has little in it that holds its acidity steady, and below 3.0 many ferments stop.

What to do
    Measure again with a degassed sample and a checked meter; paper strips are good to 0.3. Then add potassium
    carbonate or bicarbonate in small steps, dissolved, and measure after each: it foams. Aim for 3.6.

Source
    3.2 and 3.0, target 3.6 to 3.9: common practice, medium confidence.
"""

from mustwatch.rules.evidence.latch import Held, Sample, held_below
from mustwatch.rules.evidence.stall import SOUR_PH
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="must-too-sour",
    severity=Severity.TODAY,
    stages=FERMENTING_STAGES,
    thresholds={
        "watch": Threshold(SOUR_PH, 2.8, 3.6, "pH", "below this it is a thing to watch"),
        "today": Threshold(3.0, 2.5, 3.4, "pH", "below this it is for today"),
        "margin": Threshold(0.1, 0.02, 0.5, "pH", "so far back above a limit the finding clears"),
    },
)


def check(view: View) -> Findings:
    """A finding while the must is too sour for its yeast."""
    if not view.batch.measures or view.verdict.at_rest:
        return
    samples = [Sample(m.at, m.value, m.id) for m in view.batch.measures if m.what == "ph"]
    margin = RULE.number(view, "margin")
    low, lowest = RULE.number(view, "watch"), RULE.number(view, "today")
    arrest = held_below(samples, lowest, lowest + margin, 2)
    if arrest is not None:
        sure = len(arrest.samples) > 1
        yield _finding(view, arrest, lowest, Severity.TODAY if sure else Severity.WATCH, sure)
        return
    sour = held_below(samples, low, low + margin, 2)
    if sour is not None and len(sour.samples) > 1:
        yield _finding(view, sour, low, Severity.WATCH, True)


def _says(view: View, held: Held, limit: float, times: str) -> str:
    last, below = words.acidity(held.last.value, limit), f"below {words.acidity(limit, limit)}"
    if held.last.value < limit:
        return f"The pH reads {last}, {below}, measured {times} since {words.date(view, held.since)}."
    worst = words.acidity(held.worst.value, limit)
    return f"The pH read {worst} on {words.date(view, held.worst.at)}, {below}. It last read {last}."


def _finding(view: View, held: Held, limit: float, severity: Severity, sure: bool) -> Finding:
    times = "twice or more" if sure else "once"
    return RULE.found(
        view,
        severity,
        _says(view, held, limit, times),
        why="Sour must slows yeast, and below 3.0 many ferments stop.",
        do=(
            "Measure again with a degassed sample and a checked meter. Paper strips err by 0.3.",
            "Dissolve a little potassium carbonate, and add it slowly: it foams.",
            "Measure after each step, up to pH 3.6.",
        )
        if sure
        else ("Measure again with a degassed sample and a checked meter before anything is added.",),
        clears_when=f"the pH reads {limit + RULE.number(view, 'margin'):.3g} or more, twice.",
        evidence=held.ids,
        since=held.since,
        missing=() if sure else ("a second measurement of the pH",),
        look_again=look_in(view, 1),
        action=("log", "pH"),
    )
