"""Sorbate is in a batch where lactic bacteria may be at work.

What it looks for
    Sorbate together with a malolactic or lactic culture on record, or with a buttery or milky smell or taste, or in
    an apple or grape must above pH 3.5 whose free SO2 was not measured at 30 mg/L or more. A plain honey must is
    low in risk, and nothing is said.

Why it matters
    The bacteria turn sorbate into a taint of geranium at a few billionths. Nothing takes it out again.

What to do
    Give no more sorbate. Set sulfite to the pH, measure it, and keep the batch cold; drink it early. Next time
    leave such a batch dry, or keep it cold.

Source
    Oxford Companion to Wine, and a sorbate table by alcohol and pH in Underhill, Making Better Wines: medium
    confidence; the pH and the 30 mg/L low confidence.
"""

import re

from mustwatch.cellar.batch import Batch
from mustwatch.rules.evidence.latch import Sample, held_above
from mustwatch.rules.evidence.sightings import ids, says, smells, standing
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="sorbate-with-lactic",
    severity=Severity.TODAY,
    thresholds={
        "ph": Threshold(3.5, 3.2, 4.2, "pH", "above this an apple or grape must is at risk"),
        "free": Threshold(30.0, 10.0, 80.0, "mg/L", "of measured free SO2 that keep it safe"),
    },
)
CULTURE = re.compile(r"\b(malo\w*|lactic\w*|bacteri\w*|oenococc\w*|lactobac\w*)\b", re.I)
LACTIC = re.compile(r"\b(butter\w*|milky|yogh?urt|sauerkraut|diacetyl|lactic)\b", re.I)
FRUIT = re.compile(r"\b(apples?|cider|grapes?|raisins?|pyment|cyser|wine must)\b", re.I)
PH_NOISE = 0.1


def check(view: View) -> Findings:
    """A finding when sorbate and lactic bacteria may meet."""
    batch = view.batch
    sorbate = next((event for event in batch.additions if event.category == "sorbate"), None)
    if sorbate is None:
        return
    culture = next((event for event in batch.additions if CULTURE.search(event.what)), None)
    if culture is not None:
        yield _finding(view, "a lactic culture is on record", (sorbate.id, culture.id))
        return
    if run := standing(smells(batch, LACTIC), 14.0):
        yield _finding(view, "it smells or tastes of milk or butter", (sorbate.id, *ids(run)))
        return
    if _of_apple_or_grape(batch) and not _guarded(view):
        yield from _by_ph(view, sorbate.id)


def _of_apple_or_grape(batch: Batch) -> bool:
    names = [part.what for part in batch.mixed.ingredients] if batch.mixed else []
    names += [event.what for event in batch.additions if event.category in ("fruit", "juice")]
    return any(says(name, FRUIT) for name in names)


def _guarded(view: View) -> bool:
    measured = view.batch.latest_measure("free_so2_mg_l")
    return measured is not None and measured.value >= RULE.number(view, "free")


def _by_ph(view: View, sorbate: str) -> Findings:
    samples = [Sample(m.at, m.value, m.id) for m in view.batch.measures if m.what == "ph"]
    limit = RULE.number(view, "ph")
    if not samples:
        yield _finding(view, "it is made with apple or grape", (sorbate,), ("the pH of an apple or grape must",))
    elif held := held_above(samples, limit, limit - PH_NOISE):
        said = f"this is an apple or grape must at pH {held.last.value:.1f}"
        yield _finding(view, said, (sorbate, *held.ids), ("free SO2, not measured",))


def _finding(view: View, what: str, evidence: tuple[str, ...], missing: tuple[str, ...] = ()) -> Finding:
    asked = any("pH" in fact for fact in missing)
    at = next(event.at for event in view.batch.additions if event.category == "sorbate")
    return RULE.found(
        view,
        Severity.NOTE if asked else Severity.TODAY,
        f"Sorbate went in on {words.date(view, at)}, and {what}.",
        do=(
            "Measure the pH and write it down.",
            "Until then give no more sorbate, and keep it cold.",
        )
        if asked
        else (
            "Give no more sorbate. Measure free SO2 and set it to the pH, within local law.",
            "Keep it cold and drink it early. Leave the next one of its kind dry, or keep it cold.",
        ),
        clears_when="the pH is recorded and below the limit."
        if asked
        else "free SO2 is measured high enough, or the entry that suggests bacteria is corrected.",
        evidence=evidence,
        since=at,
        missing=missing,
        look_again=look_in(view, 7),
        action=("log", ""),
    )
