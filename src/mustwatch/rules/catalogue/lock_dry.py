"""The airlock is dry, or nobody has looked at its liquid for weeks.

What it looks for
    A look that found the airlock dry and nothing done since; or an airlock that nobody has looked at for four
    weeks, which is said once for all locks of the cellar. A look that found all well counts as one at the lock, and
    so does a gravity reading, for which the lock is taken off. Neither fills a lock that was seen dry.

Why it matters
    A dry airlock is an open door. Film yeast and vinegar take weeks to show.

What to do
    Fill it, and look at the surface of the drink while you are there. A still airlock is not a dry one.

Source
    Six to eight weeks dry have led to film: hobby reports, medium confidence. Four weeks without a look: judgement
    for a monthly walk through an ageing cellar, low confidence.
"""

from collections.abc import Sequence
from datetime import datetime

from mustwatch.cellar.batch import Batch, per_batch
from mustwatch.judgement.spoken import ALL_WELL
from mustwatch.ledger.events import Read, Seen
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words
from mustwatch.said.figures import listed

RULE = Rule(
    name="lock-dry",
    severity=Severity.TODAY,
    thresholds={"days": Threshold(28.0, 7.0, 120.0, "days", "longest wait between two looks at the airlock")},
)

NAMED_AT_MOST = 4


def check(view: View) -> Findings:
    """A finding when the lock was seen dry."""
    batch = view.batch
    if batch.closing.kind != "airlock":
        return
    if (look := _seen_dry(batch)) is not None:
        yield _dry(view, look.at, look.id)


def check_cellar(views: Sequence[View]) -> Findings:
    """One finding for the cellar when locks were not looked at for long, on the batch that waits the longest."""
    waiting = [
        (care, view)
        for view in views
        if view.batch.closing.kind == "airlock"
        and view.batch.stage_in_vessel in RULE.stages
        and _seen_dry(view.batch) is None
        and words.days(view, (care := _last_look(view.batch))[0]) > RULE.number(view, "days")
    ]
    if not waiting:
        return
    hushed = [pair for pair in waiting if any(hush.rule == RULE.name for hush in pair[1].batch.hushes)]
    care, view = min(hushed or waiting, key=lambda pair: (pair[0][0], pair[1].batch.tag))
    yield _unlooked(view, care, [other.batch.tag for _, other in waiting if other is not view])


def _seen_dry(batch: Batch) -> Seen | None:
    """The look that found it dry, unless something was done since."""
    look = next((seen for seen in reversed(batch.seen) if seen.airlock), None)
    if look is None or look.airlock != "dry" or look.at < _last_care(batch)[0]:
        return None
    return look


@per_batch
def _last_care(batch: Batch) -> tuple[datetime, str | None]:
    """When the lock was last looked at, filled or fitted, and the event that tells."""
    for event in reversed(batch.story):
        if event.kind in ("closed", "cleaned", "poured_back") or (
            isinstance(event, Seen) and event.airlock not in (None, "dry")
        ):
            return event.at, event.id
    return batch.closing.since or batch.story[0].at, batch.closing.evidence


@per_batch
def _last_look(batch: Batch) -> tuple[datetime, str | None]:
    """When somebody last stood before the lock, and the event that tells: a care, all well, or a reading."""
    care = _last_care(batch)
    for event in reversed(batch.story):
        if event.at <= care[0]:
            break
        if (isinstance(event, Read) and event.gravity is not None and not _floats(batch, event.id)) or (
            isinstance(event, Seen) and ALL_WELL in event.signs
        ):
            return event.at, event.id
    return care


def _floats(batch: Batch, id_: str) -> bool:
    """Whether a reading is that of an instrument that stays in the must: nobody came for it."""
    return any(reading.id == id_ and reading.floating for reading in batch.readings)


def _dry(view: View, at: datetime, event_id: str) -> Finding:
    return RULE.found(
        view,
        Severity.TODAY,
        f"The airlock was seen dry on {words.date(view, at)}, and no filling is recorded.",
        do=("Look at the liquid in the airlock, and fill it.", "Look at the surface of the drink for a film."),
        clears_when="the airlock is filled, and seen with liquid or recorded anew.",
        evidence=(event_id,),
        since=at,
        look_again=look_in(view, 1),
        action=("close", "airlock"),
    )


def _unlooked(view: View, care: tuple[datetime, str | None], others: Sequence[str]) -> Finding:
    more = ""
    if others:
        named = listed(list(others)) if len(others) <= NAMED_AT_MOST else f"{len(others)} others"
        more = f" The locks of {named} wait as well."
    return RULE.found(
        view,
        Severity.NOTE,
        f"Nobody has looked at the airlock since {words.date(view, care[0])}, {words.ago(view, care[0])}.{more}",
        do=("Look at the liquid in the airlock, and fill it.", "Look at the surface of the drink for a film."),
        clears_when="the airlock is filled, and seen with liquid or recorded anew.",
        evidence=(care[1],),
        since=care[0],
        missing=("whether there is liquid in the airlock; check the water in the lock",),
        look_again=look_in(view, 7),
        action=("log", "still"),
    )
