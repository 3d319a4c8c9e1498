"""Nobody has read its gravity for too long.

What it looks for
    More than three days without a reading in the first two weeks, a thing for today after seven; more than ten days
    after that, more than thirty once it was racked, more than ninety in ageing. A batch proven to be dry and at
    rest, or stabilised, is left in peace.

Why it matters
    Without readings nobody sees a stall while it is easy to mend, and nobody can say when it is safe to close or to
    bottle.

What to do
    Take a reading, with the sample's temperature, and write it down.

Source
    Common practice, low confidence in the very numbers. A cellar may set its own.
"""

from datetime import datetime, timedelta

from mustwatch.rules.rule import FERMENTING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, words

RULE = Rule(
    name="reading-overdue",
    severity=Severity.TODAY,
    stages=FERMENTING_STAGES | {"ageing"},
    thresholds={
        "early": Threshold(3.0, 1.0, 14.0, "days", "longest wait in the first two weeks"),
        "urgent": Threshold(7.0, 2.0, 21.0, "days", "wait in the first two weeks that is a thing for today"),
        "later": Threshold(10.0, 3.0, 60.0, "days", "longest wait after that"),
        "secondary": Threshold(30.0, 7.0, 120.0, "days", "longest wait once it was racked"),
        "ageing": Threshold(90.0, 14.0, 400.0, "days", "longest wait in ageing"),
    },
)
EARLY_DAYS = 14.0


def check(view: View) -> Findings:
    """A finding when the last reading, or the pitching, is too long ago."""
    batch = view.batch
    last = batch.latest
    began = batch.pitched.at if batch.pitched else batch.started
    if began is None:
        return
    since = max(last.at, began) if last else began
    wait = words.days(view, since)
    early = since - began < timedelta(days=EARLY_DAYS - RULE.number(view, "early"))
    longest = RULE.number(view, _name_of_wait(view, early))
    if wait <= longest or view.verdict.proof.safe:
        return
    urgent = early and wait > RULE.number(view, "urgent") and batch.stage_in_vessel in ("lag", "primary")
    yield _finding(view, since, bool(last), Severity.TODAY if urgent else Severity.NOTE)


def _name_of_wait(view: View, early: bool) -> str:
    if view.batch.stage_in_vessel in ("secondary", "ageing"):
        return view.batch.stage_in_vessel
    return "early" if early else "later"


def _finding(view: View, since: datetime, has_reading: bool, severity: Severity) -> Finding:
    batch = view.batch
    last = batch.latest
    known = bool(batch.recorded_pitches)
    missing = () if known else ("when it was pitched; counted from its first entry",)
    what = f"No gravity reading since {words.date(view, since)}, {words.ago(view, since)}"
    if not has_reading:
        what = f"No gravity reading at all, {words.age(view, since)} after {words.beginning(view)}"
    return RULE.found(
        view,
        severity,
        f"{what}.",
        do=("Take a reading, with the sample's temperature.",),
        clears_when="a gravity reading is entered.",
        evidence=(last.id if last else None, batch.pitched.id if batch.pitched else None),
        since=since,
        missing=missing,
        look_again=view.now + timedelta(days=1),
        action=("log", ""),
    )
