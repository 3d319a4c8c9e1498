"""A batch was mixed, racked or bottled, and no cleaning is on record.

What it looks for
    A mixing, racking or bottling in the last three days with no cleaning noted from two days before to a day after,
    where a cleaning was noted within the last year for this batch or for the cellar. Where it is not the habit,
    nothing is said, and after three days nothing more.

Why it matters
    When something grows, how it was cleaned is the first question, and after weeks nobody remembers.

What to do
    Note it now, if it was done: with what, and how long it was wet.

Source
    Common practice, high confidence that it is asked for.
"""

from datetime import timedelta

from mustwatch.ledger.events import Event
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, words

RULE = Rule(
    name="cleaning-not-logged",
    severity=Severity.NOTE,
    stages=LIVING_STAGES,
    thresholds={"habit": Threshold(1.0, 0.0, 50.0, "cleanings", "in a year before a missing one is asked about")},
)
ACTS = {"mixed": "Mixed", "racked": "Racked", "bottled": "Bottled"}
BEFORE, AFTER = timedelta(days=2), timedelta(days=1)
ASKED = timedelta(days=3)


def check(view: View) -> Findings:
    """A finding about the newest act without a cleaning, where cleanings are usually noted."""
    act = next((event for event in reversed(view.batch.story) if event.kind in ACTS), None)
    if act is None or not AFTER <= view.now - act.at < ASKED:
        return
    cleanings = [event.at for event in (*view.notes, *view.batch.story) if event.kind == "cleaned"]
    habit = sum(view.now - at < timedelta(days=365) for at in cleanings)
    if habit >= RULE.number(view, "habit") and not any(act.at - BEFORE <= at <= act.at + AFTER for at in cleanings):
        yield _finding(view, act)


def _finding(view: View, act: Event) -> Finding:
    return RULE.found(
        view,
        Severity.NOTE,
        f"{ACTS[act.kind]} on {words.date(view, act.at)}, and no cleaning is noted with it.",
        do=("If it was cleaned and sanitised, note it now with the day.",),
        clears_when="a cleaning of that day is noted, or three days have passed.",
        evidence=(act.id,),
        since=act.at,
        missing=("how vessel and tools were cleaned",),
        action=("log", f"cleaned @{words.date(view, act.at)}"),
    )
