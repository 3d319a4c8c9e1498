"""It is still hazy months after it finished.

What it looks for
    Two looks, two weeks or more apart, that both found it murky or hazy, the later one three months or more after
    pitching, in a batch that rests. One clear look two weeks before or after does not settle it; two do.

Why it matters
    Yeast settles by itself; pectin from heated fruit and protein do not. Bottled haze falls out as a layer, and
    live yeast in it can start again.

What to do
    Wait for a cold month first. Then try pectic enzyme in a glass if fruit was heated, else a fining such as
    bentonite in a measured jug. Fine before oak and before trimming sulfite. Do not bottle it yet.

Source
    Kinds of haze and their cures: common practice and enology textbooks, high confidence. Three months: common
    practice, low confidence.
"""

from datetime import timedelta

from mustwatch.rules.evidence.sightings import Look, fresh, ids, standing
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="haze-stays",
    severity=Severity.NOTE,
    stages=frozenset({"secondary", "ageing"}),
    thresholds={"days": Threshold(90.0, 30.0, 365.0, "days", "after pitching before haze is said to stay")},
)
APART = timedelta(days=14)
FORGOTTEN_DAYS = 90.0


def check(view: View) -> Findings:
    """A finding when a resting batch does not clear."""
    batch = view.batch
    if batch.pitched is None or view.verdict.state not in ("stable", "finished"):
        return
    looks = [Look(seen.at, seen.id, seen.clarity != "clear") for seen in batch.seen if seen.clarity]
    run = standing(looks, APART.days)
    if not fresh(view, run, FORGOTTEN_DAYS) or run[-1].at - run[0].at < APART:
        return
    # The age at the look counts: a jug that has cleared since does not become hazy by growing old.
    if run[-1].at - batch.pitched.at < timedelta(days=RULE.number(view, "days")):
        return
    fined = next((event for event in batch.additions if event.category == "fining" and event.at > run[0].at), None)
    yield RULE.found(
        view,
        Severity.NOTE,
        f"It was hazy on {words.date(view, run[0].at)} and still on {words.date(view, run[-1].at)}.",
        why="Yeast settles by itself; pectin and protein do not, and a haze in bottles falls out as a layer.",
        do=(
            "Keep it cold for some weeks and look again."
            if fined
            else "Try a fining or pectic enzyme in a glass first.",
            "Do not bottle it yet.",
        ),
        clears_when="two looks, two weeks apart, find it clear.",
        evidence=(*ids(run), fined.id if fined else None),
        since=run[0].at,
        look_again=look_in(view, 30),
        action=("log", ""),
    )
