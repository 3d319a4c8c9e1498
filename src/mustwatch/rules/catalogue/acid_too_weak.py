"""The finished drink has too little acid to keep.

What it looks for
    A pH above 3.8 after the ferment, above 4.0 for today, by two measurements. A fresh must may well have more.

Why it matters
    Spoilage grows, and sulfite hardly works: at 3.8 it takes nearly 80 mg a litre of it, free, to do what 20 mg do
    at 3.2.

What to do
    Measure again with a degassed sample and a checked meter. Add acid in small trials, to taste; keep it full and
    cool, and drink it young.

Source
    3.0 to 3.6 for dry wine: institute of wine research, high confidence in the direction, medium confidence in the
    numbers.
"""

from mustwatch.rules.evidence.latch import Held, Sample, held_above
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="acid-too-weak",
    severity=Severity.TODAY,
    stages=frozenset({"primary", "secondary", "ageing"}),
    thresholds={
        "watch": Threshold(3.8, 3.4, 4.4, "pH", "above this it is a thing to watch"),
        "today": Threshold(4.0, 3.6, 4.6, "pH", "above this it is for today"),
        "margin": Threshold(0.1, 0.02, 0.5, "pH", "so far back below a limit the finding clears"),
    },
)


def check(view: View) -> Findings:
    """A finding when a drink that has fermented out has too high a pH."""
    batch = view.batch
    if not batch.measures or not view.verdict.at_rest:
        return
    calm_since = view.verdict.rest.since
    samples = [
        Sample(m.at, m.value, m.id)
        for m in batch.measures
        if m.what == "ph" and (calm_since is None or m.at >= calm_since)
    ]
    margin = RULE.number(view, "margin")
    for name, severity in (("today", Severity.TODAY), ("watch", Severity.WATCH)):
        limit = RULE.number(view, name)
        held = held_above(samples, limit, limit - margin, 2)
        if held is not None and len(held.samples) > 1:
            yield _finding(view, held, limit, severity)
            return


def _says(view: View, held: Held, limit: float) -> str:
    last, above = words.acidity(held.last.value, limit), f"above {words.acidity(limit, limit)}"
    if held.last.value > limit:
        return f"The pH reads {last}, {above}, measured twice or more since {words.date(view, held.since)}."
    worst = words.acidity(held.worst.value, limit)
    return f"The pH read {worst} on {words.date(view, held.worst.at)}, {above}. It last read {last}."


def _finding(view: View, held: Held, limit: float, severity: Severity) -> Finding:
    free = view.batch.latest_measure("free_so2_mg_l")
    return RULE.found(
        view,
        severity,
        _says(view, held, limit),
        why="With so little acid spoilage grows and sulfite hardly works.",
        do=(
            "Measure again with a degassed sample and a checked meter.",
            "Add acid in small trials, to taste.",
            "Keep the vessel full and cool, and drink the mead young.",
        ),
        clears_when=f"the pH reads {limit - RULE.number(view, 'margin'):.3g} or less, twice.",
        evidence=held.ids,
        since=held.since,
        missing=() if free else ("free sulfite",),
        look_again=look_in(view, 7),
        action=("add", "acid"),
    )
