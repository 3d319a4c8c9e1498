"""No gravity was read before the ferment began.

What it looks for
    A pitched batch without a gravity reading from before or within half a day of pitching.

Why it matters
    Without it nobody can say how much alcohol there is, where the ferment should end, or whether it has stopped
    early. An estimate from the recipe is good to about ten points either way, and is always shown as an estimate.

What to do
    If it was pitched within the last day, read it now. Otherwise write down the honey's mass and the final volume,
    so that an estimate can stand in. A reading on paper can still be entered with its own date.

Source
    Common practice, high confidence. Ten points either way: the moisture of honey and the vagueness of volumes,
    medium confidence.
"""

from datetime import timedelta

from mustwatch.rules.rule import FERMENTING_STAGES, Findings, Rule, Severity, View, words

RULE = Rule(name="start-gravity-missing", severity=Severity.NOTE, stages=FERMENTING_STAGES | {"ageing"})


def check(view: View) -> Findings:
    """A finding when the start gravity was never read."""
    batch = view.batch
    pitched = next(iter(batch.recorded_pitches), None)
    if pitched is None or batch.start is not None:
        return
    estimate = batch.start_estimate_sg
    fresh = view.now - pitched.at < timedelta(days=1)
    known = (
        f" The recipe gives about {words.gravity(view, estimate)}, estimated, ten points either way."
        if estimate
        else ""
    )
    yield RULE.found(
        view,
        Severity.NOTE,
        f"Its start gravity was not read before it was pitched on {words.date(view, pitched.at)}.{known}",
        why="Without it there is no alcohol, no expected end and no sure word on a stall.",
        do=(
            "Read it now; it has hardly begun." if fresh else "If the reading is on paper, enter it with its own date.",
            *(() if estimate else ("Write down the honey's mass and the final volume, for an estimate.",)),
        ),
        clears_when="a reading from before pitching is entered.",
        evidence=(pitched.id, batch.mixed.id if batch.mixed else None),
        since=pitched.at,
        missing=("start gravity",) if estimate else ("start gravity", "honey mass and final volume"),
        action=("log", "@"),
    )
