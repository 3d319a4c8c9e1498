"""Oak or spice is still in, past the day to taste it.

What it looks for
    Oak, spice or peel added and not taken out, past its own day to taste or, where none was set, past what is
    usual: oak chips a week, cubes four weeks, cloves and hot pepper three days, peel and pith a week, cinnamon and
    ginger two weeks, vanilla four. A tasting puts it off by a week. Past eight weeks of chips or twelve of cubes it
    is said all the same. Racking leaves it behind and ends it.

Why it matters
    What goes in never comes out again. Wood, clove and pith grow harsh within days of being right, and only
    blending helps.

What to do
    Taste it now, and take it out if it is near what you want: it reads stronger after a month than on the day. Note
    both.

Source
    The times for oak: bench trials and shops' advice told by hobbyists, medium confidence. The times for spice:
    common practice, low confidence.
"""

from datetime import datetime, timedelta
from typing import NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.events import Added
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="steeped-too-long",
    severity=Severity.WATCH,
    thresholds={"again_days": Threshold(7.0, 1.0, 60.0, "days", "from one tasting to the next")},
)
USUAL_DAYS = (  # (part of the name, days to the first tasting, days at most)
    ("cube", 28, 84), ("stave", 28, 84), ("spiral", 28, 84), ("chip", 7, 56), ("oak", 7, 56),
    ("clove", 3, 7), ("chil", 3, 14), ("pepper", 3, 14), ("pith", 7, 14), ("peel", 7, 14), ("zest", 7, 14),
    ("cinnamon", 14, 28), ("ginger", 14, 28), ("vanilla", 28, 90),
)  # fmt: skip
OTHERWISE = (14, 28)


class _Due(NamedTuple):
    added: Added
    by: datetime
    most: datetime
    known: bool


def check(view: View) -> Findings:
    """A finding for what has been in the longest past its day."""
    steeping = [event for event in view.batch.additions if event.category in ("oak", "spice")]
    if not steeping:
        return
    late = [due for event in steeping if (due := _due(view, event)) is not None and view.now >= due.by]
    if late:
        yield _finding(view, min(late, key=lambda due: due.by))


def _due(view: View, event: Added) -> _Due | None:
    if _is_out(view.batch, event):
        return None
    name = f"{event.what} {event.category if event.category == 'oak' else ''}".lower()
    found = next(((first, most) for part, first, most in USUAL_DAYS if part in name), None)
    first, most_days = found or OTHERWISE
    by = event.taste_by or event.at + timedelta(days=first)
    most = max(event.at + timedelta(days=most_days), by)
    tasted = [tasting.at for tasting in view.batch.tastings if tasting.at > event.at]
    if tasted:
        by = max(by, tasted[-1] + timedelta(days=RULE.number(view, "again_days")))
    return _Due(event, min(by, most), most, found is not None or event.taste_by is not None)


def _is_out(batch: Batch, event: Added) -> bool:
    if any(racked.at > event.at for racked in batch.rackings):
        return True
    name, category = event.what.lower(), event.category
    return any(
        removed.at > event.at and (what := removed.what.lower()) and (what in name or name in what or category in what)
        for removed in batch.removals
    )


def _finding(view: View, due: _Due) -> Finding:
    event = due.added
    over = view.now >= due.most
    return RULE.found(
        view,
        Severity.WATCH,
        f"{event.category.capitalize()} went in on {words.date(view, event.at)} ({event.what[:40]}),"
        f" {'longer ago than is usual' if over else 'and it is time to taste it'}.",
        why="What has steeped too long cannot be taken out again; only blending helps.",
        do=("Take it out now, and taste what you have.",)
        if over
        else ("Taste it, and take it out if it is near what you want.",),
        clears_when="it is taken out or racked off, and that is recorded."
        if over
        else "it is tasted or taken out, and that is recorded.",
        evidence=(event.id,),
        since=due.by,
        missing=() if due.known else (f"how long {event.what[:40]} may steep; two weeks are assumed",),
        look_again=look_in(view, 3),
        action=("log", ""),
    )
