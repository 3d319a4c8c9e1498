"""Sorbate was given to a ferment that may still be alive.

What it looks for
    Sorbate added while no readings a week apart agreed, and none two weeks apart have agreed since. A fall since
    then makes it worse than mere lack of readings.

Why it matters
    Sorbate keeps yeast from budding. It does not stop yeast that is at work: it goes on, makes gas, and the dose is
    spent.

What to do
    Keep it under an airlock. Never close it on the strength of the sorbate. Read the gravity weekly until readings
    two weeks apart agree; cold and a racking help more than another dose.

Source
    University of Minnesota enology notes on sorbate, and common practice: high confidence.
"""

from datetime import timedelta

from mustwatch.cellar.rest import SIGNIFICANT_POINTS, fed_at, readings_until, rest_of, woken_at
from mustwatch.ledger.events import Added
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="sorbate-on-live",
    severity=Severity.TODAY,
    thresholds={
        "before_days": Threshold(7.0, 3.0, 28.0, "days", "readings must have agreed before sorbate goes in"),
        "after_days": Threshold(14.0, 7.0, 56.0, "days", "of agreement afterwards that end it"),
    },
)


def check(view: View) -> Findings:
    """A finding when sorbate went in before the batch was at rest."""
    batch = view.batch
    sorbate = next((event for event in batch.additions if event.category == "sorbate"), None)
    if sorbate is None or batch.pitched is None:
        return
    # Honey of the same evening, or of a day known by its date alone, goes in after the sorbate: so it is done.
    before = rest_of(readings_until(batch, sorbate.at), woken_at(batch, sorbate.at - timedelta(microseconds=1)))
    after = rest_of(batch.good_readings, max(sorbate.at, woken_at(batch) or sorbate.at))
    if not before.lasts(RULE.number(view, "before_days")) and not after.lasts(RULE.number(view, "after_days")):
        yield _finding(view, sorbate, before.ids)


def _falls(view: View, sorbate: Added) -> tuple[str, ...]:
    """Ids of two readings since the dose that show a fall no noise explains."""
    since = max(sorbate.at, fed_at(view.batch) or sorbate.at)
    readings = [reading for reading in view.batch.good_readings if reading.at >= since]
    if not readings:
        return ()
    high = max(readings, key=lambda reading: reading.points)
    low = min((r for r in readings if r.at >= high.at), key=lambda reading: reading.points)
    return (high.id, low.id) if high.points - low.points > SIGNIFICANT_POINTS else ()


def _finding(view: View, sorbate: Added, before: tuple[str, ...]) -> Finding:
    falling = _falls(view, sorbate)
    seen = "and the gravity has fallen since" if falling else "before readings a week apart agreed"
    return RULE.found(
        view,
        Severity.TODAY if falling else Severity.WATCH,
        f"Sorbate went in on {words.date(view, sorbate.at)}, {seen}.",
        do=(
            "Keep it under an airlock, and never close it on the strength of the sorbate.",
            "Read the gravity each week until readings two weeks apart agree.",
        ),
        clears_when="readings two weeks apart agree.",
        evidence=(sorbate.id, *falling, *before),
        since=sorbate.at,
        missing=()
        if before or falling
        else (RULE.cannot_judge("a gravity reading before the sorbate", "a live ferment"),),
        look_again=look_in(view, 7),
        action=("log", ""),
    )
