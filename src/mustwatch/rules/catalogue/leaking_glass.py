"""A glass vessel leaks or is cracked.

What it looks for
    A look whose words name a leak, a crack or a wet floor, for a batch that lies in glass or in a vessel whose
    kind is not recorded, with no racking into another vessel since.

Why it matters
    A cracked carboy that is lifted comes apart in the arms, and the edges cut arteries. It has nearly killed
    people.

What to do
    Do not lift or tilt it. Put a tray under it, keep others away, and siphon what is in it into another vessel
    where it stands. Wear gloves when you clear the glass away. Full glass of ten litres and more is always moved in
    a crate, with dry hands.

Source
    Near-fatal cuts on record, high confidence.
"""

import re

from mustwatch.cellar.batch import Batch, per_batch
from mustwatch.judgement.spoken import speaks
from mustwatch.ledger.events import Event
from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.evidence.vessel import in_glass
from mustwatch.rules.rule import Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="leaking-glass", severity=Severity.DANGER)
LEAK = re.compile(
    r"\b(leak|leaks|leaking|leaked|cracked|crack (?:in|along|near|at|on|down|round)|(?:a|the|has|small|long) crack"
    r"|hairline|wet floor)\b",
    re.IGNORECASE,
)


def check(view: View) -> Findings:
    """A finding until a leaking glass vessel is emptied."""
    batch = view.batch
    if not in_glass(batch):
        return
    leak: Event | None = None
    for event, text in _remarks(batch):
        if (leak is None or _emptied(view, leak, event)) and _names_leak(batch, event, text):
            leak = event
    if leak is None or _emptied(view, leak, None):
        return
    kind = f"this {batch.vessel_kind}" if batch.vessel_kind else "this vessel"
    yield RULE.found(
        view,
        Severity.DANGER,
        f"A leak or crack in {kind} was noted on {words.date(view, leak.at)}, and it was not emptied since.",
        why="Cracked glass that is lifted comes apart in the arms, and cuts deep enough to kill.",
        do=(
            "Do not lift or tilt the vessel. Put a tray under it. Keep others away.",
            "Siphon it into another vessel where it stands.",
            "Wear thick gloves and eye protection to clear the glass away.",
        ),
        clears_when="it is racked into another vessel.",
        evidence=(leak.id,),
        since=leak.at,
        missing=() if batch.vessel_kind else (RULE.cannot_judge("kind of vessel", "glass"),),
        look_again=look_in(view, 0.5),
        action=("rack", ""),
    )


@per_batch
def _remarks(batch: Batch) -> tuple[tuple[Event, str], ...]:
    """The looks that carry words of the user's own, with those words; a note alone is asked about elsewhere."""
    looks = ((event, " ".join((*event.signs, event.note or "")).strip()) for event in batch.seen)
    return tuple((event, text) for event, text in looks if text)


def _names_leak(batch: Batch, event: Event, text: str) -> bool:
    return says(text, LEAK) or speaks(batch, event.at, text, "leak")


def _emptied(view: View, leak: Event, before: Event | None) -> bool:
    return any(r.at > leak.at and (before is None or r.at <= before.at) for r in view.batch.rackings)
