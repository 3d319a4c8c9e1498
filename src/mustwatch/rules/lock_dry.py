"""The airlock is dry, or nobody has looked at its liquid for weeks.

What it looks for
    A look that found the airlock dry and nothing done since; or an airlock
    that nobody has looked at for four weeks.

Why it matters
    A dry airlock is an open door. Film yeast and vinegar take weeks to show.

What to do
    Fill it, and look at the surface of the drink while you are there. A still
    airlock is not a dry one.

Source
    Six to eight weeks dry have led to film: hobby reports, medium confidence.
    Four weeks without a look: judgement for a monthly walk through an ageing
    cellar, low confidence.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from mustwatch.rules import words
from mustwatch.rules.facts import look_in
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.rule import Rule, Threshold
from mustwatch.rules.view import View

RULE = Rule(
    name="lock-dry",
    severity=Severity.TODAY,
    thresholds={"days": Threshold(28.0, 7.0, 120.0, "days", "longest wait between two looks at the airlock")},
)


def check(view: View) -> Iterable[Finding]:
    """A finding when the lock was seen dry, or not seen for long."""
    batch = view.batch
    if batch.closing.kind != "airlock" or batch.closing.since is None:
        return
    look = next((seen for seen in reversed(batch.seen) if seen.airlock), None)
    filled = next((e.at for e in reversed(batch.story) if e.kind in ("closed", "cleaned")), batch.closing.since)
    if look is not None and look.airlock == "dry" and look.at >= filled:
        yield _finding(view, look.at, look.id, True)
        return
    last = max(filled, look.at) if look is not None else filled
    if words.days(view, last) > RULE.number(view, "days"):
        seen_id = look.id if look is not None and look.at == last else batch.closing.evidence
        yield _finding(view, last, seen_id, False)


def _finding(view: View, at: datetime, event_id: str | None, dry: bool) -> Finding:
    says = (
        f"The airlock was seen dry on {words.date(view, at)}, and no filling is recorded."
        if dry
        else f"Nobody has looked at the airlock since {words.date(view, at)}, {words.span(view.now - at)} ago."
    )
    return RULE.found(
        view,
        Severity.TODAY if dry else Severity.NOTE,
        says,
        why="A dry airlock lets air in; film yeast and vinegar take weeks to show.",
        do=("Look at the liquid in the airlock, and fill it.", "Look at the surface of the drink for a film."),
        clears_when="the airlock is seen with liquid, or closed anew.",
        evidence=(event_id,),
        since=at,
        missing=() if dry else ("whether there is liquid in the airlock; check the water in the lock",),
        look_again=look_in(view, 1 if dry else 7),
        action=("close", "airlock"),
    )
