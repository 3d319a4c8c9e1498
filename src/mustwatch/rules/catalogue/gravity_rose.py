"""Gravity went up, and nothing on record explains it.

What it looks for
    A reading more than three points above the one before it, in the same vessel, with no sugar, juice or fruit
    recorded between them. Six points where a sample's temperature was not recorded. A later reading that falls back
    into line answers the question by itself.

Why it matters
    Gravity does not rise by itself. Honey may lie unmixed at the bottom, a feeding was not written down, the sample
    was warm or full of gas, or it came from another vessel. Until that is known, every judgement that rests on the
    reading is unsafe.

What to do
    Read again: mix, let the sample stand until flat, note its temperature. If honey or fruit was added, write that
    down with its date. Keep both readings; take one back only if it was another vessel's.

Source
    Three points: more than two readings of a careful reader differ by noise (1.96 x 1.4 x 1 point), high
    confidence. The causes: common practice, high confidence.
"""

from itertools import pairwise

from mustwatch.cellar.batch import Reading
from mustwatch.cellar.rest import fed_at
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="gravity-rose",
    severity=Severity.TODAY,
    thresholds={
        "points": Threshold(3.0, 2.0, 20.0, "points", "a rise of more than this is no noise"),
        "untempered": Threshold(6.0, 3.0, 30.0, "points", "the same, when a sample's temperature is missing"),
    },
)
FORGOTTEN_DAYS = 21.0
HAIR = 0.05  # points; so that three marks are three and not three and a bit after a correction


def check(view: View) -> Findings:
    """A finding when the latest readings lie above an earlier one, and nothing recorded explains it."""
    # Bubbles and dirt lift a float; that its must rose is for a hydrometer to say.
    readings = tuple(reading for reading in view.batch.good_readings if not reading.floating)
    rise = _standing_rise(view, readings)
    if rise is None or (view.now - rise[1].at).days >= FORGOTTEN_DAYS:
        return
    yield _finding(view, *rise)


def _standing_rise(view: View, readings: tuple[Reading, ...]) -> tuple[Reading, Reading] | None:
    """The last rise that no later reading answered: (before, risen), or None."""
    rise = None
    least = RULE.thresholds["points"].low / 1000
    for before, after in pairwise(readings):
        if rise is not None and after.points <= rise[0].points + 1.0:
            rise = None
        if after.sg - before.sg <= least:
            continue
        if after.points - before.points > _allowed(view, before, after) + HAIR and not _explained(view, before, after):
            rise = (before, after)
    return rise


def _allowed(view: View, before: Reading, after: Reading) -> float:
    sure = all(reading.sample_c is not None or reading.must_c is not None for reading in (before, after))
    return RULE.number(view, "points" if sure else "untempered")


def _explained(view: View, before: Reading, after: Reading) -> bool:
    fed = fed_at(view.batch, after.at)
    return fed is not None and fed >= before.at


def _finding(view: View, before: Reading, after: Reading) -> Finding:
    untempered = [reading for reading in (before, after) if reading.sample_c is None and reading.must_c is None]
    return RULE.found(
        view,
        Severity.TODAY,
        f"Gravity rose from {words.gravity(view, before.sg)} on {words.date(view, before.at)} to"
        f" {words.gravity(view, after.sg)} on {words.date(view, after.at)}, and no sugar or fruit is recorded.",
        why="Gravity does not rise by itself: unmixed honey, a feeding not written down, a warm or gassy sample, or"
        " another vessel. Until it is known which, what rests on this reading is unsafe.",
        do=(
            "Mix, let a sample stand until flat, and read it again with its temperature.",
            "If honey, sugar or fruit went in, write it down with its date.",
        ),
        clears_when=f"a reading falls back to {words.gravity(view, before.sg)}, or what went in is recorded.",
        evidence=(before.id, after.id),
        since=after.at,
        missing=tuple(f"the sample's temperature on {words.date(view, reading.at)}" for reading in untempered),
        look_again=look_in(view, 1),
        action=("log", ""),
    )
