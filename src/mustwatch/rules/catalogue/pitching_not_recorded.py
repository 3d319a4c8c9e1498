"""It shows life, and no yeast is on record.

What it looks for
    A batch without a recorded pitching that ferments all the same: its gravity fell by five points, or reads 1.020
    or less; the airlock bubbled or foamed; a ring or rafts were seen; yeast was written down as an addition; or its
    record begins with a reading, in the middle of its life.

Why it matters
    It makes gas like any other, so all warnings about closures and bottles hold from the first sign on. But the day
    and the yeast are missing, and with them its strength, its range of warmth and a sure word on a stall.

What to do
    Write down when the yeast went in and of which class it is; an entry may carry a date that is past. If nothing
    was pitched, wild yeast is at work: record it as yeast of unknown class, and smell and taste it as it goes.

Source
    Common practice, high confidence. Five points: two careful readings differ by less than three, and a must not
    stirred through by a little more.
"""

from mustwatch.rules.rule import FERMENTING_STAGES, Findings, Rule, Severity, View, words

RULE = Rule(name="pitching-not-recorded", severity=Severity.NOTE, stages=FERMENTING_STAGES | {"ageing"})


def check(view: View) -> Findings:
    """A finding when a batch is taken to be at work that nothing was pitched into."""
    batch = view.batch
    if not batch.pitching_assumed or batch.pitched is None:
        return
    if batch.mixed is not None and batch.pitched.id == batch.mixed.id:
        return  # its yeast came with the drink of another batch
    at = batch.pitched.at
    yield RULE.found(
        view,
        Severity.NOTE,
        f"No pitching is recorded, and it is taken to be at work since {words.date(view, at)}:"
        f" {batch.pitching_assumed}.",
        why="It makes gas whether or not the yeast is written down. Strength, warmth and a stall are judged by the"
        " yeast and its day.",
        do=(
            "Write down the yeast with the day it went in.",
            "If none was pitched, wild yeast is at work. Record it as unknown.",
            "Smell and taste a wild ferment as it goes.",
        ),
        clears_when="the yeast is recorded with its day.",
        evidence=(batch.pitched.id,),
        since=at,
        missing=(
            "when the yeast went in, and which",
            *(() if batch.start is not None else ("start gravity",)),
        ),
        action=("pitch", ""),
    )
