"""Sorbate was given without sulfite.

What it looks for
    Sorbate with no sulfite of known mass within two days of it, none since, and no measured free SO2 of 20 mg/L or
    more since two weeks before. Half a day is left to write the second one down. A sulfite without its mass is an
    unknown dose and does not count.

Why it matters
    Lactic bacteria that sulfite would have held down turn sorbate into a taint of geranium that nothing takes out.

What to do
    Measure the pH and give the sulfite it asks for, now, within local law. The bench reckons it.

Source
    University of Minnesota enology notes; Oxford Companion to Wine: high confidence. The two days: common practice,
    medium confidence.
"""

from datetime import timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.events import Added
from mustwatch.rules.evidence.vessel import fill_first, sulfite_form
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="sorbate-alone",
    severity=Severity.TODAY,
    thresholds={"hours": Threshold(48.0, 1.0, 336.0, "hours", "before the sorbate in which a sulfite still counts")},
)
TO_WRITE = timedelta(hours=12)
MEASURED_BEFORE = timedelta(days=14)
ENOUGH_FREE_MG_PER_L = 20.0


def check(view: View) -> Findings:
    """A finding when sorbate stands alone."""
    batch = view.batch
    sorbate = next((event for event in reversed(batch.additions) if event.category == "sorbate"), None)
    if sorbate is None or view.now - sorbate.at < TO_WRITE:
        return
    first = sorbate.at - timedelta(hours=RULE.number(view, "hours"))
    sulfites = [event for event in batch.additions if event.category == "sulfite" and event.at >= first]
    if any(event.g for event in sulfites) or _measured(batch, sorbate):
        return
    yield _finding(view, sorbate, sulfites)


def _measured(batch: Batch, sorbate: Added) -> bool:
    return any(
        measure.what == "free_so2_mg_l"
        and measure.at >= sorbate.at - MEASURED_BEFORE
        and measure.value >= ENOUGH_FREE_MG_PER_L
        for measure in batch.measures
    )


def _finding(view: View, sorbate: Added, sulfites: list[Added]) -> Finding:
    missing = ["how much sulfite was given"] if sulfites else []
    if view.batch.latest_measure("ph") is None:
        missing.append("the pH, without which there is no dose of sulfite")
    what = "sulfite of unknown mass" if sulfites else "no sulfite"
    return RULE.found(
        view,
        Severity.TODAY,
        f"Sorbate went in on {words.date(view, sorbate.at)} with {what}.",
        do=(
            *fill_first(view),
            "Measure the pH with a meter. Give the sulfite it asks for: the bench reckons it.",
            "Keep to local law and to the label: both are additives with limits.",
        ),
        clears_when="sulfite is given and recorded with its mass, or 20 mg/L of free SO2 is measured.",
        evidence=(sorbate.id, *(event.id for event in sulfites)),
        since=sorbate.at,
        missing=tuple(missing),
        look_again=look_in(view, 1),
        action=sulfite_form(view),
    )
