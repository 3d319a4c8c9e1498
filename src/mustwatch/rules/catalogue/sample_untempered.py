"""Gravities are written down without the sample's temperature.

What it looks for
    The two newest hydrometer readings with no temperature of sample or must beside them, or both more than ten
    degrees off the hydrometer's own calibration. Two readings with a fitting temperature end it. It is said once for
    the cellar, of batches up to their first racking.

Why it matters
    A sample at 35 °C reads five points low in a hydrometer made for 60 °F. With no temperature every judgement here has
    to allow three points more, so that stalls and endings are told later.

What to do
    Write the sample's temperature beside the gravity, or say that it was at room temperature. Let a warm sample
    cool to within a few degrees first.

Source
    Correction tables of hydrometers, high confidence. Three points: judgement, medium confidence.
"""

from collections.abc import Sequence

from mustwatch.cellar.batch import Batch, Reading, per_batch
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, words

RULE = Rule(
    name="sample-untempered",
    severity=Severity.NOTE,
    stages=frozenset({"lag", "primary"}),
    thresholds={"off_c": Threshold(10.0, 3.0, 30.0, "°C", "off the hydrometer's calibration, more is not trusted")},
)
CALIBRATION_C = 20.0


def check_cellar(views: Sequence[View]) -> Findings:
    """One finding for the cellar when the newest readings lack a temperature, on the batch that began first."""
    found = [
        (run, view)
        for view in views
        if view.batch.stage_in_vessel in RULE.stages
        and len(readings := _by_glass(view.batch)) > 1
        and (run := _held(view, readings))
    ]
    if not found:
        return
    hushed = [pair for pair in found if any(hush.rule == RULE.name for hush in pair[1].batch.hushes)]
    run, view = min(hushed or found, key=lambda pair: (pair[0][0].at, pair[1].batch.tag))
    yield _finding(view, run, len(found) - 1)


@per_batch
def _by_glass(batch: Batch) -> list[Reading]:
    return [reading for reading in batch.readings if reading.scale == "sg" and not reading.floating]


def _held(view: View, readings: list[Reading]) -> list[Reading]:
    """The readings that brought it up, empty when two fitting ones have followed."""
    glass_c = view.settings.hydrometer_c or CALIBRATION_C
    off_c = RULE.number(view, "off_c")
    run: list[Reading] = []
    raised, bad, good = False, 0, 0
    for reading in readings:
        celsius = reading.sample_c if reading.sample_c is not None else reading.must_c
        if celsius is None or abs(celsius - glass_c) > off_c:
            run.append(reading)
            bad, good = bad + 1, 0
            raised = raised or bad >= 2
        else:
            bad, good = 0, good + 1
            if good >= 2 or not raised:
                run, raised = [], False
    return run if raised else []


def _finding(view: View, run: list[Reading], others: int) -> Finding:
    last = run[-1]
    none = last.sample_c is None and last.must_c is None
    what = "without the sample's temperature" if none else "far from the temperature the hydrometer is made for"
    more = f" So are those of {others} other{'s' if others > 1 else ''}." if others else ""
    return RULE.found(
        view,
        Severity.NOTE,
        f"Gravities are read {what}, last on {words.date(view, last.at)}.{more}",
        why="A warm sample reads low. Without its temperature three points more must be allowed for, and a stall or an"
        " end is told later.",
        do=(
            "Write the sample's temperature beside the gravity, such as 1.042 21C.",
            "Let a warm sample cool first.",
        ),
        clears_when="two readings have a temperature near that of the hydrometer.",
        evidence=(run[0].id, last.id),
        since=run[0].at,
        missing=(f"the sample's temperature on {words.date(view, last.at)}",) if none else (),
    )
