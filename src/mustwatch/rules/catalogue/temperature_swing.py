"""The must's temperature swings while it ferments.

What it looks for
    More than five degrees between two temperatures of the must within a day, in the last two days, when other
    readings bear out both ends; while it works.

Why it matters
    Yeast that is shaken by heat and cold settles and may stop.

What to do
    Wrap it, stand it in a tub of water, or move it away from heater and window.

Source
    To spare yeast shocks: university advice on problem ferments, medium confidence. The five degrees: common
    practice, low confidence.
"""

from collections.abc import Sequence
from datetime import timedelta

from mustwatch.cellar.batch import Temperature
from mustwatch.rules.rule import FERMENTING_STAGES, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="temperature-swing",
    severity=Severity.WATCH,
    stages=FERMENTING_STAGES,
    thresholds={"swing": Threshold(5.0, 2.0, 15.0, "°C", "within a day, while it works")},
)
WINDOW = timedelta(hours=48)
DAY = timedelta(hours=24)
BORNE_OUT_C = 2.0


def check(view: View) -> Findings:
    """A finding while both ends of a swing lie in the last two days."""
    temperatures = view.batch.temperatures
    if len(temperatures) < 4 or view.now - temperatures[-1].at > WINDOW:
        return
    if view.verdict.at_rest:
        return
    recent = [t for t in temperatures[-40:] if not t.of_air and view.now - t.at <= WINDOW]
    ends = _swing(recent, RULE.number(view, "swing"))
    if ends is None:
        return
    low, high = ends
    yield RULE.found(
        view,
        Severity.WATCH,
        f"The must swung from {words.temperature(view, low.celsius)} to {words.temperature(view, high.celsius)}"
        f" within a day, around {words.date(view, max(low.at, high.at))}.",
        do=("Wrap the vessel, or stand it in a tub of water. Keep it from heater and window.",),
        clears_when="two days pass without such a swing.",
        evidence=(low.id, high.id),
        since=min(low.at, high.at),
        missing=() if view.batch.place else ("where it stands",),
        look_again=look_in(view, 1),
        action=("note", ""),
    )


def _swing(recent: Sequence[Temperature], limit: float) -> tuple[Temperature, Temperature] | None:
    sure = [t for t in recent if any(o is not t and abs(o.celsius - t.celsius) <= BORNE_OUT_C for o in recent)]
    if len(sure) < 4:
        return None
    low, high = min(sure, key=lambda t: t.celsius), max(sure, key=lambda t: t.celsius)
    if high.celsius - low.celsius <= limit:
        return None
    pairs = ((a, b) for a in sure for b in sure if b.celsius - a.celsius > limit and abs(b.at - a.at) <= DAY)
    return max(pairs, key=lambda pair: pair[1].celsius - pair[0].celsius, default=None)
