"""A refractometer is read after pitching.

What it looks for
    A reading by refractometer, or in Brix by an instrument not named, taken after the yeast went in, as long as
    fewer than two hydrometer readings have followed it.

Why it matters
    Alcohol bends light: the instrument shows sugar that is no longer there. Such a reading tells neither a stall
    nor an end, and must never allow a bottle to be closed.

What to do
    Read with a hydrometer before judging. In between the bench can estimate the gravity from the Brix of start and
    now, with its doubt.

Source
    Refractive index of alcohol and water, published tables: high confidence.
"""

from mustwatch.cellar.batch import Reading
from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, View, words

RULE = Rule(name="refractometer-after-pitch", severity=Severity.NOTE, stages=FERMENTING_STAGES)


def check(view: View) -> Findings:
    """A finding when the newest readings are a refractometer's."""
    batch = view.batch
    if batch.pitched is None:
        return
    last: Reading | None = None
    trusted = 0
    for reading in batch.readings:
        if reading.at <= batch.pitched.at:
            continue
        if _bent(reading):
            last, trusted = reading, 0
        else:
            trusted += 1
            if trusted >= 2:
                last = None
    if last is not None:
        yield _finding(view, last)


def _bent(reading: Reading) -> bool:
    if reading.doubt is not None and "refractometer" in reading.doubt:
        return True
    return reading.scale == "brix" and reading.instrument is None


def _finding(view: View, reading: Reading) -> Finding:
    unnamed = reading.instrument is None
    return RULE.found(
        view,
        Severity.NOTE,
        f"Brix was read on {words.date(view, reading.at)}, after the yeast went in."
        if unnamed
        else f"A refractometer was read on {words.date(view, reading.at)}, after the yeast went in.",
        why="Alcohol bends light, so a refractometer shows sugar that is gone. It tells neither a stall nor an end.",
        do=(
            "Read with a hydrometer before you judge, bottle or feed.",
            "For a rough value use the bench: refract, with the Brix of start and now.",
        ),
        clears_when="two hydrometer readings have followed.",
        evidence=(reading.id,),
        since=reading.at,
        missing=("which instrument read it; a hydrometer in Brix is assumed",) if unnamed else (),
        action=("log", ""),
    )
