"""A batch was sweetened after its ferment and not read since.

What it looks for
    Honey, sugar, juice or fruit added to a batch that had come to rest or was stabilised, more than ten days ago,
    and no gravity reading a week or more after it. After three weeks it is worse. Feeding a live ferment is no
    sweetening.

Why it matters
    New sugar can wake what was asleep, also after sulfite and sorbate. Only a second reading shows whether it did.

What to do
    Leave it under its airlock. Mix, for honey lies at the bottom, read it now, and again in a week. Bottle only
    when the two agree.

Source
    Common practice, high confidence. Ten days and three weeks: judgement, medium confidence.
"""

from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.course import SUGARS
from mustwatch.cellar.rest import WEEK_DAYS, fed_at, readings_until, rest_of
from mustwatch.judgement.proof import proof_of
from mustwatch.ledger.events import Added
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="sweetened-unwatched",
    severity=Severity.TODAY,
    stages=frozenset({"primary", "secondary", "ageing"}),
    thresholds={
        "days": Threshold(10.0, 7.0, 60.0, "days", "after sweetening before a reading is asked for"),
        "long_days": Threshold(21.0, 10.0, 120.0, "days", "after which it must be read"),
    },
    explains=("reading-overdue",),
)
LATER = timedelta(days=6.75)  # a week, with the look at breakfast
RECENT = timedelta(days=30)


def check(view: View) -> Findings:
    """A finding when sweetening was not followed by a reading."""
    batch = view.batch
    fed = next((event for event in reversed(batch.additions) if event.category in SUGARS), None)
    if fed is None or view.now - fed.at < timedelta(days=RULE.number(view, "days")):
        return
    if batch.latest is not None and batch.latest.at - fed.at >= LATER:
        return
    if _was_at_rest(batch, fed.at):
        yield _finding(view, fed)


def _was_at_rest(batch: Batch, at: datetime) -> bool:
    if proof_of(batch, at).protection.at is not None:
        return True
    before = at - timedelta(seconds=1)
    # Honey may go in by several spoons: what went in within a day before is the same sweetening.
    earlier = fed_at(batch, before)
    if earlier is not None and at - earlier < timedelta(days=2):
        return _was_at_rest(batch, earlier)
    return rest_of(readings_until(batch, at), earlier).lasts(WEEK_DAYS)


def _finding(view: View, fed: Added) -> Finding:
    days = words.days(view, fed.at)
    late = days >= RULE.number(view, "long_days")
    return RULE.found(
        view,
        Severity.TODAY if late else Severity.WATCH,
        f"{fed.category.capitalize()} went in on {words.date(view, fed.at)}, and no gravity was read a week later.",
        do=(
            "Leave it under its airlock. Mix it, read the gravity now and again in a week.",
            "Bottle only when the two agree.",
        ),
        clears_when="a reading a week or more after the sweetening is recorded.",
        evidence=(fed.id,),
        since=fed.at,
        missing=(RULE.cannot_judge("a gravity reading since", "a ferment that has started again"),),
        look_again=look_in(view, 1),
        action=("log", ""),
    )
