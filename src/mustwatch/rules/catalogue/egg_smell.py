"""It smells of rotten egg.

What it looks for
    Egg, sulphur or a struck match noted as smell. A struck match in the two weeks after sulfite went in is the
    sulfite itself, sulfur dioxide, and does not count. In the first five days after pitching that is usual and nothing
    is said. Up to half of the sugar it is a matter of feeding; after that, or when it has stayed for two weeks, or
    when it has turned to onion, rubber or cabbage, it must be seen to. It counts as gone when looks that smell of
    something else span two days.

Why it matters
    Hungry or warm yeast makes hydrogen sulfide. Left on the lees it turns into sulphur compounds that smell of
    onion and rubber and do not leave again.

What to do
    Early: swirl gently, and feed if the one-third break is not past. Late: rack once with a splash off the lees,
    set sulfite to the pH, and smell again in a week. Never put copper in: what it needs cannot be weighed in a
    kitchen.

Source
    Cause and order of the steps: university extension notes and enology textbooks, high confidence. Five days and
    two weeks: common practice, medium confidence.
"""

import re
from datetime import timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.rules.evidence.sightings import Look, fresh, ids, smells, standing
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="egg-smell",
    severity=Severity.TODAY,
    explains=("long-on-gross-lees",),
    thresholds={
        "usual_days": Threshold(5.0, 0.0, 14.0, "days", "after pitching, in which a whiff is usual"),
        "long_days": Threshold(14.0, 3.0, 60.0, "days", "after which a smell that stayed must be seen to"),
    },
)
EGG = re.compile(r"\b(eggs?|eggy|farty?|hydrogen sul\w+|h2s)\b", re.I)
# So smells hydrogen sulfide, and so smells sulfur dioxide where sulfite went in lately.
MATCH = re.compile(r"\b(sulphur\w*|sulfur\w*|struck match|matches)\b", re.I)
SULFITED = timedelta(days=14)  # common practice: by then what is free of it is no longer smelled
WORSE = re.compile(r"\b(onions?|garlic|rubber\w*|cabbage|burnt tyres?|skunk\w*)\b", re.I)
FORGOTTEN_DAYS = 30.0
GONE_DAYS = 2.0


def check(view: View) -> Findings:
    """A finding when the smell is no longer a matter of the first days."""
    batch = view.batch
    if batch.pitched is None:
        return
    worse = standing(smells(batch, WORSE), GONE_DAYS)
    run = worse or standing(_eggs(batch), GONE_DAYS)
    if not fresh(view, run, FORGOTTEN_DAYS):
        return
    if not worse and (run[-1].at - batch.pitched.at).days < RULE.number(view, "usual_days"):
        return
    stayed = (run[-1].at - run[0].at).days >= RULE.number(view, "long_days")
    half = _half_gone(view, run[-1])
    if worse or stayed or half:
        yield _late(view, run, bool(worse))
    else:
        yield _early(view, run, half is None)


def _eggs(batch: Batch) -> list[Look]:
    """The looks at its smell; there: egg, or a struck match that no sulfite explains."""
    given = [event.at for event in batch.additions if event.category == "sulfite"]
    return [
        egg._replace(there=egg.there or (match.there and not any(at <= match.at < at + SULFITED for at in given)))
        for egg, match in zip(smells(batch, EGG), smells(batch, MATCH), strict=True)
    ]


def _half_gone(view: View, look: Look) -> bool | None:
    """Whether half of the sugar was gone at a look; None when the start gravity is not known."""
    start = view.batch.whole_start_sg
    before = [reading for reading in view.batch.good_readings if reading.at <= look.at]
    if start is None or not before:
        return None
    # The lowest so far: a trembling glass does not put sugar back.
    return min(reading.sg for reading in before) <= 1 + (start - 1) / 2


def _late(view: View, run: tuple[Look, ...], worse: bool) -> Finding:
    smell = "onion, rubber or the like" if worse else "egg"
    return RULE.found(
        view,
        Severity.TODAY,
        f"It has smelled of {smell} since {words.date(view, run[0].at)}"
        + (f", last on {words.date(view, run[-1].at)}." if len(run) > 1 else "."),
        why="Hydrogen sulfide left on the lees turns into sulphur compounds that do not leave again.",
        do=(
            "Rack it once off the lees, with a splash.",
            "Set sulfite to the pH, within local law.",
            "Smell it again in a week. Put no copper in: it cannot be weighed in a kitchen.",
        ),
        clears_when="looks that smell of something else span two days.",
        evidence=ids(run),
        since=run[0].at,
        look_again=look_in(view, 7),
        action=("rack", ""),
    )


def _early(view: View, run: tuple[Look, ...], unknown: bool) -> Finding:
    missing = ("how much of the sugar is gone: the start gravity or a reading is not recorded",) if unknown else ()
    return RULE.found(
        view,
        Severity.WATCH,
        f"It has smelled of egg since {words.date(view, run[0].at)}.",
        why="Hungry or warm yeast makes hydrogen sulfide. Early in the ferment it can still be led off.",
        do=(
            "Swirl gently once or twice a day. Start slowly, it may foam.",
            "Feed it if the one-third break is not past. Keep the must within its yeast's range.",
        ),
        clears_when="looks that smell of something else span two days.",
        evidence=ids(run),
        since=run[0].at,
        missing=missing,
        look_again=look_in(view, 2),
        action=("add", "nutrient"),
    )
